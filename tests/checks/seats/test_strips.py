"""Name strips behind their lips and caps in their holes, where printers make the fit wide."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.checks.conftest import arrays, box

from nookwright.checks.bodies import shape_of
from nookwright.checks.seats.dividers import HELD_BY
from nookwright.checks.seats.press_lids import GIVES_WAY, STAYS_ON
from nookwright.checks.seats.strips import about_cap, about_strip, behind_lips, cap_room
from nookwright.checks.seats.tolerances import of_two_prints
from nookwright.exchange.kit import KitPart
from nookwright.ground.digest import digest
from nookwright.ground.findings import Severity
from nookwright.module.choice import module_of
from nookwright.parts.risers.cap import CLEARANCE, cap
from nookwright.parts.risers.hollow_riser import HollowSpec, hollow_riser
from nookwright.parts.trays.extras import extras_of
from nookwright.parts.trays.name_strip import OVERLAP, Lettering
from nookwright.parts.trays.tray import tray
from nookwright.parts.trays.tray_frame import TrayFrame
from nookwright.parts.trays.tray_options import TrayOptions
from nookwright.sizing.printers.errors import unmeasured
from nookwright.solids.mesh import build

if TYPE_CHECKING:
    from nookwright.checks.bodies import Shape
    from nookwright.parts.model import Part

ERRORS = unmeasured()
MODULE = module_of(18.0, 6.0, 0.2, "")
OPTIONS = TrayOptions(strip_height=12.0, strip_length=140.0)


def made(part: Part) -> tuple[tuple[Shape, np.ndarray], ...]:
    """A part as the checks see one that is printed whole."""
    mesh = build(part.recipe)
    return ((shape_of(digest(part.name), mesh.vertices, mesh.triangles), np.eye(4)),)


def said_of(size: tuple[float, float, float]) -> KitPart:
    """A part of a size, as kit.json has it."""
    figures = {"volume_mm3": 1.0, "mass_g": 1.0, "time_s": 1.0, "stl": "a.stl", "stl_sha256": digest("a")}
    named = {"id": "a", "kind": "cap", "name": "a", "recipe": digest("a"), "parameters": {}, "size": size}
    return KitPart.model_validate(named | figures)


@pytest.mark.parametrize("cols", [3, 6, 9])
def test_a_strip_stands_behind_both_lips(cols: int) -> None:
    """Pushed to one end it has the lip's overlap less its play at the other, whatever its length."""
    frame = TrayFrame(MODULE, cols, 4, 48.0, OPTIONS)
    (extra,) = extras_of(frame, "", Lettering.RAISED)
    strip = extra.part
    between = np.array([[1, 0, 0, extra.x], [0, 0, -1, extra.y + strip.size[2]], [0, 1, 0, extra.z], [0, 0, 0, 1]])
    held = behind_lips(
        said_of(strip.size), made(tray(MODULE, cols=cols, rows=4, height=48.0, options=OPTIONS)), between
    )
    assert OVERLAP - 1.2 < held < OVERLAP
    assert list(about_strip(said_of(strip.size), "its tray", held, ERRORS)) == []


@given(st.floats(-2, 4), st.floats(10, 140))
def test_a_strip_that_may_slip_past_its_lip_is_found(held: float, length: float) -> None:
    """A stop where it slips as drawn, a warning where printers make it, nothing else."""
    found = list(about_strip(said_of((length, 12, 1)), "its tray", held, ERRORS))
    spare = held - max(0.0, of_two_prints(ERRORS, length).loose)
    assert [one.code for one in found] == ["strip-loose"] * (spare < HELD_BY)
    assert all((one.severity is Severity.STOP) == (held < HELD_BY) for one in found)


def test_the_room_of_a_cap_is_its_clearance() -> None:
    """On both sides together, as it is drawn."""
    spec = HollowSpec(cols=4, rows=4, rises=4)
    lid, below = cap(MODULE, spec), hollow_riser(MODULE, spec)
    room = cap_room(lid.size[2], made(lid), made(below))
    assert room == pytest.approx((2 * CLEARANCE, 2 * CLEARANCE), abs=0.01)
    assert cap_room(lid.size[2], made(lid), ((shape_of("box", *arrays(box(30, 30, 30))), np.eye(4)),)) is None


@given(st.floats(-1, 2))
def test_a_cap_is_found_to_be_tight_or_loose_and_never_both(room: float) -> None:
    """Too tight where its skirt does not give way, too loose where friction does not hold it."""
    found = {one.code for one in about_cap(said_of((16, 14, 5)), "riser", (room, room + 0.2), ERRORS)}
    edges = of_two_prints(ERRORS, 16)
    assert ("cap-tight" in found) == (room - edges.tight < -GIVES_WAY)
    assert ("cap-loose" in found) == (room + edges.loose > STAYS_ON)
    assert len(found) < 2
