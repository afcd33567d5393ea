"""Comparing: what a change of the maker's files does to the drums."""
