"""Without a browser prints are not measured: that is said, and in CI it is a failure."""

from __future__ import annotations

from pathlib import Path

import pytest

from printed import need


@pytest.fixture(autouse=True)
def no_programs(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("PATH", str(tmp_path))


def test_skipped_with_the_reason(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("CI", raising=False)
    with pytest.raises(pytest.skip.Exception, match="chromium or chrome is not installed"):
        need("chromium", "chrome")


def test_fails_in_ci(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("CI", "true")
    with pytest.raises(pytest.fail.Exception, match="CI must measure prints"):
        need("chromium")
