"""Explaining: how a figure came about, where a value comes from, and what a rule is for."""
