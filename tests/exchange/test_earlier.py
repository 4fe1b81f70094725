"""What stands where in a kit, and in the kit that a folder holds."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.build import sketch
from nookwright.exchange.earlier import earlier_stands, stands_of_kit
from nookwright.exchange.kit_file import write_kit
from nookwright.layout.changes import What, changes, stands_of

if TYPE_CHECKING:
    from pathlib import Path

    from nookwright.build import Designed


def test_a_kit_stands_as_its_plan_says(tiny: Designed) -> None:
    """Every part that the layout placed, by its lot, where it is and as large as it lies; to a thousandth."""
    plan = tiny.plan
    planned = {(one.name, one.space): one for one in stands_of(plan.layout, plan.spaces, plan.module)}
    found = stands_of_kit(sketch(tiny, "0" * 64))
    assert len(found) == len(planned) > 2
    for one in found:
        other = planned[one.name, one.space]
        assert (one.x, one.y, one.z) == pytest.approx((other.x, other.y, other.z), abs=1e-3)
        assert (one.width, one.depth, one.height) == pytest.approx((other.width, other.depth, other.height), abs=1e-3)


def test_nothing_changed_against_the_same_kit(tiny: Designed, tmp_path: Path) -> None:
    """A kit that is built again has no change; one in which a part was moved has that one."""
    kit = sketch(tiny, "0" * 64)
    write_kit(tmp_path / "kit.json", kit)
    before = earlier_stands(tmp_path)
    assert before is not None
    assert changes(before, stands_of_kit(kit)) == ()
    moved = [one for one in kit.placements if one.label == "dice"]
    rows = moved[0].space_from_part
    matrix = ((*rows[0][:3], rows[0][3] + 18.0), *rows[1:])
    others = tuple(one for one in kit.placements if one is not moved[0])
    after = kit.model_copy(update={"placements": (*others, moved[0].model_copy(update={"space_from_part": matrix}))})
    found = changes(before, stands_of_kit(after))
    assert [(one.what, one.name) for one in found] == [(What.MOVED, "dice")]
    assert "18 mm to the right" in found[0].text


@pytest.mark.parametrize("text", [None, "{}", "no kit"])
def test_a_folder_without_a_kit_that_can_be_read_has_no_stands(tmp_path: Path, text: str | None) -> None:
    """No folder, another format, no JSON at all: nothing is compared, and nothing breaks."""
    if text is not None:
        (tmp_path / "kit.json").write_text(text, encoding="utf-8")
    assert earlier_stands(tmp_path) is None
