"""Removable dividers in their slots, tight and loose, measured in the files."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest

from nookwright.checks.bodies import matrix_of
from nookwright.checks.seats.dividers import slot_gap
from nookwright.parts.trays.divider import END_PLAY, PLAY, RIB_REACH
from nookwright.parts.trays.extras import extras_of
from nookwright.parts.trays.name_strip import Lettering
from nookwright.parts.trays.tray import tray
from nookwright.parts.trays.tray_frame import TrayFrame
from nookwright.parts.trays.tray_options import DividerKind, Dividers, Split, TrayOptions

from .conftest import cell

if TYPE_CHECKING:
    import manifold3d

    from nookwright.exchange.kit import Matrix
    from nookwright.module.module import Module

    from .conftest import Bench

THICK = 1.2


def parted(
    lined: Bench, module: Module, split: Split = Split.COLUMNS, *, thicker: float = 0.0, longer: float = 0.0
) -> Bench:
    """A tray with one of its two dividers, which may be thicker or longer than drawn, still in the middle."""
    options = TrayOptions(dividers=(Dividers(split, DividerKind.REMOVABLE, compartments=3),))
    frame = TrayFrame(module, 6, 5, 36.0, options)
    extra = extras_of(frame, "", Lettering.RAISED)[0]
    ox, oy, oz = (row[3] for row in cell(0, 0)[:3])
    x, y, z = ox + extra.x, oy + extra.y, oz + extra.z
    length = extra.part.size[0]

    def larger(solid: manifold3d.Manifold) -> manifold3d.Manifold:
        return solid.scale([1 + longer / length, 1, 1 + thicker / THICK])

    where: Matrix = (1, 0, 0, x - longer / 2), (0, 0, -1, y + THICK + thicker / 2), (0, 1, 0, z), (0, 0, 0, 1)
    if split is Split.COLUMNS:
        where = (0, 0, 1, x - thicker / 2), (1, 0, 0, y - longer / 2), (0, 1, 0, z), (0, 0, 0, 1)
    bench = lined.having("tray", tray(module, cols=6, rows=5, height=36.0, options=options), cell(0, 0), on=("panel",))
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
