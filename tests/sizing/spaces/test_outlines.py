"""A space as a stack of outlines."""

from __future__ import annotations

from dataclasses import astuple

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.sizing.spaces.outlines import Insets, Outline, inset_at, leaning, lump_levels, merged, most_up_to
from nookwright.survey.inside import Lean, Lump, Wall

INSET = st.builds(Insets, *(st.floats(0, 20) for _ in range(4)))


@st.composite
def stacks(draw: st.DrawFn) -> tuple[Outline, ...]:
    """Outlines at ascending heights from the floor up."""
    heights = sorted({0.0, *draw(st.lists(st.floats(1, 100), min_size=1, max_size=5))})
    return tuple(Outline(z, draw(INSET)) for z in heights)


@given(stack=stacks(), top=st.floats(0, 120), z=st.floats(0, 120))
def test_what_is_passed_is_the_widest_inset_of_all_heights(stack: tuple[Outline, ...], top: float, z: float) -> None:
    """No height up to the top stands in farther, at any wall."""
    most = most_up_to(stack, top)
    if z <= top:
        assert all(one <= limit + 1e-9 for one, limit in zip(astuple(inset_at(stack, z)), astuple(most), strict=True))


@given(stack=stacks(), top=st.floats(1, 120), z=st.floats(0, 120))
def test_a_stack_that_is_cut_loses_nothing_that_is_passed(stack: tuple[Outline, ...], top: float, z: float) -> None:
    """It ends at the top, where all that was above it counts; below it stays as it was."""
    cut = merged(stack, top)
    assert cut[-1].z == top
    assert astuple(most_up_to(cut, top)) == pytest.approx(astuple(most_up_to(stack, 1000)))
    below = [level.z for level in cut if level.z < top]
    if below and z <= below[-1]:
        assert astuple(inset_at(cut, z)) == pytest.approx(astuple(inset_at(stack, z)), abs=1e-9)


@given(stack=stacks(), wall=st.sampled_from(Wall), out=st.floats(1, 20), z=st.floats(0, 90), high=st.floats(1, 60))
def test_a_lump_stands_in_where_it_is_and_nowhere_else(
    stack: tuple[Outline, ...], wall: Wall, out: float, z: float, high: float
) -> None:
    """By what it stands out and half a millimetre; at other heights and walls all is as before."""
    lump = Lump(what="a screw head", wall=wall, out=out, z=z, height=high)
    top = stack[-1].z
    with_lump = lump_levels(stack, lump, top=top)
    middle = z + high / 2
    if middle <= top:
        assert getattr(inset_at(with_lump, middle), wall.value) >= out + 0.5 - 1e-9
    for other in (z - 1, z + high + 1):
        if 0 <= other <= top:
            assert astuple(inset_at(with_lump, other)) == pytest.approx(astuple(inset_at(stack, other)), abs=1e-6)


def test_a_wall_leans_by_its_height() -> None:
    """Half way up by half; a wall that leans out does not stand in; half a millimetre for the square at the rim."""
    lean = Lean(left=3, right=-2, back=1)
    assert leaning(lean, 80, 80) == Insets(3.5, 0, 0, 1.5)
    assert leaning(lean, 40, 80) == Insets(1.75, 0, 0, 0.75)


def test_upright_walls_stand_in_nowhere() -> None:
    """No outlines at all."""
    assert inset_at((), 10) == Insets()
    assert not Insets().any
