"""A first look at a batch: what each file is, which drum it makes, and whether names clash."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace

from tauthide.batch.fingerprint import fingerprint
from tauthide.batch.inputs import Input, unreadable
from tauthide.batch.recording import check_records
from tauthide.findings import Finding, Place, Severity, relative_to
from tauthide.reading.documents import KINDS, a_kind, peek_kind
from tauthide.reading.faults import EMPTY_FILE, UNKNOWN_KIND
from tauthide.reading.files import APPROVAL_ENDING, FileTrouble, approved_paths
from tauthide.runs.loading import KINDS as RUN_KINDS
from tauthide.runs.loading import check_document
from tauthide.schema.names import judge
from tauthide.spec.chain import CHECKED_KINDS, Library, Source, check_source
from tauthide.text import plain

PLACES_TOLD = 3
"""Of specs with the same drum's name, so many are told by place."""

_LIKE_OURS = re.compile(
    rb"^[^\w\r\n]{0,20}(?:drum|stations|(?:" + "|".join(KINDS).encode() + rb")[^\w\r\n]{0,3}:[ \t]*[0-9])\b",
    re.MULTILINE,
)
"""A line of a document of ours, to know one that can't be read or has lost its first line."""


@dataclass(frozen=True, slots=True)
class Surveyed:
    """What the first look at an input tells."""

    input: Input
    kind: str | None
    """`spec` and so on; None where that can't be told."""
    drum: str | None = None
    """The drum's name, if it may be the name of a folder."""
    place: Place | None = None
    """Where the drum's name stands."""
    fingerprint: str = ""
    """Of all that feeds the spec; empty where that can't be told."""
    findings: tuple[Finding, ...] = ()
    """What the first look found; a spec's own fields are checked later."""
    unreadable: bool = False
    """Whether the file, or one that feeds it, can't be read at all."""

    @property
    def stops(self) -> bool:
        """Tell whether what was found here keeps the spec from being compiled."""
        return any(finding.severity is Severity.ERROR for finding in self.findings)


def survey(inputs: Iterable[Input], library: Library, *, runs: bool = False) -> tuple[Surveyed, ...]:
    """Take a first look at every input, in order; specs with the same drum name, but for case, are refused.

    With `runs` it looks into runs, skins, lots and records as well; they do not bear on what a build makes.
    """
    looked = [_look(item, library, runs=runs) for item in inputs]
    drums: dict[str, list[Surveyed]] = {}
    for item in looked:
        if item.drum is not None:
            drums.setdefault(item.drum.casefold(), []).append(item)
    return tuple(
        replace(item, findings=(*item.findings, _taken(item, drums[item.drum.casefold()])))
        if item.drum is not None and len(drums[item.drum.casefold()]) > 1
        else item
        for item in looked
    )


def _look(item: Input, library: Library, *, runs: bool) -> Surveyed:
    try:
        source = item.read()
    except FileTrouble as trouble:
        return Surveyed(item, None, findings=(unreadable(item.shown, trouble),), unreadable=True)
    document = source.document
    if document is None:
        return _look_at_ruin(item, source, runs=runs)
    if document.kind in RUN_KINDS:
        return Surveyed(item, document.kind, findings=check_document(source, library) if runs else ())
    if document.kind == "records":
        return Surveyed(item, document.kind, findings=check_records(source, library) if runs else ())
    if document.kind != "spec":
        return Surveyed(item, document.kind, findings=_other_findings(item, source))
    drum = document.located.data.get("drum")
    usable = isinstance(drum, str) and not judge(drum)
    place = document.located.place(("drum",))
    try:
        chain = item.chain(library, source)
    except FileTrouble as trouble:
        return Surveyed(item, "spec", str(drum) if usable else None, place,
                        findings=(unreadable(item.shown, trouble),), unreadable=True)  # fmt: skip
    return Surveyed(item, "spec", str(drum) if usable else None, place, fingerprint(chain))


def _look_at_ruin(item: Input, source: Source, *, runs: bool) -> Surveyed:
    """Say what a file is that is no document: one of ours to be mended, or somebody else's."""
    kind = peek_kind(source.source)
    if kind in (*RUN_KINDS, "records") and not runs and not item.named:
        return Surveyed(item, kind)
    if kind is None and not item.named and _is_foreign(source):
        place = source.findings[0].place
        message = "This file is passed over: it is none of ours, as far as can be told"
        allowed = ", ".join(f"`{ours}: 1`" for ours in CHECKED_KINDS)
        return Surveyed(item, None, findings=(Finding("foreign-file", Severity.NOTE, message, place, allowed=allowed),))
    return Surveyed(item, kind, findings=source.findings)


def _is_foreign(source: Source) -> bool:
    """Tell whether a file in a folder may well belong to another program."""
    ours = any(
        finding.name == EMPTY_FILE.name or (finding.name == UNKNOWN_KIND.name and finding.write)
        for finding in source.findings
    )
    # Text in UTF-16 is its letters with zeros between.
    return not ours and not _LIKE_OURS.search(source.source.replace(b"\0", b""))


def _other_findings(item: Input, source: Source) -> tuple[Finding, ...]:
    document = source.document
    assert document is not None  # the caller has looked
    if document.kind == "approval":
        return (*check_source(source).findings, *_left_over(item, source))
    if document.kind in CHECKED_KINDS or not item.named:
        return check_source(source).findings
    place = document.located.place((document.kind,), key=True)
    message = f"This version does not know what to do with {a_kind(document.kind)} file"
    allowed = ", ".join(f"`{kind}: 1`" for kind in CHECKED_KINDS)
    return (Finding("kind-not-handled", Severity.ERROR, message, place, "", f"{document.kind}: 1", allowed),)


def _left_over(item: Input, source: Source) -> tuple[Finding, ...]:
    """Tell of an approval that lies beside no spec that it might be for."""
    if approved_paths(source.path):
        return ()
    assert source.document is not None  # the caller has looked
    message = f"This approval, of {plain(str(source.document.located.data.get('drum', '')))}, lies beside no spec"
    allowed = f"a spec in the same folder, with the same name but for `{APPROVAL_ENDING}`"
    place = source.document.located.place(("approval",), key=True)
    return (Finding("approval-left-over", Severity.NOTE, message, place, found=item.shown, allowed=allowed),)


def _taken(item: Surveyed, same: list[Surveyed]) -> Finding:
    """Return the finding for a drum's name that other specs of the batch have too."""
    others = [other for other in same if other is not item]
    # As seen from the spec: what is found goes into a notice, whose bytes must not tell where all this lies.
    places = [other.place for other in others if other.place is not None]
    told = [f"{relative_to(item.input.shown, place.file)}:{place.line}" for place in places[:PLACES_TOLD]]
    where = ", ".join(told) + (f" and {len(places) - PLACES_TOLD} more" if len(places) > PLACES_TOLD else "")
    spelt = {other.drum for other in others} != {item.drum}
    but_for_case = ", but for capitals," if spelt else ""
    assert item.place is not None  # it has a name, so it has a place
    return Finding(
        "drum-name-taken",
        Severity.ERROR,
        f"Another spec{but_for_case} has this drum's name: {where}",
        item.place,
        "drum",
        str(item.drum),
        "a name of its own for each drum, in capitals or not",
    )
