"""A progress line on a terminal, when work takes more than a second."""

from __future__ import annotations

import time
from collections.abc import Mapping
from typing import TextIO

PATIENCE_S = 1.0
"""No progress line before this."""
EVERY_S = 0.1
"""Nor more often than this."""
WIDTH = 40
"""Columns that the line is given, so that nothing of a longer one before it stays."""


class ProgressLine:
    """Tells on a terminal how many drums are done; says nothing elsewhere."""

    def __init__(self, stream: TextIO, environment: Mapping[str, str], *, wanted: bool) -> None:
        """Take the stream; nothing is written unless it is a terminal that can go back on a line."""
        self._stream = stream
        self._wanted = wanted and environment.get("TERM") != "dumb" and stream.isatty()
        self._started = time.monotonic()
        self._last = self._started
        self._shown = False
        self.things = "drums"
        """What is counted."""

    def __call__(self, done: int, total: int) -> None:
        """Tell how many of how many are done."""
        now = time.monotonic()
        if not self._wanted or now - self._started < PATIENCE_S or now - self._last < EVERY_S:
            return
        self._last = now
        self._shown = True
        self._stream.write(f"\r{done} of {total} {self.things}".ljust(WIDTH))
        self._stream.flush()

    def clear(self) -> None:
        """Wipe the line away."""
        if self._shown:
            self._shown = False
            self._stream.write("\r".ljust(WIDTH) + "\r")
            self._stream.flush()
