from __future__ import annotations

from itertools import product
from typing import TYPE_CHECKING

import pytest

from nookwright.ground.errors import RecipeError
from nookwright.layout.liner import EDGE_INSET, PanelSpec
from nookwright.parts.liner.panel import panel
from nookwright.parts.risers.riser import RiserInside, RiserSpec, RiserTop, riser, riser_height
from nookwright.parts.trays.tray import tray

if TYPE_CHECKING:
    from tests.parts.conftest import Bench

    from nookwright.module.module import Module

INSIDES = list(RiserInside)


def test_a_raised_tray_ends_where_a_higher_one_does(module: Module) -> None:
    """On a deck, and on a panel that lies on a smooth top, by whole rises: 3 rises and a tray of 12 are 30."""
    seat = module.seat
    assert riser_height(module, 3, RiserTop.DECK) + 12 == pytest.approx(30)
    assert riser_height(module, 3, RiserTop.SMOOTH) + seat.panel + 12 == pytest.approx(30)


@pytest.mark.parametrize("inside", INSIDES)
@pytest.mark.parametrize("first", [True, False])
def test_a_tray_sits_on_a_deck(bench: Bench, module: Module, inside: RiserInside, *, first: bool) -> None:
    """In its place it shares nothing with the riser; it cannot slide; the walls of both carry each other."""
    below = bench.solid(riser(module, RiserSpec(3, 2, 3, inside, first_has_cone=first)))
    upper = bench.solid(tray(module, cols=3, rows=2, height=12, smooth=False), z=18.0)
    assert bench.shared_mm3(upper, below) < 0.001
    for x, y in ((0.6, 0), (-0.6, 0), (0, 0.6), (0, -0.6)):
        assert bench.shared_mm3(upper.translate([x, y, 0]), below) > 0.001
    assert bench.shared_mm3(upper.translate([0, 0, -0.05]), below) > 1.0


@pytest.mark.parametrize("inside", INSIDES)
def test_a_riser_sits_on_the_liner(bench: Bench, module: Module, inside: RiserInside) -> None:
    """Its underside is that of all seated parts."""
    liner = bench.solid(panel(module, PanelSpec(4, 4, (), first_has_cone=True, slots=())))
    for col in (0, 1):
        at = col * module.pitch + 0.3 - EDGE_INSET
        part = bench.solid(riser(module, RiserSpec(3, 2, 2, inside)), x=at, y=0.3 - EDGE_INSET, z=module.seat.panel)
        assert bench.shared_mm3(part, liner) < 0.001


@pytest.mark.parametrize(("inside", "top"), list(product(INSIDES, RiserTop)))
def test_the_top_is_flat_but_for_cones(bench: Bench, module: Module, inside: RiserInside, top: RiserTop) -> None:
    """Three of six cells carry one, in the chessboard's pattern, or none does."""
    part = riser(module, RiserSpec(3, 2, 3, inside, top))
    body, high = bench.solid(part), riser_height(module, 3, top)
    discs = [disc for disc in body.slice(high + 0.01).decompose() if not disc.is_empty()]
    assert len(discs) == (3 if top is RiserTop.DECK else 0)
    assert part.size[2] == pytest.approx(high + (3.0 if top is RiserTop.DECK else 0.0))


def test_a_column_carries_each_cone_of_a_ribbed_riser(bench: Bench, module: Module) -> None:
    """Below the deck its section contains the disc of each cone and a shoulder of 0.9 round it."""
    body = bench.solid(riser(module, RiserSpec(3, 2, 3)))
    cones, below = body.slice(18.01), body.slice(17.9)
    assert (cones.offset(0.9 - 0.02) - below).area() < 1e-3


def test_a_ribbed_riser_is_lighter_than_a_full_one(module: Module) -> None:
    """By what a printer would lay for each."""
    ribbed, full = (riser(module, RiserSpec(6, 4, 6, inside)).plastic for inside in (INSIDES[1], INSIDES[0]))
    assert INSIDES == [RiserInside.FULL, RiserInside.RIBBED]
    assert ribbed.laid_mm3 < full.laid_mm3


@pytest.mark.parametrize("top", list(RiserTop))
def test_a_riser_lower_than_its_floor_is_refused(module: Module, top: RiserTop) -> None:
    """One rise of 6 is lower than sockets, roof and 2 mm; two are what the message says."""
    with pytest.raises(RecipeError, match=r"found 1 rises, allowed: at least 2. Take more rises"):
        riser(module, RiserSpec(2, 2, 1, top=top))
    assert riser(module, RiserSpec(2, 2, 2, top=top)).size[2] > 11
