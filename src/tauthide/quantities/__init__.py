"""Quantities: lengths of lace, discs to cut it from, and what a run of drums takes."""
