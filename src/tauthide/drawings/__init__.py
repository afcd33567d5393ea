"""Drawings: SVG in millimetres, black and white, from a finished plan."""
