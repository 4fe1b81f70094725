"""The page on strength."""

from __future__ import annotations

import re
from pathlib import Path

from tests.checks.strength.test_check import OURS

from nookwright.checks.strength.plastics import TABLE
from nookwright.checks.strength.reference import PAGE_FILE, plastics_table, renew, renewed

DOCS = Path(__file__).parents[3] / "docs"


def test_the_table_of_plastics_is_current() -> None:
    """Renew it with ``python -m nookwright.checks.strength.reference docs``."""
    page = (DOCS / PAGE_FILE).read_text(encoding="utf-8")
    assert renewed(page) == page
    assert plastics_table() in page


def test_a_stale_table_is_renewed(tmp_path: Path) -> None:
    """And a page without its marks is left as it is."""
    page = (DOCS / PAGE_FILE).read_text(encoding="utf-8")
    (tmp_path / PAGE_FILE).write_text(page.replace("| modulus |", "| stale |"), encoding="utf-8")
    assert renew(tmp_path).read_text(encoding="utf-8") == page
    assert renewed("no marks") == "no marks"


def test_every_figure_of_every_plastic_is_on_the_page_with_its_source() -> None:
    """Ten figures a kind."""
    table = plastics_table()
    for one in TABLE.values():
        assert f"* **{one.name}**" in table
    assert len(re.findall(r"^    \* ", table, re.MULTILINE)) == 10 * len(TABLE)


def test_the_page_names_every_finding() -> None:
    """Those of the checks, and no others."""
    page = (DOCS / PAGE_FILE).read_text(encoding="utf-8")
    named = set(re.findall(r"`([a-z]+(?:-[a-z]+)+)`", page))
    assert named == OURS
    sources = (DOCS.parent / "src" / "nookwright" / "checks" / "strength").glob("*.py")
    raised = {code for path in sources for code in re.findall(r'"([a-z]+(?:-[a-z]+)+)"', path.read_text("utf-8"))}
    assert raised == OURS
