"""What the README shows to be copied: it can be read, and the program takes every command of it."""

from __future__ import annotations

import re
import shlex
import subprocess
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import yaml

from tauthide.cli.arguments import make_parser
from workshops import Workshop, command, spec_text, surroundings, workshop

__all__ = ["workshop"]

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")
COMMANDS = next(set(action.choices) for action in make_parser()._actions if action.dest == "command" and action.choices)


def blocks(language: str) -> list[str]:
    """Return the blocks of code in a language."""
    return re.findall(rf"^```{language}\n(.*?)^```$", README, re.MULTILINE | re.DOTALL)


def documents() -> Iterator[Any]:
    """Yield what the blocks of YAML hold; each must be sound."""
    for block in blocks("yaml"):
        yield yaml.safe_load(block)


def workflow() -> dict[Any, Any]:
    """Return the example of a workflow."""
    (found,) = (document for document in documents() if isinstance(document, dict) and "jobs" in document)
    return found


def steps() -> list[dict[str, Any]]:
    """Return the steps of its only job."""
    (job,) = workflow()["jobs"].values()
    found: list[dict[str, Any]] = job["steps"]
    return found


def shell_commands() -> list[str]:
    """Return the commands of ours that the workflow runs, without where their output goes."""
    lines = [line.strip() for step in steps() for line in step.get("run", "").splitlines()]
    return [re.split(r" (?:>>?|\|\|) ", line)[0] for line in lines if line.startswith("tauthide ")]


def test_workflow_has_what_github_wants() -> None:
    # YAML 1.1, which PyYAML reads, takes the key `on` for true.
    assert set(workflow()) == {"name", True, "permissions", "jobs"}
    for step in steps():
        assert ("uses" in step) != ("run" in step)
        assert set(step) <= {"name", "if", "uses", "with", "env", "run"}


def test_workflow_checks_verifies_and_compares() -> None:
    assert [line.split()[1] for line in shell_commands()] == ["check", "build", "compare"]


@pytest.mark.parametrize("line", shell_commands())
def test_workflow_commands_are_taken(line: str) -> None:
    _, *arguments = shlex.split(line)
    parsed = make_parser().parse_args(arguments)
    assert parsed.command == arguments[0]
    assert parsed.format == arguments[arguments.index("--format") + 1]


def test_workflow_steps_run(workshop: Workshop, tmp_path: Path) -> None:
    """The steps with a single command, as a runner's shell runs them: findings fail them, and are annotated."""
    workshop.write("specs/a.yaml", spec_text("A").replace("16", "17"))
    summary = tmp_path / "summary.md"
    for step in steps():
        if not step.get("run", "").startswith("tauthide "):
            continue
        script = step["run"].replace("tauthide", shlex.join(command()), 1)
        done = subprocess.run(
            ["bash", "-e", "-o", "pipefail", "-c", script],
            cwd=workshop.folder, env=surroundings(GITHUB_STEP_SUMMARY=str(summary)),
            capture_output=True, text=True, check=False,
        )  # fmt: skip
        assert done.returncode == 1, done.stderr
        assert "::error file=specs/a.yaml,line=5,col=19,endColumn=21,title=odd-station-count::" in done.stdout
    assert summary.read_text(encoding="utf-8").count("### tauthide ") == 2


def test_hooks_of_the_example_are_there() -> None:
    offered = {hook["id"] for hook in yaml.safe_load((ROOT / ".pre-commit-hooks.yaml").read_text(encoding="utf-8"))}
    (config,) = (document for document in documents() if isinstance(document, dict) and "repos" in document)
    hooks = [hook for repository in config["repos"] for hook in repository["hooks"]]
    assert {hook["id"] for hook in hooks} == offered
    (args,) = [hook["args"] for hook in hooks if "args" in hook]
    assert make_parser().parse_args(["build", "--verify", *args]).out == "sheets"


def test_table_of_commands_is_whole() -> None:
    told = set(re.findall(r"^\| `tauthide ([a-z]+)", README, re.MULTILINE))
    assert told == COMMANDS
