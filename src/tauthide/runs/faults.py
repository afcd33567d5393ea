"""What can be wrong with a run, a skin or a lot whose fields are well formed: every fault once, with its words."""

from __future__ import annotations

from tauthide.findings import Severity
from tauthide.reading.faults import Fault
from tauthide.runs.limits import (
    LEAST_AREA_DM2,
    LEAST_FIXED_MM,
    LEAST_SPINE_MM,
    MOST_AREA_M2,
    MOST_DRUMS,
    MOST_FIXED_MM,
)

_SEEN_FROM_HERE = "the name of a file as seen from this one, such as `skins/goat-1.yaml`, with `/` between folders"
_ORDER = "corners in the order in which they are met going round"

POINT_REPEATED = Fault(
    "point-repeated",
    "point {number} of {ring} is the same as point {other}",
    "each corner once; the first is not repeated at the end",
    "A corner that stands twice is most likely a slip for another.",
)
RING_CROSSES = Fault(
    "edge-crosses-itself",
    "the edge of {ring} from point {a} to {b} crosses or touches the one from {c} to {d}{more}",
    _ORDER,
    "An edge that crosses itself has no inside; most often two points are exchanged, or a digit is wrong.",
)
OUTLINE_TOO_SMALL = Fault(
    "outline-too-small",
    "the outline encloses only {area}",
    f"at least {LEAST_AREA_DM2} dm²",
    "No skin is this small: most likely the grid's size is wrong.",
)
OUTLINE_TOO_LARGE = Fault(
    "outline-too-large",
    "the outline encloses {area}",
    f"at most {MOST_AREA_M2} m²",
    "No skin is this large: most likely the grid's size is wrong.",
)
FLAW_OUTSIDE = Fault(
    "flaw-outside",
    "this {kind} lies outside the skin",
    "a place within the outline",
    "A flaw that is put down in the wrong place is not there where it must be cut round.",
)
WEAK_OUTSIDE = Fault(
    "weak-region-outside",
    "the {region} lies outside the skin",
    "a region that has a part of the skin in it",
    "A weak region that is put down in the wrong place leaves the weak skin open for a head.",
)
SPINE_OUTSIDE = Fault(
    "spine-outside",
    "the {end} end of the spine lies {distance} outside the skin",
    "a point of the skin, or half a square beside it at most",
    "Heads are laid along or across the spine, and the tape is held to its ends.",
)
SPINE_SHORT = Fault(
    "spine-short",
    "the spine is only {distance} long",
    f"two points at least {LEAST_SPINE_MM:.0f} mm apart",
    "The direction of a short line can be told only badly.",
)
THICKNESS_OUTSIDE = Fault(
    "thickness-outside",
    "this thickness was measured {distance} outside the skin",
    "a point of the skin, or half a square beside it at most",
    "A point in the wrong place gives the skin round it a wrong thickness.",
)
THICKNESS_TWICE = Fault(
    "thickness-twice",
    "the thickness at this point stands already in `thicknesses.{number}`",
    "one thickness for each point",
    "Of two thicknesses at one point nobody can tell which one is meant.",
)
FIXED_POINTS_CLOSE = Fault(
    "fixed-points-close",
    "the fixed points are only {distance} apart",
    f"two points at least {LEAST_FIXED_MM:.0f} mm apart",
    "Arcs from two points that lie close together cross so flatly that the place cannot be told.",
)
FIXED_POINT_FAR = Fault(
    "fixed-point-far",
    "this fixed point lies {distance} away from the skin",
    f"a point at most {MOST_FIXED_MM:.0f} mm beside the skin",
    "A long tape sags and stretches, and cannot be held alone.",
)

FILE_BAD_NAME = Fault(
    "file-bad-name",
    "`{field}` cannot name a file: {reason}",
    _SEEN_FROM_HERE,
    "A name must lead to the same file on any computer that the files are copied to.",
)
FILE_ABSOLUTE = Fault(
    "file-absolute",
    "`{field}` names a file by its place on one computer",
    _SEEN_FROM_HERE,
    "On another computer the file would lie elsewhere.",
)
FILE_OUTSIDE = Fault(
    "file-outside",
    "`{field}` leads out of the repository",
    "a file within the repository",
    "What lies elsewhere is not there for those who copy the repository.",
)
FILE_ABSENT = Fault(
    "file-absent",
    "there is no file `{written}` here",
    _SEEN_FROM_HERE,
    "Without it the run is not complete.",
)
FILE_IRREGULAR = Fault(
    "file-irregular",
    "`{written}` is a folder, or something else that is not a regular file",
    _SEEN_FROM_HERE,
    "Only a regular file can hold a document.",
)
FILE_UNREADABLE = Fault(
    "file-unreadable",
    "`{written}` cannot be read: {reason}",
    "a file that can be read",
    "Without it the run is not complete.",
)
FILE_WRONG_KIND = Fault(
    "file-wrong-kind",
    "`{written}` is a {kind} file, where a {wanted} is wanted",
    "",
    "Each list of a run takes one kind of document.",
)
FROM_NOWHERE = Fault(
    "run-from-nowhere",
    "a run from standard input lies in no folder, so it cannot name files",
    "the path of the run's file",
    "A run names specs and skins as seen from its own folder.",
)

SPEC_TWICE = Fault(
    "spec-twice",
    "this spec stands in the run already, on line {line}",
    "each spec once, with its `quantity`",
    "The same drums would be counted twice, with the same serials.",
)
DRUM_TWICE = Fault(
    "drum-twice",
    "this spec's drum has the name of another one in the run, that of line {line}",
    "a name of its own for each drum, in capitals or not",
    "Serials are made from the drum's name, and no two drums may have the same one.",
)
SKIN_TWICE = Fault(
    "skin-twice",
    "this skin stands in the run already, on line {line}",
    "each skin once",
    "A skin can be cut only once.",
)
SKIN_NAME_TWICE = Fault(
    "skin-name-twice",
    "this skin has the name of another one in the run, that of line {line}",
    "a name of its own for each skin, in capitals or not",
    "Two skins with one label would be taken for each other on the floor.",
)
LOT_TWICE = Fault(
    "lot-twice",
    "this lot stands in the run already, on line {line}",
    "each lot once",
    "What is in stock would be counted twice.",
)
SKIN_UNUSED = Fault(
    "skin-of-no-drum",
    "this is {hide} skin, and no drum of the run has a head or lace of that",
    "",
    "It stays uncut; perhaps a drum is missing, or the wrong skin is named.",
    Severity.NOTE,
)
TOO_MANY_DRUMS = Fault(
    "too-many-drums",
    "the run has {count} drums",
    f"at most {MOST_DRUMS} in one run",
    "So many are hardly meant, and a plan of them would take very long; make several runs of them.",
)
NO_SUCH_DAY = Fault(
    "no-such-day",
    "{month} has no day {day} in {year}",
    "a day of the calendar, as year, month and day",
    "What cannot be read with certainty is not guessed at.",
)
FINISH_EARLY = Fault(
    "finish-before-start",
    "the run is to be done before it begins, on {start}",
    "a day after the start",
    "Most likely two dates are exchanged, or a year is wrong.",
)
CLASS_EARLY = Fault(
    "class-before-ready",
    "the class begins before its teachers have a day to make ready: the run starts on {start}",
    "a day after the start; or no `begins`, where everyone does all of it",
    "Edges are sealed and skins soaked overnight before a class can lace.",
)
NO_WORKING_DAY = Fault(
    "no-working-day",
    "nobody works from the start to the day on which all must be done",
    "at least one working day",
    "Nothing can be made where nobody works.",
)
START_DAY_OFF = Fault(
    "start-on-day-off",
    "nobody works on the first day, a {weekday}",
    "a working day",
    "The run begins on the next working day.",
    Severity.NOTE,
)
HOURS_BACKWARD = Fault(
    "hours-backward",
    "`to` is not later than `from`, {start}",
    "a time later on the same day; 24:00 is midnight",
    "Work through the night is written as two days' hours.",
)
BREAK_OUTSIDE = Fault(
    "break-outside",
    "the break lies outside the hours, {start} to {end}",
    "a time within the hours",
    "A break in which nobody would work anyway is most likely a slip.",
)
BREAKS_OVERLAP = Fault(
    "breaks-overlap",
    "the break overlaps that of {start} to {end}",
    "breaks clear of each other",
    "Most likely one of the times is a slip.",
)
ALL_BREAK = Fault(
    "all-break",
    "the breaks leave no time for work",
    "hours that are longer than their breaks",
    "Nothing can be made where nobody works.",
)
HOURS_OVERLAP = Fault(
    "hours-overlap",
    "these hours overlap those of `hours.{number}` on {days}",
    "hours of one day clear of each other",
    "The same time would be worked twice.",
)

FAULTS: tuple[Fault, ...] = (
    POINT_REPEATED,
    RING_CROSSES,
    OUTLINE_TOO_SMALL,
    OUTLINE_TOO_LARGE,
    FLAW_OUTSIDE,
    WEAK_OUTSIDE,
    SPINE_OUTSIDE,
    SPINE_SHORT,
    THICKNESS_OUTSIDE,
    THICKNESS_TWICE,
    FIXED_POINTS_CLOSE,
    FIXED_POINT_FAR,
    FILE_BAD_NAME,
    FILE_ABSOLUTE,
    FILE_OUTSIDE,
    FILE_ABSENT,
    FILE_IRREGULAR,
    FILE_UNREADABLE,
    FILE_WRONG_KIND,
    FROM_NOWHERE,
    SPEC_TWICE,
    DRUM_TWICE,
    SKIN_TWICE,
    SKIN_NAME_TWICE,
    LOT_TWICE,
    SKIN_UNUSED,
    TOO_MANY_DRUMS,
    NO_SUCH_DAY,
    FINISH_EARLY,
    CLASS_EARLY,
    NO_WORKING_DAY,
    START_DAY_OFF,
    HOURS_BACKWARD,
    BREAK_OUTSIDE,
    BREAKS_OVERLAP,
    ALL_BREAK,
    HOURS_OVERLAP,
)
"""Every fault that this stage may report."""
