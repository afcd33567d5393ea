"""Tauthide compiles specs of hand-laced rawhide frame drums into build sheets."""

__version__ = "0.1.0"
