"""What a layout costs, in words: every part of the cost has its own, and nothing of the sum is lost in groups."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from nookwright.documents.page_view import COSTS
from nookwright.documents.words import layout_points
from nookwright.ground.progress import Silent
from nookwright.studio import work
from nookwright.studio.pages.cost_words import GROUPS, grouped
from nookwright.studio.planned import planned_of
from nookwright.studio.room_text import with_value
from nookwright.studio.sheets import Cost, Sheets

if TYPE_CHECKING:
    from collections.abc import Iterable


def _titles() -> list[str]:
    return [words.title for parts in GROUPS.values() for words in parts.values()]


def test_every_part_of_the_cost_has_words_of_its_own() -> None:
    """Those that the documents know too, and no title twice; none is the word that the program has for it."""
    named = {name for parts in GROUPS.values() for name in parts}
    assert named == set(COSTS)
    assert len(set(_titles())) == len(_titles())
    assert not {title.lower() for title in _titles()} & named


def test_groups_come_to_the_sum(planned: dict[str, Any]) -> None:
    """The dearest first in each; what is nought is left out; what nobody has words for is still there."""
    sheets = Sheets.model_validate_json(Path(planned["sheets"]).read_text(encoding="utf-8"))
    cost = (*sheets.cost, Cost(name="a new one", value=3.0), Cost(name="rows", value=0.0))
    found = grouped(cost)
    assert sum(value for rows in found.values() for _, value in rows) == pytest.approx(sheets.total + 3.0)
    assert found["Besides"][0][0].title == "A new one"
    for rows in found.values():
        assert _falling(value for _, value in rows)


def _falling(values: Iterable[float]) -> bool:
    listed = list(values)
    return listed == sorted(listed, reverse=True)


@pytest.mark.parametrize("style", ["calm", "tightest"])
def test_the_studio_and_the_command_line_say_the_same_points(tiny_file: Path, tmp_path: Path, style: str) -> None:
    """In all, for what goes where, and the proven least of that; of both layouts alike."""
    file = tmp_path / "room.toml"
    text = with_value(tiny_file.read_text(encoding="utf-8"), ("choices", "layout"), style)
    file.write_text(text, encoding="utf-8")
    found = planned_of(work.plan(room=file, out=tmp_path / "planned", progress=Silent()))
    sheets, layout = found.sheets, found.kit.layout
    assert layout.style == style
    assert layout_points(layout) == f"{sheets.total:.1f}, {sheets.counted:.1f}, {sheets.bound:.1f}"
    assert 0 < sheets.bound <= sheets.counted < sheets.total
    assert {one.name for one in sheets.cost} >= {"footprint", "reach", "split", "open", "handy", "sizes"}
