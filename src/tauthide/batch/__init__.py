"""Batches: from paths to checked and compiled drums, one at a time."""
