"""Lacings: the order in which the lace takes the stations, and the lengths that follow from it."""
