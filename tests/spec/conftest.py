"""What the tests beside this share."""

from __future__ import annotations

from workshops import workshop

__all__ = ["workshop"]
