"""The wheel and the sdist: built, installed in a new environment, and put to work."""

from __future__ import annotations

import json
import subprocess
import sys
import tarfile
import venv
import zipfile
from pathlib import Path

import pytest

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


def test_installed_wheel_compiles_a_demo_spec(dist: Path, tmp_path: Path) -> None:
    environment = tmp_path / "venv"
    venv.create(environment, with_pip=True)
    scripts = environment / ("Scripts" if sys.platform == "win32" else "bin")
    install = [str(scripts / "python"), "-m", "pip", "install", "--quiet", str(only(dist, ".whl"))]
    subprocess.run(install, check=True, capture_output=True)
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
