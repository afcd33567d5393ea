"""Pages of everything that a finding may be named for: rules of the trade, and faults of all other stages."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from tauthide.explaining.faults import OTHER_FAULTS
from tauthide.findings import Severity
from tauthide.reading.faults import FAULTS as READING_FAULTS
from tauthide.reading.faults import Fault
from tauthide.reading.template_faults import TEMPLATE_FAULTS
from tauthide.recording.faults import RECORD_FAULTS
from tauthide.rules.registry import RULES
from tauthide.rules.rule import USUAL, Fields, Rule
from tauthide.running.faults import PLANNING_FAULTS
from tauthide.runs.faults import FAULTS as RUN_FAULTS
from tauthide.schema.faults import FAULTS as FIELD_FAULTS

EXAMPLE_DRUM = "EXAMPLE"
READING, CHECKING = "reading a file", "checking a file's fields"
JUDGING = "checking a run, skin or lot"
PLANNING = "planning a run"
RECORDING = "looking at records of built drums"
SETTING_OUT = "setting out a sheet by own templates"


@dataclass(frozen=True, slots=True)
class Page:
    """What there is to say of a rule or fault."""

    kind: str
    """`rule` or `fault`."""
    name: str
    severity: Severity
    why: str
    mend: str = ""
    """How to mend it; of a fault, what may stand there instead, where that is always the same."""
    source: str = ""
    stage: str = ""
    """Of a fault: what finds it."""
    failing: str = ""
    """A spec that breaks the rule, as YAML."""
    passing: str = ""
    """The same spec, mended."""


def rule_page(rule: Rule) -> Page:
    """Return the page of a rule."""
    return Page(
        "rule",
        rule.name,
        rule.severity,
        rule.why,
        rule.mend,
        rule.source,
        failing=example_text(rule.failing),
        passing=example_text(rule.passing),
    )


def pages() -> Mapping[str, Page]:
    """Return all pages by name: the rules first; a rule hides a fault of the same name."""
    return {page.name: page for page in (*reversed(tuple(_fault_pages())), *map(rule_page, RULES))}


def example_text(changes: Fields) -> str:
    """Return the usual drum with these fields laid over it, as the YAML of a spec."""
    usual = {path: value for path, value in USUAL.items() if path not in changes}
    if changes.get("frame.outline", USUAL["frame.outline"]) != USUAL["frame.outline"]:
        usual.pop("frame.diameter", None)
    fields = {path: changes.get(path, value) for path, value in USUAL.items() if path in usual or path in changes}
    fields |= {path: value for path, value in changes.items() if path not in fields}
    lines = ["spec: 1", f"drum: {EXAMPLE_DRUM}"]
    lines += [f"{path}: {value}" for path, value in fields.items() if "." not in path]
    for part in dict.fromkeys(path.partition(".")[0] for path in fields if "." in path):
        lines.append(f"{part}:")
        lines += [
            f"  {path.partition('.')[2]}: {value}" for path, value in fields.items() if path.startswith(f"{part}.")
        ]
    return "\n".join(lines) + "\n"


def _fault_pages() -> Iterator[Page]:
    stages = (
        (READING, READING_FAULTS), (CHECKING, FIELD_FAULTS), (JUDGING, RUN_FAULTS), (PLANNING, PLANNING_FAULTS),
        (SETTING_OUT, TEMPLATE_FAULTS), (RECORDING, RECORD_FAULTS),
    )  # fmt: skip
    for stage, faults in stages:
        yield from (_fault_page(fault, stage) for fault in faults)
    for other in OTHER_FAULTS:
        yield Page("fault", other.name, other.severity, other.why, other.allowed, stage=other.stage)


def _fault_page(fault: Fault, stage: str) -> Page:
    return Page("fault", fault.name, fault.severity, fault.why, fault.allowed, stage=stage)
