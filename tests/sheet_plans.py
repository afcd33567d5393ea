"""Plans of drums for the tests of sheets: outlines, ways of marking, unit systems; few and many stations."""

from __future__ import annotations

import re
from functools import cache

from tauthide.findings import Finding, Place, Severity
from tauthide.plan.plan import Plan, make_plan
from tauthide.quantities.figures import start_workings
from tauthide.spec.chain import stdin_chain
from tauthide.spec.resolving import resolve

_START = "spec: 1\ndrum: LIB-13\n"

SPECS = {
    "round": "title: Lending set, 13 inch goat\nquantity: 8\n"
    "frame: {outline: round, diameter: 13 in, depth: 55 mm}\nhead: {hide: goat}\nstations: {count: 16}\n",
    "inch": "frame: {outline: round, diameter: 14 in, depth: 2 1/4 in}\nhead: {hide: cow}\n"
    "stations: {count: 12, hand: clockwise, mark_at: pair_centre}\nhandle: {arms: 0}\n"
    "bench: {units: inch, punches: [3/8 in, 10 mm]}\nvoice: {pitch: A2}\n",
    "on the wall": "frame: {outline: round, diameter: 14 in, depth: 60 mm}\n"
    "head: {hide: goat, turnover: 16 mm}\n"
    "stations: {count: 12, marking: fold, pair_spacing: 28 mm, edge_distance: 18 mm}\n",
    "least": "frame: {outline: round, diameter: 8 in, depth: 40 mm}\nhead: {hide: sheep}\nstations: {count: 4}\n",
    "most": "frame: {outline: round, diameter: 1.5 m, depth: 100 mm}\nhead: {hide: goat}\nstations: {count: 64}\n",
    "thick": "frame: {outline: round, diameter: 20 in, depth: 60 mm}\nhead: {hide: elk, outer: flesh}\n"
    "stations: {count: 22}\nhandle: {arms: 2}\n",
    "oval": "frame: {outline: oval, length: 18 in, width: 16 in, depth: 60 mm}\nhead: {hide: deer}\n"
    "stations: {count: 18}\n",
    "folded oval": "frame: {outline: oval, length: 18 in, width: 16 in, depth: 60 mm}\nhead: {hide: deer}\n"
    "stations: {count: 16, marking: fold}\nbench: {units: inch}\n",
    "octagon": "frame: {outline: polygon, sides: 8, across_flats: 15 in, depth: 60 mm}\nhead: {hide: calf}\n"
    "stations: {count: 16}\n",
    "heptagon": "frame: {outline: polygon, sides: 7, across_flats: 15 in, depth: 60 mm}\nhead: {hide: calf}\n"
    "stations: {count: 14, marking: tape}\n",
}
"""Parts of a spec by what is special about it."""


@cache
def plan_of(name: str) -> Plan:
    """Return the plan of the spec `name` of `SPECS`."""
    return plan_from(SPECS[name])


def plan_from(parts: str) -> Plan:
    """Return the plan of a spec with these parts; AssertionError where it has errors."""
    spec, findings = resolve(stdin_chain((_START + parts).encode()))
    assert spec is not None, findings
    return make_plan(start_workings(spec))


def finding(severity: Severity = Severity.WARNING, message: str = "The web is narrow", **fields: str) -> Finding:
    """Return a finding at line 7 of a spec in a folder."""
    return Finding("web-too-narrow", severity, message, Place("specs/lib-13.yaml", 7, 3), **fields)


def section(page: str, heading: str) -> str:
    """Return the part of a page from a heading on to the next of the same depth; ValueError without one."""
    start = page.index(f"{heading}\n")
    depth = heading.split(" ")[0]
    following = re.compile(rf"^{depth} ", re.MULTILINE).search(page, start + len(heading))
    return page[start : following.start() if following else len(page)]


def cells(line: str) -> list[str]:
    """Return the cells of a table's row as a Markdown reader parts them: at bars without a backslash."""
    return [cell.strip() for cell in re.split(r"(?<!\\)\|", line)[1:-1]]


def tables(page: str) -> list[list[list[str]]]:
    """Return all tables of a page, each as rows of cells, the heading first and the rule left out."""
    found: list[list[list[str]]] = []
    inside = False
    for line in page.splitlines():
        if line.startswith("|"):
            if not inside:
                found.append([])
            found[-1].append(cells(line))
        inside = line.startswith("|")
    return [[table[0], *table[2:]] for table in found]
