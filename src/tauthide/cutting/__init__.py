"""Cutting: which piece comes out of which hide, and where."""
