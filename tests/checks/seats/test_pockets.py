"""Pockets and shoes, tight and loose, measured in the files."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import pytest

from nookwright.checks.seats.pockets import pockets_in
from nookwright.exchange.kit import KitLot, KitPocket, KitSize, LotPlace
from nookwright.parts.cradles.cradle import Pockets, cradle
from nookwright.parts.shoes.shoe import Owned, ShoeSpec, shoe, shoe_cells
from nookwright.sizing.lot_sizes import fit_of, pocket_of, terms_of
from nookwright.sizing.printers.household import household_of
from nookwright.sizing.ways import capacity
from nookwright.survey.models import Lot

from .conftest import cell, cylinder

if TYPE_CHECKING:
    import manifold3d

    from nookwright.module.module import Module

    from .conftest import Bench

MIDDLES = ((17.7, 17.7), (53.7, 17.7))


def asked(bench: Bench, **keys: Any) -> tuple[Lot, float]:  # noqa: ANN401 - any key of a lot
    """A lot of two phials, all of them measured, and the pocket that the room asks for."""
    content = {"id": "phials", "count": 2, "shape": "round", "diameter": [24.0, 24.1], "height": 40}
    lot = Lot.model_validate(content | {"measured": "all", "grow_percent": 0} | keys)
    terms = terms_of(bench.room, household_of(bench.room).envelope)
    return lot, round(pocket_of(lot, terms, pockets=capacity(lot)).pocket, 2)


def cradled(lined: Bench, module: Module, narrower: float = 0.0, **keys: Any) -> Bench:  # noqa: ANN401
    """Those phials in a cradle, its first pocket narrower than drawn by some."""
    lot, size = asked(lined, **keys)
    part = cradle(
        module, cols=4, rows=2, height=30.0, pockets=Pockets(size, tuple(x for x, _ in MIDDLES), (MIDDLES[0][1],))
    )

    def spoil(solid: manifold3d.Manifold) -> manifold3d.Manifold:
        outer = cylinder(4.4, 30.0, size / 2 + 1.2, size / 2 + 1.2, MIDDLES[0])
        bore = cylinder(4.4, 31.0, (size - narrower) / 2, (size - narrower) / 2, MIDDLES[0])
        return solid + outer - bore

    bench = lined.having("cradle", part, cell(0, 0), on=("panel",), spoil=spoil if narrower else None)
    at = tuple((x, y, module.seat.dome) for x, y in MIDDLES)
    place = LotPlace(
        placement="cradle", part="cradle", count=2, stance="upright", size=(24.1, 24.1, 40), round_axis="z", at=at
    )
    pocket = KitPocket(
        fit=fit_of(lot).value, measured=24.1, limit=0.0, printer=0.0, clearance=0.4, size=size, confidence=0.95,
        calibrated=False,
    )  # fmt: skip
    sizes = KitSize(
        dimension="diameter", readings=(24.0, 24.1), published=False, limit=24.1, confidence=0.95, process="",
        tolerance=0.0, source="", pocket=pocket,
    )  # fmt: skip
    kept = KitLot(id="phials", name="Phials", count=2, mass_g=1, places=(place,), sizes=(sizes,))
    room = lined.room.model_copy(update={"lot": (lot,)})
    return replace(bench, kit=bench.kit.model_copy(update={"lots": (kept,)}), room=room)


@pytest.mark.parametrize("narrower", [0.0, 0.3])
def test_the_narrowest_pocket_is_measured(lined: Bench, module: Module, narrower: float) -> None:
    """Its diameter to two hundredths, and which of the two it is."""
    bench = cradled(lined, module, narrower)
    _, size = asked(lined)
    pockets = pockets_in(bench.members["cradle"], bench.kit.lots[0].places[0])
    tightest = min(pockets, key=lambda each: each.narrow)
    assert tightest.narrow == pytest.approx(size - narrower, abs=0.025)
    if narrower:
        assert tightest.at == pytest.approx(MIDDLES[0])


@pytest.mark.parametrize(
    ("narrower", "codes"),
    [(0.0, []), (0.04, []), (0.1, ["pocket-tight"]), (0.4, ["pocket-tight"]), (-0.04, []), (-0.1, ["pocket-loose"])],
)
def test_a_pocket_of_another_size_stops(
    lined: Bench, module: Module, narrower: float, codes: list[str]
) -> None:  # fmt: skip
    """A tenth smaller or larger than its sum; four hundredths are the noise of its mesh."""
    wrong = cradled(lined, module, narrower).wrong()
    assert [code for _, code, _ in wrong] == codes
    assert {severity for severity, _, _ in wrong} <= {"stop"}


@pytest.mark.parametrize(("narrower", "how"), [(0.4, "tight"), (-0.4, "wide")])
def test_one_bad_pocket_of_two_is_counted(lined: Bench, module: Module, narrower: float, how: str) -> None:
    """It is said how many of the pockets are wrong, and where the worst is, whatever the others are like."""
    said = cradled(lined, module, narrower).said("pocket-tight" if narrower > 0 else "pocket-loose")
    assert f"Of its 2 pockets 1 is too {how}. The worst in cradle" in said.text
    assert "17.7 mm from its left and 17.7 mm from its front" in said.text


@pytest.mark.parametrize(("upper", "codes"), [(0.04, []), (0.4, ["pocket-loose"])])
def test_a_pocket_that_is_wide_at_its_mouth_alone_lets_its_thing_lean(
    lined: Bench, module: Module, upper: float, codes: list[str]
) -> None:
    """One of two pockets is right at its bottom and too wide in its upper half: the widest place counts."""
    bench = cradled(lined, module)
    _, size = asked(lined)
    cone = cylinder(17.0, 31.0, (size + upper) / 2, (size + upper) / 2, MIDDLES[0])
    part = cradle(
        module, cols=4, rows=2, height=30.0, pockets=Pockets(size, tuple(x for x, _ in MIDDLES), (MIDDLES[0][1],))
    )
    other = lined.having("cradle", part, cell(0, 0), on=("panel",), spoil=lambda solid: solid - cone)
    spoilt = replace(bench, shapes=bench.shapes | {"cradle.stl": other.shapes["cradle.stl"]})
    assert [code for _, code, _ in spoilt.wrong()] == codes


def test_a_tight_pocket_says_what_is_left(lined: Bench, module: Module) -> None:
    """0.4 mm small, nothing is left of the clearance of an easy fit."""
    said = cradled(lined, module, 0.4).said("pocket-tight")
    assert said.subject == "phials"
    assert said.against is not None
    assert said.against.computed == pytest.approx(0.0, abs=0.03)
    assert said.against.limit == pytest.approx(0.2)
    assert "'easy' asks for" in said.text


def test_a_lot_that_outgrew_its_kit_is_found(lined: Bench, module: Module) -> None:
    """The room now says 24.6 mm, the pockets were drawn for 24.1: what is worked out anew is what counts."""
    bench = cradled(lined, module)
    larger, _ = asked(lined, diameter=[24.0, 24.6])
    grown = replace(bench, room=bench.room.model_copy(update={"lot": (larger,)}))
    assert ("stop", "pocket-tight", "phials") in grown.wrong()


def test_quiet_things_that_differ_much_may_rattle(lined: Bench, module: Module) -> None:
    """The smallest is 2 mm smaller than the largest: said once, and only where quiet is asked for."""
    sizes = [22.1, 24.1]
    assert "pocket-loose" not in [one.code for one in cradled(lined, module, diameter=sizes).findings()]
    said = cradled(lined, module, diameter=sizes, quiet=True).said("pocket-loose")
    assert said.severity.value == "note"
    assert said.text.startswith("Phials should lie quietly")


def shod(lined: Bench, module: Module, larger: float) -> Bench:
    """A box of 70 x 50 on a shoe, larger than it was measured by some."""
    owned = Owned(70.0, 50.0, radius=8.0)
    cols, rows = shoe_cells(module, owned, 24.0)
    part = shoe(module, ShoeSpec(owned, cols, rows, 24.0))
    bench = lined.having("shoe", part, cell(0, 0), on=("panel",))
    middle = (part.size[0] / 2, part.size[1] / 2, module.seat.dome)
    place = LotPlace(
        placement="shoe", part="shoe", count=1, stance="in a box", size=(70 + larger, 50 + larger, 40), round_axis="",
        at=(middle,), box="tin", corner_radius=8.0,
    )  # fmt: skip
    lot = Lot.model_validate({"id": "tea", "count": 1, "shape": "box", "width": 9, "depth": 9, "height": 9})
    kept = KitLot(id="tea", name="Tea", count=1, mass_g=1, places=(place,))
    room = lined.room.model_copy(update={"lot": (lot,)})
    return replace(bench, kit=bench.kit.model_copy(update={"lots": (kept,)}), room=room)


@pytest.mark.parametrize(("larger", "found"), [(0.0, False), (0.2, False), (0.8, True)])
def test_a_box_that_does_not_go_into_its_shoe_is_found(
    lined: Bench, module: Module, larger: float, found: bool  # noqa: FBT001
) -> None:  # fmt: skip
    """With 1 mm of room printers may take 0.33; a box 0.2 larger goes in, at its corners too, one of 0.8 does not."""
    assert (("stop", "pocket-tight", "tea") in shod(lined, module, larger).wrong()) is found


@pytest.mark.parametrize(("larger", "found"), [(0.0, False), (-0.9, False), (-1.5, True)])
def test_a_box_that_moves_about_on_its_shoe_is_found(
    lined: Bench, module: Module, larger: float, found: bool  # noqa: FBT001
) -> None:  # fmt: skip
    """A box 0.9 smaller than its shoe was made for has 1.9 mm of room and stands still, one 1.5 smaller rocks."""
    assert (("warn", "pocket-loose", "tea") in shod(lined, module, larger).wrong()) is found
