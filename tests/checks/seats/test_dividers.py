"""Removable dividers in their slots, tight and loose, measured in the files."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.checks.bodies import matrix_of
from nookwright.checks.seats.dividers import SlotGap, Slotted, about_slot, slot_gap
from nookwright.checks.seats.tolerances import of_two_prints
from nookwright.ground.findings import Severity
from nookwright.module.choice import module_of
from nookwright.module.measured import clearance_growth
from nookwright.module.seat import CLEARANCE_GROWTH
from nookwright.parts.trays.divider import PLAY
from nookwright.parts.trays.divider_play import END_PLAY, RIB_REACH, play_at_end, reach_of_ribs
from nookwright.parts.trays.extras import extras_of
from nookwright.parts.trays.name_strip import Lettering
from nookwright.parts.trays.tray import tray
from nookwright.parts.trays.tray_frame import TrayFrame
from nookwright.parts.trays.tray_options import DividerKind, Dividers, Split, TrayOptions
from nookwright.sizing.printers.calibrate import calibrate
from nookwright.sizing.printers.coupon import features
from nookwright.sizing.printers.errors import ERRORS, Error, unmeasured
from nookwright.sizing.printers.household import Basis, Household, Known, household_of

from .conftest import cell

if TYPE_CHECKING:
    import manifold3d

    from nookwright.exchange.kit import Matrix
    from nookwright.module.module import Module

    from .conftest import Bench

THICK = 1.2


def parted(
    lined: Bench,
    module: Module,
    split: Split = Split.COLUMNS,
    *,
    thicker: float = 0.0,
    longer: float = 0.0,
    cells: int = 5,
) -> Bench:
    """A tray with one of its two dividers, which may be thicker or longer than drawn, still in the middle."""
    options = TrayOptions(dividers=(Dividers(split, DividerKind.REMOVABLE, compartments=3),))
    frame = TrayFrame(module, 6, cells, 36.0, options)
    extra = extras_of(frame, "", Lettering.RAISED)[0]
    ox, oy, oz = (row[3] for row in cell(0, 0)[:3])
    x, y, z = ox + extra.x, oy + extra.y, oz + extra.z
    length = extra.part.size[0]

    def larger(solid: manifold3d.Manifold) -> manifold3d.Manifold:
        return solid.scale([1 + longer / length, 1, 1 + thicker / THICK])

    where: Matrix = (1, 0, 0, x - longer / 2), (0, 0, -1, y + THICK + thicker / 2), (0, 1, 0, z), (0, 0, 0, 1)
    if split is Split.COLUMNS:
        where = (0, 0, 1, x - thicker / 2), (1, 0, 0, y - longer / 2), (0, 1, 0, z), (0, 0, 0, 1)
    bench = lined.having(
        "tray", tray(module, cols=6, rows=cells, height=36.0, options=options), cell(0, 0), on=("panel",)
    )
    return bench.having("divider", extra.part, where, on=("tray",), spoil=larger)


@pytest.mark.parametrize("split", list(Split))
def test_the_room_of_a_divider_is_what_was_drawn(lined: Bench, module: Module, split: Split) -> None:
    """Beside it, at its ends, and how far its ribs reach over an end; both ways across a tray."""
    bench = parted(lined, module, split)
    placed = {one.id: matrix_of(one.space_from_part) for one in bench.kit.placements}
    part = next(one for one in bench.kit.parts if one.id == "divider")
    found = slot_gap(part, bench.members["tray"], np.linalg.inv(placed["tray"]) @ placed["divider"])
    assert found.beside == pytest.approx(float(PLAY), abs=0.01)
    assert found.ends == pytest.approx(2 * float(END_PLAY), abs=0.01)
    assert found.reach == pytest.approx(RIB_REACH - END_PLAY, abs=0.14)  # felt for in steps of 0.13
    assert bench.wrong() == []


def household(*, measured: bool, **off: float) -> Household:
    """One printer at the usual errors, or one whose coupon was read, off by so much beside them."""
    errors = unmeasured()
    if measured:
        there = dict(zip(ERRORS, errors.mean, strict=True)) | {Error[name]: by for name, by in off.items()}
        readings = {
            one.id: [one.nominal + sum(there[error] * by for error, by in one.sensitivities.items())]
            for one in features()
        }
        errors = calibrate(readings)
    return Household((Known("printer", "white", Basis.COUPON if measured else Basis.DEFAULTS, errors),), errors)


@pytest.mark.parametrize("cells", [4, 11, 19])
@pytest.mark.parametrize("measured", [False, True])
def test_a_divider_as_it_is_made_passes_at_every_length(lined: Bench, cells: int, *, measured: bool) -> None:
    """About 70, 200 and 340 mm long, measured in the mesh: it drops in and stays, with a coupon and without."""
    printers = household(measured=measured)
    module = module_of(18.0, 6.0, 0.2, "", clearance_growth(printers))
    bench = parted(lined, module, cells=cells)
    placed = {one.id: matrix_of(one.space_from_part) for one in bench.kit.placements}
    part = next(one for one in bench.kit.parts if one.id == "divider")
    found = slot_gap(part, bench.members["tray"], np.linalg.inv(placed["tray"]) @ placed["divider"])
    assert list(about_slot(Slotted("divider", "tray", part.size[2], found), printers.envelope)) == []


@given(
    room=st.floats(15.0, 900.0),
    measured=st.booleans(),
    scales=st.tuples(st.floats(-4e-4, 4e-4), st.floats(-4e-4, 4e-4)),
    inside=st.floats(-0.2, -0.05),
    outside=st.floats(-0.05, 0.1),
)
def test_play_and_ribs_suit_each_other_at_every_length(
    room: float, scales: tuple[float, float], inside: float, outside: float, *, measured: bool
) -> None:
    """No finding for a divider as it is drawn, whatever its length: at the usual errors, and at what a coupon reads."""
    printers = household(measured=measured, SCALE_X=scales[0], SCALE_Y=scales[1], INSIDE=inside, OUTSIDE=outside)
    known = clearance_growth(printers) < CLEARANCE_GROWTH
    end, rib = play_at_end(room, measured=known), reach_of_ribs(room, measured=known)
    drawn = SlotGap(length=room - 2 * end, beside=float(PLAY), ends=2 * end, reach=rib - end)
    assert list(about_slot(Slotted("divider", "tray", THICK, drawn), printers.envelope)) == []
    assert END_PLAY <= end <= play_at_end(room, measured=False)
    assert not known or end < play_at_end(900.0, measured=False)


def test_a_long_divider_that_only_printers_may_free_is_a_warning() -> None:
    """As drawn its other end stays between ribs; where the printers add to its room it may not."""
    drawn = SlotGap(length=340.0, beside=float(PLAY), ends=1.2, reach=1.4)
    (found,) = about_slot(Slotted("divider", "tray", THICK, drawn), unmeasured())
    assert (found.code, found.severity) == ("divider-loose", Severity.WARN)


def test_the_loosest_divider_is_said_once(lined: Bench, module: Module) -> None:
    """Its play along and across, with what printers add, in one note."""
    bench = parted(lined, module)
    said = bench.said("divider-play")
    errors = household_of(bench.room).envelope
    length = next(one.size[0] for one in bench.kit.parts if one.id == "divider")
    assert said.against
    assert said.against.computed == pytest.approx(
        2 * END_PLAY + max(0.0, of_two_prints(errors, length).loose), abs=0.01
    )
    assert "from end to end" in said.text
    assert said.remedy


@pytest.mark.parametrize("split", list(Split))
@pytest.mark.parametrize(
    ("more", "found"),
    [
        ((0.1, 0.0), [("warn", "divider-tight", "divider")]),
        ((0.2, 0.0), [("stop", "divider-tight", "divider")]),
        ((0.0, 0.3), [("warn", "divider-tight", "divider")]),
        ((0.0, 0.6), [("stop", "divider-tight", "divider")]),
        ((0.0, 0.1), []),
        ((-1.0, 0.0), []),
        ((0.0, -1.5), [("stop", "divider-loose", "divider")]),
    ],
)
def test_a_divider_of_another_size_is_found(
    lined: Bench, module: Module, split: Split, more: tuple[float, float], found: list[tuple[str, str, str]]
) -> None:
    """Too thick, too long, too short: a stop where it likely does not go in; a little longer, or thinner, it does."""
    thicker, longer = more
    assert parted(lined, module, split, thicker=thicker, longer=longer).wrong() == found


def test_a_tray_without_ribs_does_not_hold_its_divider(lined: Bench, module: Module) -> None:
    """Nothing beside it: it falls over, as drawn, so nothing may be printed."""
    bench = parted(lined, module)
    options = TrayOptions()
    bare = tray(module, cols=6, rows=5, height=36.0, options=options)
    kit = bench.kit.model_copy(
        update={
            "parts": tuple(one for one in bench.kit.parts if one.id != "tray"),
            "placements": tuple(one for one in bench.kit.placements if one.id != "tray"),
        }
    )
    without = type(bench)(kit, bench.room, bench.shapes, bench.kernel).having("tray", bare, cell(0, 0), on=("panel",))
    assert without.wrong() == [("stop", "divider-loose", "divider")]
    assert "in its slot" in without.said("divider-loose").text
