from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.making.savings.keys import applied
from nookwright.making.sawn import strips

if TYPE_CHECKING:
    from collections.abc import Callable

    from nookwright.build import Designed
    from nookwright.making.savings.model import Leaves, Saving

EXACT, RELAID, OF_THE_ROOM = 0.01, 0.10, 0.02


def grams(designed: Designed) -> float:
    """All prints of a room, in closed form."""
    return sum(row.mass_g for row in designed.forecast)


def hours(designed: Designed) -> float:
    """Of printing them, without heating."""
    return sum(row.time_s for row in designed.forecast) / 3600


def test_every_saving_comes_true(
    found: tuple[Saving, ...], bench: Designed, plan_again: Callable[[str], Designed]
) -> None:
    """The lines of each are typed into the room file and the room is planned again: the grams and hours are saved.

    Within 1 %; where the layout is found anew, within a tenth, a fiftieth of the whole room, and one spare tray.
    """
    spare = max(copy.part.plastic.mass_g(1.27) for copy in bench.copies if copy.label == "spare")
    tried = [saving for saving in found if saving.keys]
    assert len({saving.leaves for saving in tried}) >= 7
    for saving in tried:
        after = plan_again(saving.toml)
        within = EXACT * saving.mass_g
        if saving.relaid:
            within = RELAID * saving.mass_g + OF_THE_ROOM * grams(bench) + spare
        assert grams(bench) - grams(after) == pytest.approx(saving.mass_g, abs=within), saving.text
        within_h = within * hours(bench) / grams(bench)
        assert hours(bench) - hours(after) == pytest.approx(saving.time_s / 3600, abs=within_h), saving.text


def test_typed_lines_and_tried_keys_are_the_same_room(
    found: tuple[Saving, ...], bench: Designed, plan_again: Callable[[str], Designed]
) -> None:
    """What is priced is what the lines say: the room with the keys is the room that is loaded with the lines."""
    seen: set[Leaves] = set()
    for saving in found:
        if saving.keys and saving.leaves not in seen:
            seen.add(saving.leaves)
            typed, tried = plan_again(saving.toml).room, applied(bench.room, saving.keys)
            assert typed == tried, saving.text
    assert seen


def test_what_is_done_by_hand_is_left_out_of_the_bill(found: tuple[Saving, ...], bench: Designed) -> None:
    """Long plain fillers, to be sawn: their own grams, and nothing to type."""
    (sawn,) = (saving for saving in found if not saving.keys)
    long = [copy for strip in strips(bench.copies, bench.plan.module, 1000) for copy in strip.copies]
    assert all(copy.part.name.startswith("filler ") for copy in long)
    assert sawn.mass_g == pytest.approx(sum(copy.part.plastic.mass_g(1.27) for copy in long))
    assert f" in place of {len(long)} " in sawn.text
    assert sawn.toml == ""
