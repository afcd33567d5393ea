"""From a run's file to the run with all documents that it names, and everything that is wrong with them."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.findings import Finding, has_errors, in_order
from tauthide.reading.faults import Fault
from tauthide.reading.files import FileTrouble
from tauthide.reading.located import Data, Located, Path
from tauthide.runs import faults
from tauthide.runs.assembling import assemble
from tauthide.runs.dates import judge_class, judge_dates, read_calendar, read_date
from tauthide.runs.limits import MOST_DRUMS
from tauthide.runs.lots import Lot, read_lot
from tauthide.runs.naming import Named
from tauthide.runs.run import Entry, HeldLot, HeldSkin, Run
from tauthide.runs.skin_faults import judge_skin
from tauthide.runs.skins import Skin, read_skin
from tauthide.runs.values import found_at
from tauthide.schema.fields import fields
from tauthide.schema.store import resolved
from tauthide.spec.chain import Library, Source, check_source
from tauthide.spec.resolving import resolve

KINDS = ("run", "skin", "lot")
"""The kinds of document that this stage reads."""


def load_skin(source: Source) -> tuple[Skin | None, tuple[Finding, ...]]:
    """Return the skin in a file that was read, or None where there are errors, and all findings."""
    located, findings = _checked(source)
    if located is None:
        return None, findings
    skin = read_skin(located)
    findings = in_order((*findings, *judge_skin(skin, located)))
    return (None if has_errors(findings) else skin), findings


def load_lot(source: Source) -> tuple[Lot | None, tuple[Finding, ...]]:
    """Return the lot in a file that was read, or None where there are errors, and all findings."""
    located, findings = _checked(source)
    return (None if located is None else read_lot(located)), findings


def load_run(source: Source, library: Library) -> tuple[Run | None, tuple[Finding, ...]]:
    """Return the run in a file that was read with all that it names, or None where there are errors.

    In any case all findings, also those of the specs, skins and lots that the run names. The specs are
    resolved, not compiled.
    """
    if source.document is None:
        return None, source.findings
    located, own = _checked(source)
    named = Named(source, library)
    given = source.document.located
    findings = list(own)
    entries = _entries(given, named, library, findings)
    skins = _skins(given, named, findings)
    lots = _lots(given, named, findings)
    findings += named.findings
    findings += _judge_drums(given, entries)
    if located is None:
        return None, in_order(findings)
    calendar, amiss = read_calendar(located)
    start = read_date(located, ("start",))
    finish_by = read_date(located, ("finish_by",)) if "finish_by" in located.data else None
    findings += (*amiss, *(() if amiss else judge_dates(located, calendar, start, finish_by)))
    findings += judge_class(located, start)
    if not has_errors(findings):
        findings += _unused_skins(located, entries, skins)
    if has_errors(findings) or isinstance(start, Finding) or isinstance(finish_by, Finding):
        return None, in_order(findings)
    return assemble(located, entries, skins, lots, calendar, start, finish_by), in_order(findings)


def check_document(source: Source, library: Library) -> tuple[Finding, ...]:
    """Return what is wrong with a run, a skin or a lot; of a run also with all that it names."""
    document = source.document
    if document is None:
        return source.findings
    if document.kind == "run":
        return load_run(source, library)[1]
    return load_skin(source)[1] if document.kind == "skin" else load_lot(source)[1]


def _checked(source: Source) -> tuple[Located | None, tuple[Finding, ...]]:
    """Return a document that its schema finds nothing wrong with, or None, and the findings."""
    checked = check_source(source)
    if checked.document is None or has_errors(checked.findings):
        return None, checked.findings
    return checked.document.located, checked.findings


def _entries(located: Located, named: Named, library: Library, findings: list[Finding]) -> list[Entry]:
    """Read the specs; a spec that stands twice, or whose drum has another's name, is refused."""
    entries: list[Entry] = []
    seen: dict[object, int] = {}
    for path, written, item in _named_in(located, "drums", "spec"):
        source = named.read(path, written, "spec")
        if source is None:
            continue
        place = located.place(path)
        if source.path in seen:
            findings.append(found_at(located, faults.SPEC_TWICE, path, line=seen[source.path]))
            continue
        seen[source.path] = place.line
        try:
            chain = library.chain(source)
        except FileTrouble as trouble:  # of a base or a shop file
            named.report(faults.FILE_UNREADABLE, path, reason=str(trouble))
            continue
        spec, amiss = resolve(chain)
        findings += amiss
        if spec is None:
            continue
        name = spec.drum.casefold()
        if name in seen:
            findings.append(found_at(located, faults.DRUM_TWICE, path, line=seen[name]))
            continue
        seen[name] = place.line
        quantity, first = (
            _count(item, key, usual) for key, usual in (("quantity", spec.quantity), ("first_serial", 1))
        )
        entries.append(Entry(source.path, source.shown, spec, quantity, first, place, chain.approval))
    return entries


def _skins(located: Located, named: Named, findings: list[Finding]) -> list[HeldSkin]:
    held: list[HeldSkin] = []
    names: dict[str, int] = {}
    for path, source in _read_once(located, "skins", "skin", named, faults.SKIN_TWICE, findings):
        skin, amiss = load_skin(source)
        findings += amiss
        place = located.place(path)
        if skin is None:
            continue
        if skin.name.casefold() in names:
            findings.append(found_at(located, faults.SKIN_NAME_TWICE, path, line=names[skin.name.casefold()]))
            continue
        names[skin.name.casefold()] = place.line
        held.append(HeldSkin(source.path, source.shown, skin, place))
    return held


def _lots(located: Located, named: Named, findings: list[Finding]) -> list[HeldLot]:
    held: list[HeldLot] = []
    for path, source in _read_once(located, "lots", "lot", named, faults.LOT_TWICE, findings):
        lot, amiss = load_lot(source)
        findings += amiss
        if lot is not None:
            held.append(HeldLot(source.path, source.shown, lot, located.place(path)))
    return held


def _read_once(
    located: Located, key: str, kind: str, named: Named, twice: Fault, findings: list[Finding]
) -> Iterator[tuple[Path, Source]]:
    """Yield each document of a list with its path; one that stands there already is refused."""
    seen: dict[object, int] = {}
    for path, written, _ in _named_in(located, key, ""):
        source = named.read(path, written, kind)
        if source is None:
            continue
        if source.path in seen:
            findings.append(found_at(located, twice, path, line=seen[source.path]))
            continue
        seen[source.path] = located.place(path).line
        yield path, source


def _named_in(located: Located, key: str, field: str) -> Iterator[tuple[Path, str, Data]]:
    """Yield path, name and item of every file named in a list, whatever else is wrong with the document."""
    items = located.data.get(key)
    most = resolved("run")["properties"][key]["maxItems"]
    for index, item in enumerate(items[:most] if isinstance(items, list) else ()):
        path: Path = (key, index, field) if field else (key, index)
        written = item.get(field) if field and isinstance(item, dict) else None if field else item
        if isinstance(written, str) and written.strip():
            yield path, written, item


def _judge_drums(located: Located, entries: list[Entry]) -> Iterator[Finding]:
    count = sum(entry.quantity for entry in entries)
    if count > MOST_DRUMS:
        yield found_at(located, faults.TOO_MANY_DRUMS, ("drums",), key=True, count=count)


def _unused_skins(located: Located, entries: list[Entry], skins: list[HeldSkin]) -> Iterator[Finding]:
    hides = {entry.spec.word(field) for entry in entries for field in ("head.hide", "lace.hide")}
    known = [hide for hide in fields("spec")["head.hide"].choices if hide in hides]
    for index, held in enumerate(skins):
        if held.skin.hide not in hides:
            allowed = f"skins of {' or '.join(map(str, known))}"
            yield found_at(located, faults.SKIN_UNUSED, ("skins", index), allowed=allowed, hide=held.skin.hide)


def _count(item: Data, key: str, usual: int) -> int:
    value = item.get(key) if isinstance(item, dict) else None
    return value if isinstance(value, int) and not isinstance(value, bool) else usual
