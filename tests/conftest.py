"""Switches of the test run."""

from __future__ import annotations

import pytest

pytest.register_assert_rewrite("rule_cases")


def pytest_addoption(parser: pytest.Parser) -> None:
    """Add the switch that rewrites the golden files."""
    parser.addoption(
        "--rewrite-golden",
        action="store_true",
        help="rewrite the golden files instead of comparing with them",
    )
