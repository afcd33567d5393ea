"""Exit codes, and the ways in which a run ends early."""

from __future__ import annotations

FINE = 0
"""All is well; warnings are allowed."""
WRONG = 1
"""Findings of error severity, or output that is stale."""
TROUBLE = 2
"""Bad usage, or files that can't be read or written."""
FAULT = 3
"""A fault of this program."""
INTERRUPTED = 130
"""Stopped from the keyboard."""
TERMINATED = 143
"""Told to end by the system: 128 and the number of the signal."""


class UsageTrouble(Exception):  # noqa: N818 - a maker's trouble, not a fault of ours
    """Something about the command or its files that the maker has to put right; the message says what."""


class LostError(Exception):
    """The run could not be brought to its end, through no fault of the maker's; the message says why."""
