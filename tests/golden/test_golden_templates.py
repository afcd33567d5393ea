"""Hashes of the true-size templates of the demo specs: made by our own code alone, they are the same on any machine.

Rewrite them with `pytest tests/golden --rewrite-golden`, after a look at the pages themselves.
"""

from __future__ import annotations

import hashlib
from pathlib import Path

import pytest

from tauthide.batch.compiling import compile_input
from tauthide.batch.inputs import find_inputs, show_path
from tauthide.printing.pages import render_template_page
from tauthide.printing.paper import PAPERS
from tauthide.spec.chain import Library

ROOT = Path(__file__).parents[2]
HASHES = Path(__file__).parent / "templates.sha256"


def _specs() -> list[Path]:
    return sorted(
        path for path in (ROOT / "specs").glob("lib-*.yaml") if not path.name.endswith(".approval.yaml")
    )  # fmt: skip


def test_same_bytes(request: pytest.FixtureRequest) -> None:
    library = Library(show_path)
    lines = []
    for item in find_inputs(map(str, _specs()), b"").items:
        plan = compile_input(item, library).plan
        assert plan is not None
        for paper in PAPERS:
            total = hashlib.sha256(render_template_page(plan, paper)).hexdigest()
            lines.append(f"{total}  {plan.spec.drum}/template.html {paper}\n")
    assert len(lines) == len(PAPERS) * len(_specs())
    if request.config.getoption("--rewrite-golden"):
        HASHES.write_text("".join(lines), encoding="ascii")
    assert "".join(lines) == HASHES.read_text(encoding="ascii")
