"""What may swap places, and what is said of the rest."""

from __future__ import annotations

from itertools import permutations
from typing import TYPE_CHECKING

import pytest

from nookwright.module.pattern import Pattern
from nookwright.parts.liner.fence import End, FenceSpec, fence
from nookwright.parts.trays.bent_plan import Missing
from nookwright.parts.trays.bent_tray import bent_tray
from nookwright.parts.trays.tray import tray

from .conftest import at, cell

if TYPE_CHECKING:
    import manifold3d

    from nookwright.module.module import Module
    from nookwright.parts.model import Part

    from .conftest import Bench


def said(bench: Bench, start: str = "swap") -> list[tuple[str, str]]:
    """Code and subject of what is said of swapping."""
    return [(one.code, one.subject) for one in bench.findings() if one.code.startswith(start)]


def test_equal_trays_swap_and_nothing_is_said(stood: Bench) -> None:
    """Size and sockets are those of its cells."""
    assert said(stood) == []


def test_whatever_swaps_stands_in_its_equals_place(lined: Bench, module: Module) -> None:
    """Three trays of 3 x 2 cells of different heights and floors, in every order: all of them are held."""
    parts = [tray(module, cols=3, rows=2, height=high, smooth=smooth) for high, smooth in ((24, False), (48, True))]
    parts.append(tray(module, cols=2, rows=3, height=36.0))
    places = ((0, 0), (3, 2), (1, 5))
    for order in permutations(range(3)):
        bench = lined
        for part, (col, row) in zip((parts[n] for n in order), places, strict=True):
            if part is parts[2]:  # turned
                x, y = 1.3 + (col + 3) * 18.0 - 0.6, 1.3 + row * 18.0
                bench = bench.having(f"tray-{col}", part, at(x, y, 0.6, 1))
            else:
                bench = bench.having(f"tray-{col}", part, cell(col, row))
        assert bench.wrong() == []


@pytest.mark.parametrize(("more", "found"), [(0.0, False), (0.04, False), (0.1, True)])
def test_a_part_of_another_size_stops(lined: Bench, small: Part, more: float, found: bool) -> None:  # noqa: FBT001
    """A tenth of a millimetre is a step of sizes; less than half of one is none."""

    def wider(solid: manifold3d.Manifold) -> manifold3d.Manifold:
        return solid.scale([1 + more / 53.4, 1, 1])

    codes = [code for _, code, _ in lined.having("tray", small, cell(1, 2), spoil=wider).wrong()]
    assert ("seat-size" in codes) is found


def test_bent_trays_and_fences_swap_with_their_own_kind(lined: Bench, module: Module) -> None:
    """They have no socket in every cell of their box, or reach past it."""
    bent = bent_tray(module, cols=4, rows=4, missing=Missing(2, 2, 2, 2), height=24.0, picked_by_hand=False)
    bench = lined.having("bent", bent, cell(0, 0))
    bench = bench.having("fence", fence(module, FenceSpec(3, 24.0, End.PLAIN, End.TONGUE)), cell(0, 6))
    assert ("swap-own-kind", "kit") in said(bench)
    assert "fence" in bench.said("swap-own-kind").text


@pytest.mark.parametrize(
    ("level", "pattern", "text"),
    [
        ("full", Pattern.UNDER_LAYOUT, "only under the layout"),
        ("cross", Pattern.CHESSBOARD, "Its liner is cross"),
        ("sparse", Pattern.EVERY_SECOND, "may miss tray"),
        ("full", Pattern.CHESSBOARD, ""),
    ],
)
def test_lean_patterns_say_what_they_give_up(
    lined: Bench, module: Module, level: str, pattern: Pattern, text: str
) -> None:
    """Cones only where the layout needs them, strips, a pattern that is too wide for a tray of 1 x 3 cells."""
    bench = lined.having("tray", tray(module, cols=3, rows=1, height=24.0), cell(0, 0))
    bench = bench.with_liner(level, pattern.value)
    assert said(bench) == ([("swap-pattern", "left")] if text else [])
    if text:
        assert text in bench.said("swap-pattern").text


def test_a_part_that_its_equals_space_is_too_low_for_is_named(lined: Bench, module: Module, small: Part) -> None:
    """A tray of 60 would not clear 50 where its equal of 24 stands; in a space by itself nothing is said."""
    from dataclasses import replace

    high = tray(module, cols=3, rows=2, height=60.0)
    bench = lined.having("low", small, cell(0, 0)).having("high", high, cell(3, 0))
    space = bench.kit.spaces[0]
    shallow = space.model_copy(update={"id": "shallow", "height": 50.0})
    moved = tuple(
        one.model_copy(update={"space": "shallow"}) if one.id == "low" else one for one in bench.kit.placements
    )
    kit = bench.kit.model_copy(update={"spaces": (space, shallow), "placements": moved})
    assert ("swap-height", "shallow") in said(replace(bench, kit=kit))
    assert said(bench) == []
