"""How a plan stands with its approval: whether it may be cut from, and if not, why."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Reason(StrEnum):
    """Why a plan may be cut from, or not."""

    APPROVED = "approved"
    NEVER = "never approved"
    CHANGED = "changed since"
    MODEL = "approved for another version of the model"
    UNUSABLE = "the approval can't be used"


@dataclass(frozen=True, slots=True)
class Standing:
    """What the approval beside a spec says of its plan, in plain text without markup."""

    reason: Reason
    why: str
    """A sentence without a full stop at its end."""
    by: str = ""
    date: str = ""
    note: str = ""
    digest: str = ""
    """The digest that was approved; empty without an approval."""
    changes: tuple[str, ...] = ()
    """Values and figures that have changed since, each in a line, what spoils skin first."""
    new_warnings: tuple[str, ...] = ()
    """Names of warnings that were not there when it was approved."""

    @property
    def approved(self) -> bool:
        """Tell whether skin may be cut from it."""
        return self.reason is Reason.APPROVED
