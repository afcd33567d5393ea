"""What a spec must say and does not: the likeliest values for a maker who left them open."""

from __future__ import annotations

from collections.abc import Mapping

from tauthide.findings import Finding, Severity
from tauthide.reading.located import Data, Path
from tauthide.schema.faults import BAD_NAME, EMPTY_VALUE, MISSING_KEY
from tauthide.schema.names import judge, mend
from tauthide.spec.chain import STDIN_NAME
from tauthide.spec.defaults import BUILT_IN
from tauthide.suggesting.counting import count_reason, likely_counts
from tauthide.suggesting.draft import Draft

USUAL_DEPTH = "55 mm"
DEPTH_REASON = "deep enough to hold by, shallow enough for one hand; workshop practice, no published source"

FIRST_HIDES = ("goat", "deer", "calf", "horse", "cow")
"""Hides from the thinnest to the largest, of those that are not used for their looks or price."""

PROVISIONAL: Mapping[Path, str | int] = {("head", "hide"): FIRST_HIDES[0], ("stations", "count"): 16}
"""Values that stand in until the rest of the spec is known, and are then chosen."""

_PARTS: Mapping[str, tuple[Path, ...]] = {
    "frame": (("frame", "outline"), ("frame", "depth")),
    "head": (("head", "hide"),),
    "stations": (("stations", "count"),),
}
_ROUNDS = 12
"""More than a spec has fields that it must give."""

_COUNT: Path = ("stations", "count")
_HIDE: Path = ("head", "hide")


def complete(draft: Draft) -> Draft:
    """Return the draft with what it lacks put in, as far as that can be told; some of it only provisional."""
    for _ in range(_ROUNDS):
        before = draft
        for finding in draft.findings:
            if finding.place.file != draft.chain.spec.shown:
                continue  # of a base or shop file, which the spec can't complete
            for path in _lacking(finding):
                if draft.value(path) is None:
                    draft = _supply(draft, path)
        if draft is before:
            break
    return draft


def settle(draft: Draft, provisional: set[Path]) -> Draft:
    """Return the draft with its provisional values chosen; without them where the rest is still not known."""
    if draft.spec is None:
        for path in sorted(provisional, key=str):
            draft = draft.without(path)
        return draft
    if _HIDE in provisional:
        draft = choose_hide(draft)
    if _COUNT in provisional:
        draft = choose_count(draft)
    return draft


def provisional_paths(before: Draft, after: Draft) -> set[Path]:
    """Return the paths of the values that `complete` only put in to stand in."""
    return {path for path in PROVISIONAL if before.value(path) is None and after.value(path) is not None}


def choose_hide(draft: Draft) -> Draft:
    """Return the draft with the thinnest hide whose usual skin is large enough."""
    for hide in FIRST_HIDES:
        trial = draft.with_value(_HIDE, hide)
        if trial.spec is None:
            continue
        workings = trial.workings()
        needed = workings["head.blank_diameter" if workings.applies("head.blank_diameter") else "head.blank_length"]
        if needed <= trial.spec.number("hide.disc") or hide == FIRST_HIDES[-1]:
            return draft.with_value(_HIDE, hide, (f"the thinnest usual hide that gives a blank of {needed:.0f} mm",))
    return draft


def choose_count(draft: Draft, among: tuple[int, ...] = ()) -> Draft:
    """Return the draft with the station count that meets most rules; of those the best for the rim."""
    perimeter, sides = rim_of(draft)
    best: Draft | None = None
    for count in likely_counts(perimeter, sides):
        if among and count not in among:
            continue
        trial = draft.with_value(_COUNT, count, (count_reason(perimeter, count, sides),))
        if best is None or trial.score < best.score:
            best = trial
        if best.score == (0, 0, 0):
            break
    return best or draft


def rim_of(draft: Draft) -> tuple[float, int]:
    """Return the frame's outside perimeter, and a polygon's sides; 0 for other outlines."""
    workings = draft.workings()
    sides = workings.count("frame.sides") if workings.word("frame.outline") == "polygon" else 0
    return workings["frame.perimeter"], sides


def drum_name(draft: Draft) -> str:
    """Return a name for the drum, from that of its file; nothing for standard input."""
    path = draft.chain.spec.path
    stem = "" if str(path) == STDIN_NAME else path.stem
    return stem.upper() if stem and not judge(stem.upper()) else mend(stem).upper()


def _lacking(finding: Finding) -> tuple[Path, ...]:
    if finding.severity is not Severity.ERROR:
        return ()
    if finding.name not in (MISSING_KEY.name, EMPTY_VALUE.name, BAD_NAME.name):
        return ()
    return _PARTS.get(finding.path, (tuple(finding.path.split(".")),))


def _supply(draft: Draft, path: Path) -> Draft:
    found = _likeliest(draft, path)
    return draft if found is None else draft.with_value(path, found[0], (found[1],))


def _likeliest(draft: Draft, path: Path) -> tuple[Data, str] | None:
    dotted = ".".join(map(str, path))
    if path in PROVISIONAL:
        return PROVISIONAL[path], ""
    if path == ("frame", "outline"):
        return _outline(draft)
    if path == ("frame", "depth"):
        return USUAL_DEPTH, DEPTH_REASON
    if path == ("drum",):
        name = drum_name(draft)
        return (name, "named after its file") if name else None
    default = BUILT_IN.get(dotted)
    return None if default is None else (default.written, f"{default.reason}; {default.source}")


def _outline(draft: Draft) -> tuple[Data, str]:
    """Tell the outline by the sizes that are given."""
    given: set[str] = set()
    for source in draft.chain.files:
        frame = None if source.document is None else source.document.located.data.get("frame")
        given |= set(frame) if isinstance(frame, dict) else set()
    if "diameter" not in given:
        for outline, sizes in (("polygon", {"sides", "across_flats"}), ("oval", {"length", "width"})):
            if sizes & given:
                return outline, f"`{min(sizes & given)}` sizes {'an' if outline == 'oval' else 'a'} {outline}"
        return "round", "most frames are"
    return "round", "`diameter` sizes a round frame"
