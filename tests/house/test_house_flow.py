"""Data flows one way: imports only look back along the flow, and never in circles."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[2] / "src" / "tauthide"

FLOW = (
    ("text", "findings"),
    ("units",),
    ("reading",),
    ("schema",),
    ("spec",),
    ("figures",),
    ("geometry",),
    ("lacing",),
    ("quantities",),
    ("work",),
    ("plan",),
    ("cutting", "scheduling"),
    ("rules",),
    ("runs",),
    ("suggesting",),
    ("approving",),
    ("running",),
    ("recording",),
    ("learning",),
    ("sheets", "drawings"),
    ("printing",),
    ("papers",),
    ("output",),
    ("explaining",),
    ("comparing",),
    ("batch",),
    ("cli",),
    ("__main__",),
)
"""The stages in the order in which data passes them; those in one row know nothing of each other."""

RANK = {stage: rank for rank, stages in enumerate(FLOW) for stage in stages}


def modules() -> dict[str, Path]:
    """Return the program's modules by dotted name."""
    found = {}
    for path in sorted(PACKAGE.rglob("*.py")):
        parts = ("tauthide", *path.relative_to(PACKAGE).with_suffix("").parts)
        found[".".join(parts[:-1] if parts[-1] == "__init__" else parts)] = path
    return found


MODULES = modules()


def imports(name: str) -> Iterator[str]:
    """Yield the program's own modules that a module imports, also within functions."""
    for node in ast.walk(ast.parse(MODULES[name].read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names if alias.name.split(".")[0] == "tauthide")
        elif isinstance(node, ast.ImportFrom) and node.module and node.module.split(".")[0] == "tauthide":
            assert node.level == 0, f"{name}: relative import"
            for alias in node.names:
                whole = f"{node.module}.{alias.name}"
                yield whole if whole in MODULES else node.module


def stage(name: str) -> str:
    """Return the stage that a module belongs to."""
    return name.split(".")[1] if "." in name else ""


def test_every_stage_stands_in_the_flow() -> None:
    assert {stage(name) for name in MODULES} - {""} == set(RANK)


@pytest.mark.parametrize("name", [name for name in MODULES if "." in name])
def test_imports_look_back(name: str) -> None:
    for imported in imports(name):
        there, here = stage(imported), stage(name)
        if there and there != here:
            assert RANK[there] < RANK[here], f"{name} imports {imported}, which lies ahead of it"


def test_no_circles() -> None:
    finished: set[str] = set()

    def follow(name: str, trail: tuple[str, ...]) -> None:
        assert name not in trail, " > ".join((*trail[trail.index(name) :], name))
        if name not in finished:
            for imported in sorted(set(imports(name)) - {name}):
                follow(imported, (*trail, name))
            finished.add(name)

    for name in MODULES:
        follow(name, ())
    assert finished == set(MODULES)


def test_heavy_imports_wait() -> None:
    """Help and version must not pay for the libraries that compiling needs."""
    for name in ("tauthide", "tauthide.__main__", "tauthide.cli.arguments", "tauthide.cli.exits"):
        tree = ast.parse(MODULES[name].read_text(encoding="utf-8"))
        top = [node for node in tree.body if isinstance(node, (ast.Import, ast.ImportFrom))]
        said = {alias.name for node in top if isinstance(node, ast.Import) for alias in node.names}
        said |= {node.module or "" for node in top if isinstance(node, ast.ImportFrom)}
        assert not said & {"yaml", "jsonschema", "jinja2", "tauthide.cli.commands"}, name
