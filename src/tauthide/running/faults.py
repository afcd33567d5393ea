"""What can be wrong with a run whose drums are all well: every fault once, with its words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from tauthide.findings import Finding, Severity
from tauthide.reading.faults import Fault
from tauthide.runs.run import Run
from tauthide.scheduling.schedule import Trouble, TroubleKind
from tauthide.units import time

SKIN_SHORT = Fault(
    "skin-short",
    "not everything finds a place on the skins at hand: {missing} of {wanted} pieces are left over",
    "skins for all drums and their laces, or fewer drums",
    "What is left over has to be bought before the run begins; the papers say how much.",
    Severity.WARNING,
)
PIECE_LEFT_OVER = Fault(
    "piece-left-over",
    "why {what} found no place: {why}",
    "room of the allowed thickness, clear of weak regions and of the other pieces",
    "It tells what to look for in a skin that is to be bought, or what to measure again.",
    Severity.NOTE,
)
NO_SKIN_AT_HAND = Fault(
    "no-skin-at-hand",
    "the run names no skins, so nothing is laid out: all skin is to be bought",
    "the skins at hand, each a file of its own",
    "Only measured skins can be laid out; without them the papers only say how much to buy.",
    Severity.NOTE,
)
THICKNESS_UNMATCHED = Fault(
    "thickness-unmatched",
    "the heads of {drum} are from {least} to {most} thick in their middles, {apart} apart: more than they should be",
    "skins of more even thickness, or a wider `thickness_match`",
    "Drums of one set sound alike only if their heads are of one thickness.",
    Severity.WARNING,
)
FINISHES_LATE = Fault(
    "finishes-late",
    "the last drum is done on {done}, after the day that was wished for",
    "more people, longer hours, more places, an earlier start or a later day",
    "Skin dries no faster for being in a hurry.",
    Severity.WARNING,
)
WET_TOO_LONG = Fault(
    "wet-too-long",
    "from `{since}` to the end of `{until}` takes {short} longer than skin may be wet, {how}",
    "a cooler room, {more}",
    "Wet skin spoils; what is begun must be drawn tight in time.",
)
WORK_TOO_LONG = Fault(
    "work-too-long",
    "`{since}` takes {short} longer than any stretch of working hours",
    "longer hours, or fewer breaks",
    "Work with wet skin is not left lying over a break or a night.",
)
FEW_PEOPLE = Fault(
    "few-people",
    "`{since}` takes {short} more people than there are",
    "a larger crew",
    "Nobody can be in two places.",
)
FEW_PLACES = Fault(
    "few-places",
    "one drum alone takes more {resource} than there are, {short} more",
    "as many places as one drum takes",
    "Without a place the drum can't be made at all.",
)
NO_HOURS = Fault(
    "no-hours",
    "there are no working hours from the first day on",
    "hours on at least one day of the week that is not off",
    "Without hours nothing can be done.",
)
CLASS_UNPREPARED = Fault(
    "class-unprepared",
    "not all is ready when the class begins: frames and skins are on {ready}",
    "an earlier start, longer hours before the class, more teachers, or a later day",
    "Sealed edges dry and skins soak overnight, whoever waits for them.",
    Severity.WARNING,
)
SOAKS_TOO_LONG = Fault(
    "soaks-too-long",
    "skins lie in the water for up to {hours} h before they are lifted; {most} h is the most in a room so warm",
    "as many drums as are lifted a day or two after their skins are soaked; or more hours, people and places",
    "Skin that lies in the water for too long rots, and its grain comes off.",
    Severity.WARNING,
)
CLASS_TUB = Fault(
    "tub-small-for-class",
    "all skins of the class lie in the water together when it begins, which takes {wanted} places",
    "as many places as that; or no `begins`, where everyone puts in their own",
    "A skin that waits for a place in the tub is not soaked when the class begins.",
)
DRUM_UNAPPROVED = Fault(
    "drum-unapproved",
    "{drum} is not approved, so nothing is to be cut for it yet: {why}",
    "a drum that has been approved as it stands",
    "A run's papers go to the bench. They say which drums nobody has approved, so that no skin is cut for those.",
    Severity.NOTE,
)
APPROVAL_LAPSED = Fault(
    "approval-lapsed",
    "{drum} is no longer approved, so nothing is to be cut for it: {why}",
    "a drum that has been approved as it stands",
    "Someone reviewed another drum than the one that this run would cut.",
    Severity.WARNING,
)
PLANNING_FAULTS = (
    SKIN_SHORT, PIECE_LEFT_OVER, NO_SKIN_AT_HAND, THICKNESS_UNMATCHED, FINISHES_LATE, WET_TOO_LONG, WORK_TOO_LONG,
    FEW_PEOPLE, FEW_PLACES, NO_HOURS, CLASS_UNPREPARED, SOAKS_TOO_LONG, CLASS_TUB, DRUM_UNAPPROVED,
    APPROVAL_LAPSED,
)  # fmt: skip

_HOW = {
    TroubleKind.WINDOW: ("whoever does it and whenever", "or a smaller drum"),
    TroubleKind.WINDOW_HOURS: ("as the working hours lie", "longer hours or fewer breaks"),
    TroubleKind.WINDOW_PLACES: ("with the people and places there are", "more people or more places"),
}


def find_troubles(run: Run, troubles: tuple[Trouble, ...], titles: Mapping[str, str]) -> Iterator[Finding]:
    """Yield a finding for each reason why the run cannot be timed; `titles` are those of the operations by name."""
    for trouble in troubles:
        since, until = titles.get(trouble.since, trouble.since), titles.get(trouble.until, trouble.until)
        hours = run.place_of("hours")
        found = ", ".join(trouble.jobs)
        if trouble.kind in _HOW:
            how, more = _HOW[trouble.kind]
            allowed = WET_TOO_LONG.allowed.format(more=more)
            short = time(trouble.short_min)
            # No hours are long enough where the air is too warm: then it is the air that wants changing.
            path = "air" if trouble.kind is TroubleKind.WINDOW and run.air_c is not None else "hours"
            yield WET_TOO_LONG.at(run.place_of(path), path=path, found=found, allowed=allowed, since=since, until=until,
                                  short=short, how=how)  # fmt: skip
        elif trouble.kind is TroubleKind.LONG_OPERATION:
            yield WORK_TOO_LONG.at(hours, path="hours", found=found, since=since, short=time(trouble.short_min))
        elif trouble.kind is TroubleKind.FEW_PEOPLE:
            place = run.place_of("crew")
            yield FEW_PEOPLE.at(place, path="crew", found=found, since=since, short=str(trouble.short_min))
        elif trouble.kind is TroubleKind.FEW_UNITS:
            path = f"places.{trouble.resource}"
            resource = titles.get(trouble.resource, trouble.resource)
            yield FEW_PLACES.at(run.place_of(path), path=path, found=found, resource=resource,
                                short=str(trouble.short_min))  # fmt: skip
        else:
            yield NO_HOURS.at(hours, path="hours")
