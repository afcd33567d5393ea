"""A first look at a batch: what each file is, which drum it makes, and whether names clash."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from tauthide.batch.fingerprint import fingerprint
from tauthide.batch.inputs import Input
from tauthide.findings import Finding, Place, Severity
from tauthide.reading.documents import peek_kind
from tauthide.reading.files import FileTrouble
from tauthide.schema.names import judge
from tauthide.spec.chain import CHECKED_KINDS, Library, Source, check_source

FOREIGN = "unknown-kind"
"""The finding of a document that is none of ours; in a folder it may well belong to another program."""


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


def survey(inputs: Iterable[Input], library: Library) -> tuple[Surveyed, ...]:
    """Take a first look at every input, in order; specs with the same drum name, but for case, are refused."""
    looked = [_look(item, library) for item in inputs]
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


def _look(item: Input, library: Library) -> Surveyed:
    try:
        source = item.read()
    except FileTrouble as trouble:
        return Surveyed(item, None, findings=(unreadable(item.shown, trouble),), unreadable=True)
    document = source.document
    if document is None:
        return _look_at_ruin(item, source)
    if document.kind != "spec":
        return Surveyed(item, document.kind, findings=_other_findings(item, source))
    drum = document.located.data.get("drum")
    usable = isinstance(drum, str) and not judge(drum)
    place = document.located.place(("drum",))
    try:
        chain = item.chain(library)
    except FileTrouble as trouble:
        return Surveyed(item, "spec", str(drum) if usable else None, place,
                        findings=(unreadable(item.shown, trouble),), unreadable=True)  # fmt: skip
    return Surveyed(item, "spec", str(drum) if usable else None, place, fingerprint(chain))


def _look_at_ruin(item: Input, source: Source) -> Surveyed:
    """Say what a file is that is no document: a spec to be mended, or somebody else's file."""
    kind = peek_kind(source.source)
    foreign = all(finding.name == FOREIGN and not finding.write for finding in source.findings)
    if foreign and not item.named:
        softened = tuple(replace(finding, severity=Severity.NOTE) for finding in source.findings)
        return Surveyed(item, None, findings=softened)
    return Surveyed(item, kind, findings=source.findings)


def _other_findings(item: Input, source: Source) -> tuple[Finding, ...]:
    document = source.document
    assert document is not None  # the caller has looked
    if document.kind in CHECKED_KINDS or not item.named:
        return check_source(source).findings
    place = document.located.place((document.kind,), key=True)
    message = f"This version does not know what to do with a {document.kind} file"
    allowed = ", ".join(f"`{kind}: 1`" for kind in CHECKED_KINDS)
    return (Finding("kind-not-handled", Severity.ERROR, message, place, "", f"{document.kind}: 1", allowed),)


def unreadable(shown: str, trouble: FileTrouble) -> Finding:
    """Return the finding for a file that can't be read."""
    return Finding("unreadable-file", Severity.ERROR, str(trouble), Place(shown), allowed="a file that can be read")


def _taken(item: Surveyed, same: list[Surveyed]) -> Finding:
    """Return the finding for a drum's name that other specs of the batch have too."""
    others = [other for other in same if other is not item]
    where = ", ".join(f"{other.place.file}:{other.place.line}" for other in others if other.place)
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
