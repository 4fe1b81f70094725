"""The parts of the docs that follow from the models."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from nookwright.survey.models import Lot, Space
from nookwright.survey.reference import PAGE_FILE, SCHEMA_FILE, key_table, renew, renewed, schema_text, standards_table
from nookwright.survey.standards import all_standards

DOCS = Path(__file__).parents[2] / "docs"


def test_the_schema_in_the_docs_is_current() -> None:
    """Renew it with ``python -m nookwright.survey.reference docs``."""
    assert (DOCS / SCHEMA_FILE).read_text(encoding="utf-8") == schema_text()


def test_the_tables_in_the_docs_are_current() -> None:
    """Renew them with ``python -m nookwright.survey.reference docs``."""
    page = (DOCS / PAGE_FILE).read_text(encoding="utf-8")
    assert renewed(page) == page


def test_every_key_and_every_size_is_in_the_docs() -> None:
    """Each with its meaning."""
    page = (DOCS / PAGE_FILE).read_text(encoding="utf-8")
    for model in (Space, Lot):
        for key, field in model.model_fields.items():
            assert f"| `{key}` |" in page
            assert field.description in page if field.description else False
    assert all(f"| `{size.designation}`" in page for size in all_standards())
    assert standards_table().count("\n") == len(all_standards()) + 1


def test_a_table_names_key_values_default_and_meaning() -> None:
    """As a line of Markdown."""
    assert '| `units` | one of "mm", "cm", "in" | `"mm"` | Unit of plain numbers in this file. |' in key_table(
        ("room",)
    )


def test_renewing_twice_changes_nothing_more(tmp_path: Path) -> None:
    """A stale page becomes current and stays so; the files written are named."""
    page = (DOCS / PAGE_FILE).read_text(encoding="utf-8").replace("| `units` |", "| `stale` |")
    (tmp_path / PAGE_FILE).write_text(page, encoding="utf-8")
    assert renew(tmp_path) == (tmp_path / SCHEMA_FILE, tmp_path / PAGE_FILE)
    first = (tmp_path / PAGE_FILE).read_bytes()
    assert first == (DOCS / PAGE_FILE).read_bytes()
    renew(tmp_path)
    assert (tmp_path / PAGE_FILE).read_bytes() == first


def test_a_page_without_a_place_for_a_table_is_refused(tmp_path: Path) -> None:
    """So that no table is ever lost in silence."""
    shutil.copy(DOCS / PAGE_FILE, tmp_path)
    page = (tmp_path / PAGE_FILE).read_text(encoding="utf-8").replace("<!-- lot -->\n", "")
    (tmp_path / PAGE_FILE).write_text(page, encoding="utf-8")
    with pytest.raises(ValueError, match="<!-- lot -->"):
        renew(tmp_path)
