"""What is assumed of a thing: never in place of what was typed, and only as long as nobody knows better."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.studio.assumed import SIDES, assumed_of, follows, is_assumed, mass_of

BOX = {"shape": "box", "width": 20, "depth": 10, "height": 5}
SOME = st.dictionaries(st.sampled_from(SIDES), st.integers(1, 300), max_size=5)


def test_a_mass_is_that_of_water_of_the_same_size() -> None:
    """In whatever unit the room counts; the largest of several readings counts."""
    assert mass_of(BOX, "mm") == 1.0
    assert mass_of(BOX, "cm") == 1000.0
    assert (
        mass_of({"shape": "box", "width": ["2 cm", 19.5], "depth": 10, "height": {"floor": 5, "rim": 4}}, "mm") == 1.0
    )


@pytest.mark.parametrize(
    "lot",
    [
        {},
        {"shape": "box"},
        {**BOX, "shape": "ball"},
        {**BOX, "width": "wide"},
        {**BOX, "width": 0},
        {**BOX, "width": []},
    ],
)
def test_nothing_is_assumed_of_a_size_that_is_not_known(lot: dict[str, object]) -> None:
    """Missing, unknown, unreadable or nought."""
    assert mass_of(lot, "mm") is None


@given(SOME, st.booleans(), st.booleans())
def test_what_was_typed_is_never_replaced(sides: dict[str, int], shaped: bool, weighed: bool) -> None:  # noqa: FBT001
    """Only keys that are missing are assumed."""
    lot: dict[str, object] = {**sides, **({"shape": "round"} if shaped else {}), **({"mass_g": 7} if weighed else {})}
    assert not set(assumed_of(lot, "mm")) & set(lot)


def test_the_shape_follows_from_the_sides() -> None:
    """Where only one shape has all of them."""
    assert assumed_of({"width": 2, "depth": 2, "thickness": 1}, "mm")["shape"] == "flat"
    assert assumed_of({"diameter": 2}, "mm") == {}
    assert assumed_of({"standard": "R6", "diameter": 2, "height": 3}, "mm") == {}


def test_a_mass_that_was_assumed_follows_the_size_until_one_is_typed() -> None:
    """And is one that was never weighed, by what it is."""
    lot = {**BOX, **follows({k: v for k, v in BOX.items() if k != "height"}, "height", 5, "mm")}
    assert lot["mass_g"] == 1
    assert is_assumed(lot, "mm")
    assert follows(lot, "height", 10, "mm") == {"mass_g": 2}
    weighed = {**lot, "mass_g": 33}
    assert not is_assumed(weighed, "mm")
    assert follows(weighed, "height", 10, "mm") == {}
    assert follows(lot, "mass_g", 33, "mm") == {}
    assert follows(weighed, "mass_g", None, "mm") == {"mass_g": 1}  # emptied, it is assumed again
    assert follows(lot, "mass_g", None, "mm") == {"mass_g": 1}


def test_a_published_size_and_a_shape_take_each_others_place() -> None:
    """What no longer holds goes; a designation that nobody knows takes nothing out."""
    lot = {**BOX, "mass_g": 1}
    assert follows(lot, "standard", "R6", "mm") == dict.fromkeys(("shape", "width", "depth", "height", "mass_g"))
    assert follows({**BOX, "mass_g": 5}, "standard", "R6", "mm") == dict.fromkeys(("shape", "width", "depth", "height"))
    assert follows(lot, "standard", "nonsense", "mm") == {}
    assert follows({"standard": "R6"}, "shape", "box", "mm") == {"standard": None}
    assert follows(lot, "shape", "round", "mm") == {"width": None, "depth": None}
