"""From files of records to lessons, one set for each shop file, and to what they would do to each spec."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from tauthide.batch.compiling import compile_chain
from tauthide.batch.inputs import Inputs, show_path, unreadable
from tauthide.batch.recording import Recorded, see_records
from tauthide.comparing.drums import Comparison, compare
from tauthide.comparing.seen import Seen
from tauthide.findings import Finding, in_order
from tauthide.learning.lessons import Lesson, learn
from tauthide.learning.shop_file import chosen, teach
from tauthide.learning.subjects import Observation, observations_of
from tauthide.plan.plan import Plan
from tauthide.reading.documents import VERSION
from tauthide.reading.files import SHOP_FILE, FileTrouble
from tauthide.recording.records import Record
from tauthide.spec.chain import Chain, Library, Source, check_source, read_source


@dataclass(frozen=True, slots=True)
class Shop:
    """A shop file, and what records teach it."""

    path: Path
    shown: str
    old: bytes | None
    """None where there is no such file yet."""
    recorded: tuple[Recorded, ...]
    """All records that any drum of this shop has part in."""
    lessons: tuple[Lesson, ...]
    chosen: tuple[Lesson, ...]
    """Those that change the shop file."""
    new: bytes | None
    """The shop file with them; None where it can't be changed safely."""
    effect: Comparison | None
    """What that does to the specs; None where nothing changes."""


@dataclass(frozen=True, slots=True)
class Learned:
    """What became of all records."""

    shops: tuple[Shop, ...]
    """In order of their names."""
    recorded: tuple[Recorded, ...]
    findings: tuple[Finding, ...]
    unreadable: bool


def learn_from(inputs: Inputs) -> Learned:
    """Learn from all files of records that the inputs lead to; effects are shown for all their specs as well."""
    library = Library(show_path)
    findings = list(inputs.findings)
    missing = bool(findings)
    recorded: list[Recorded] = []
    specs: dict[Path, Chain] = {}
    for item in inputs.items:
        try:
            source = item.read()
            kind = None if source.document is None else source.document.kind
            if kind == "spec" and item.path is not None:
                specs[item.path.resolve()] = library.chain(source)
            if kind == "records":
                seen, found = see_records(source, library)
                findings += found
                recorded += () if seen is None else (seen,)
        except FileTrouble as trouble:
            findings.append(unreadable(item.shown, trouble))
            missing = True
        else:
            # In a folder there may be files of others, and specs with errors of their own: a check tells of those.
            findings += source.findings if source.document is None and item.named else ()
    for each in recorded:
        specs |= {chain.spec.path.resolve(): chain for chain in each.chains.values()}
    shops = tuple(_shop(path, recorded, specs.values()) for path in sorted(_shops(recorded)))
    return Learned(shops, tuple(recorded), in_order(findings), missing)


def _shops(recorded: Iterable[Recorded]) -> set[Path]:
    return {_shop_path(chain) for each in recorded for chain in each.chains.values()}


def _shop_path(chain: Chain) -> Path:
    """Return where the shop file of a spec lies, or where it would: beside the spec."""
    return chain.spec.path.parent.resolve() / SHOP_FILE if chain.shop is None else chain.shop.path


def _shop(path: Path, recorded: Sequence[Recorded], specs: Iterable[Chain]) -> Shop:
    pairs: list[tuple[Record, Recorded]] = []
    mine: list[Recorded] = []
    for each in recorded:
        own = [record for record in each.records.records if _shop_path(each.chains[record.serial]) == path]
        mine += (each,) if own else ()
        pairs += [(record, each) for record in own]
    chains = [chain for chain in specs if _shop_path(chain) == path]
    shop = next((chain.shop for chain in chains if chain.shop is not None), None)
    old = None if shop is None else shop.source
    lessons = _learn(pairs, {})
    new = _teach(shop, lessons)
    if new is not None and new != old:
        # Once more, with the lengths of lace that follow from what was learned of the skins.
        lessons = _learn(pairs, _plans(chains, _read(path, new)))
        new = _teach(shop, lessons)
    taught = chosen(lessons)
    effect = _effect(chains, _read(path, new)) if taught and new is not None else None
    return Shop(path, show_path(path), old, tuple(mine), lessons, taught, new, effect)


def _learn(pairs: Iterable[tuple[Record, Recorded]], relearned: Mapping[Path, Plan]) -> tuple[Lesson, ...]:
    """Return the lessons of records; `relearned` are the plans by what was learned before, by spec, if any."""
    observations: list[Observation] = []
    for record, each in pairs:
        plan, spec = each.plans[record.serial], each.chains[record.serial].spec.path
        observations += observations_of(record, plan, relearned.get(spec, plan))
    return learn(observations)


def _teach(shop: Source | None, lessons: Iterable[Lesson]) -> bytes | None:
    """Return the shop file with what is learned; None where it can't be changed safely."""
    if shop is not None and (shop.document is None or shop.document.version != VERSION):
        return None
    return teach(None if shop is None else shop.source, chosen(lessons))


def _read(path: Path, content: bytes) -> Source:
    return check_source(read_source(path, show_path(path), content))


def _plans(chains: Iterable[Chain], shop: Source) -> dict[Path, Plan]:
    """Return the plans by another shop file, by spec; without those that have errors by it."""
    compiled = {chain.spec.path: compile_chain(replace(chain, shop=shop, approval=None)).plan for chain in chains}
    return {path: plan for path, plan in compiled.items() if plan is not None}


def _effect(chains: Iterable[Chain], shop: Source) -> Comparison:
    ordered = sorted(chains, key=lambda chain: chain.spec.shown)
    return compare(map(_seen, ordered), (_seen(replace(chain, shop=shop)) for chain in ordered))


def _seen(chain: Chain) -> Seen:
    compiled = compile_chain(replace(chain, approval=None))
    document = chain.spec.document
    drum = "" if document is None else str(document.located.data.get("drum", ""))
    return Seen(
        file=chain.spec.shown,
        key=chain.spec.shown,
        drum=drum,
        source=chain.spec.source,
        spec=compiled.spec,
        plan=compiled.plan,
        workings=compiled.workings,
        findings=compiled.findings,
    )
