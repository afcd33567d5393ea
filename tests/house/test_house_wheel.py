"""The wheel and the sdist: built, installed in a new environment, and put to work."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
import tarfile
import venv
import zipfile
from pathlib import Path

import pytest

from tauthide.cli.arguments import make_parser
from tauthide.schema.store import schema

ROOT = Path(__file__).parents[2]
SCHEMAS = sorted(path.name for path in (ROOT / "schemas").glob("*.json"))

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def dist(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("dist")
    # An sdist, and the wheel from it, as an installer would make them.
    subprocess.run(
        [sys.executable, "-m", "build", "--no-isolation", "--outdir", str(folder), str(ROOT)],
        check=True, capture_output=True,
    )  # fmt: skip
    return folder


def only(folder: Path, ending: str) -> Path:
    """Return the one file with this ending."""
    found = list(folder.glob(f"*{ending}"))
    assert len(found) == 1
    return found[0]


def test_sdist_has_what_it_needs(dist: Path) -> None:
    with tarfile.open(only(dist, ".tar.gz")) as archive:
        names = {name.partition("/")[2] for name in archive.getnames()}
    assert {f"schemas/{name}" for name in SCHEMAS} <= names
    assert {
        "README.md",
        "LICENSE",
        "pyproject.toml",
        "src/tauthide/__main__.py",
        "specs/lib-13.yaml",
    } <= names


def test_wheel_has_schemas_and_templates(dist: Path) -> None:
    with zipfile.ZipFile(only(dist, ".whl")) as archive:
        names = set(archive.namelist())
        for name in SCHEMAS:
            assert archive.read(f"tauthide/schemas/{name}") == (ROOT / "schemas" / name).read_bytes()
    templates = {path.relative_to(ROOT / "src").as_posix() for path in (ROOT / "src").rglob("*.j2")}
    assert templates
    assert templates <= names
    assert "tauthide/py.typed" in names


@pytest.fixture(scope="module")
def environment(dist: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("installed") / "venv"
    venv.create(folder, with_pip=True)
    scripts = folder / ("Scripts" if sys.platform == "win32" else "bin")
    install = [str(scripts / "python"), "-m", "pip", "install", "--quiet", str(only(dist, ".whl"))]
    subprocess.run(install, check=True, capture_output=True)
    return folder


COMMANDS = next(set(action.choices) for action in make_parser()._actions if action.dest == "command" and action.choices)
"""What the parser knows, so what manual and completions must know."""


def test_manual_page_is_installed(environment: Path) -> None:
    page = environment / "share" / "man" / "man1" / "tauthide.1"
    text = page.read_text(encoding="utf-8")
    assert text.startswith('.TH TAUTHIDE "1"')
    for command in COMMANDS:
        assert re.search(rf"^\.SH COMMAND .*'tauthide {command}'", text, re.MULTILINE), command
    if shutil.which("man"):
        shown = subprocess.run(
            ["man", "--local-file", "--warnings", str(page)],
            env={**os.environ, "MANWIDTH": "100", "LC_ALL": "C.UTF-8"}, capture_output=True, text=True, check=True,
        )  # fmt: skip
        assert "read and validate specs" in " ".join(shown.stdout.split())
        assert shown.stderr == ""


def test_completions_are_installed(environment: Path) -> None:
    bash = environment / "share" / "bash-completion" / "completions" / "tauthide"
    # As bash asks: the function that the file names, with the line so far.
    asked = (
        f". {bash}; COMP_WORDS=(tauthide '%s'); COMP_CWORD=1; "
        "$(complete -p tauthide | sed 's/.*-F \\([^ ]*\\).*/\\1/') tauthide '%s' tauthide; echo \"${COMPREPLY[@]}\""
    )

    def offered(start: str) -> set[str]:
        done = subprocess.run(
            ["bash", "-c", asked % (start, start)], capture_output=True, text=True, check=True
        )  # fmt: skip
        return set(done.stdout.split())

    assert offered("") >= COMMANDS
    assert offered("che") == {"check"}
    for place in ("zsh/site-functions/_tauthide", "fish/vendor_completions.d/tauthide.fish"):
        text = (environment / "share" / place).read_text(encoding="utf-8")
        assert all(command in text for command in COMMANDS)


def test_installed_program_needs_no_maker_of_pages(environment: Path) -> None:
    (site,) = environment.glob("**/site-packages")
    assert not {path.name for path in site.iterdir()} & {"shtab", "argparse_manpage", "build_hook.py"}


def test_installed_wheel_compiles_a_demo_spec(environment: Path, tmp_path: Path) -> None:
    scripts = environment / ("Scripts" if sys.platform == "win32" else "bin")
    spec = tmp_path / "work" / "lib-13.yaml"
    spec.parent.mkdir()
    spec.write_bytes((ROOT / "specs" / "lib-13.yaml").read_bytes())
    built = subprocess.run(
        [str(scripts / "tauthide"), "build", spec.name, "--out", "out"],
        cwd=spec.parent, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert built.returncode == 0, built.stderr
    plan = json.loads((spec.parent / "out" / "LIB-13" / "plan.json").read_text())
    assert plan["figures"]["holes.count"]["value"] == 32
    asked = "import json; from tauthide.schema.store import schema; print(json.dumps(schema('spec')))"
    read = subprocess.run(
        [str(scripts / "python"), "-c", asked], cwd=tmp_path, capture_output=True, text=True, check=True
    )
    assert json.loads(read.stdout) == schema("spec")
