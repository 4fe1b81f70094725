"""The page about proving says what the program does."""

from __future__ import annotations

from pathlib import Path

from scripts.renew_proving import renewed

PAGE = Path(__file__).resolve().parents[2] / "docs" / "proving.md"


def test_the_tables_are_current() -> None:
    """docs/proving.md is renewed by scripts/renew_proving.py."""
    page = PAGE.read_text(encoding="utf-8")
    assert renewed(page) == page


def test_every_code_that_a_fault_comes_to_is_on_the_page() -> None:
    """The table of codes is read from the source; it has every code that the table of faults names."""
    page = PAGE.read_text(encoding="utf-8")
    faults, codes = page.split("## All codes")
    named = {line.split("`")[1] for line in faults.splitlines() if line.count("|") > 5 and "`" in line}
    assert named
    assert named <= {line.split("`")[1] for line in codes.splitlines() if line.startswith("| `")}
