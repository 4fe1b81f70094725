from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from manifold3d import CrossSection, Manifold
from tests.making.estimate.solids import block, box, mesh_of

from nookwright.making.beds.bed import Bed
from nookwright.making.beds.fill import fill_beds
from nookwright.making.beds.model import Job
from nookwright.making.pads import RADIUS, corner_pads, pad_reach, pads_from, wants_pads
from nookwright.survey.bed_wishes import KeepOut
from nookwright.survey.first_layer_wishes import Pads
from nookwright.survey.models import Material, Printer
from nookwright.survey.plastic_sheet import PlasticKind
from nookwright.survey.printer_profile import PrinterProfile

LAYER = 0.2


def material(**more: object) -> Material:
    """A white material."""
    return Material.model_validate({"id": "white", "colour": "#ffffff", "density_g_cm3": 1.24} | more)


def printer(width: float = 130, depth: float = 120, **more: object) -> Printer:
    """A bed with a margin of 5."""
    return Printer(id="one", bed_width=width, bed_depth=depth, bed_height=100, materials=("white",), **more)


def job(name: str, width: float, depth: float, *, count: int = 1, pads: bool = True) -> Job:
    """Copies of a piece."""
    return Job(name, count, width, depth, 20.0, "white", 2.0, 100.0, pads=pads)


@pytest.mark.parametrize(
    ("more", "longest", "wanted"),
    [
        ({}, 249.0, False),
        ({}, 251.0, True),
        ({"density_g_cm3": 1.05}, 101.0, True),
        ({"plastic": PlasticKind.ASA}, 101.0, True),
        ({"density_g_cm3": 1.05, "plastic": PlasticKind.PLA}, 101.0, False),
        ({"pads_from": 60}, 61.0, True),
        ({"pads": Pads.NEVER, "pads_from": 60}, 400.0, False),
        ({"pads": Pads.ALWAYS}, 81.0, True),
        ({"pads": Pads.ALWAYS}, 79.0, False),
    ],
)
def test_long_pieces_get_pads_by_what_they_are_made_of(more: dict[str, object], longest: float, wanted: bool) -> None:  # noqa: FBT001
    """What shrinks gets them early; the person's own word goes first."""
    assert wants_pads(material(**more), longest) is wanted


def test_the_limit_of_a_material_is_the_persons_or_that_of_its_kind() -> None:
    """Lengths in mm."""
    assert (pads_from(material()), pads_from(material(density_g_cm3=1.04)), pads_from(material(pads_from=7))) == (
        250,
        100,
        7,
    )


def test_pads_of_a_block_are_three_quarters_of_discs() -> None:
    """Four of them; one layer high; nothing of them is in the block."""
    pads = corner_pads(block(100, 60, 6), 8.0, LAYER)
    disc = CrossSection.circle(8.0, 48).area()
    assert pads.count == 4
    assert pads.area_mm2 == pytest.approx(4 * 0.75 * disc, rel=1e-6)
    assert pads.mesh.volume_mm3 == pytest.approx(pads.area_mm2 * LAYER, rel=1e-6)
    assert pads.mesh.bounds == pytest.approx((-8, -8, 0, 108, 68, LAYER))
    body = Manifold.cube((100, 60, 6))
    assert (body ^ solid_of(pads)).volume() < 1e-9


def solid_of(pads: object) -> Manifold:
    """Pads as a body of the kernel."""
    from manifold3d import Mesh64

    mesh = pads.mesh  # type: ignore[attr-defined]
    return Manifold(Mesh64(np.array(mesh.vertices), np.array(mesh.triangles, np.uint64)))


def test_nothing_is_laid_into_the_openings_of_a_piece() -> None:
    """A frame with a hole near its corner gets the same pads as a plate."""
    plate = Manifold.cube((100, 60, 2))
    frame = plate - Manifold.cube((6, 6, 2)).translate((1, 1, 0))
    assert corner_pads(mesh_of(frame), 8.0, LAYER).area_mm2 == pytest.approx(
        corner_pads(mesh_of(plate), 8.0, LAYER).area_mm2
    )


def test_pads_follow_a_first_layer_that_is_drawn_in() -> None:
    """They touch what is printed beside them, not the box above it."""
    drawn_in = Manifold.cube((99.4, 59.4, LAYER)).translate((0.3, 0.3, 0)) + Manifold.cube((100, 60, 2)).translate(
        (0, 0, LAYER)
    )
    pads = solid_of(corner_pads(mesh_of(drawn_in), 8.0, LAYER)).slice(LAYER / 2)
    first = drawn_in.slice(LAYER / 2)
    assert (pads ^ first).area() < 1e-9
    for one in pads.decompose():
        assert (one.offset(0.01) ^ first).area() > 0


def test_two_pads_that_meet_are_one() -> None:
    """At the end of a narrow strip."""
    assert corner_pads(block(200, 10, 3), 8.0, LAYER).count == 2


@pytest.mark.parametrize(
    ("more", "size", "reach"),
    [
        ({}, (100, 60), 8.0),  # all that there is
        ({}, (120, 60), 5.0),  # it fills the bed inside its margins: they lie in the margin
        ({"margin": 2}, (126, 60), 0.0),  # 2 mm is no pad
        ({"profile": PrinterProfile(brim=3)}, (100, 60), 0.0),  # a brim does the same
        ({"keep_out": (KeepOut(x=0, y=0, width=10, depth=120),)}, (101, 60), 7.0),  # between 10 and 125
    ],
)
def test_pads_reach_as_far_as_there_is_room(more: dict[str, Any], size: tuple[float, float], reach: float) -> None:
    """At most a radius; on a bed with places that stay free, inside of what is free."""
    assert pad_reach(printer(**more), *size) == reach


def padded(one: Job, x: float, y: float, turns: int, reach: float) -> tuple[float, float, float, float]:
    """The box of a copy with its pads."""
    width, depth = (one.depth, one.width) if turns % 2 else (one.width, one.depth)
    return x - reach, y - reach, x + width + reach, y + depth + reach


@given(
    sizes=st.lists(st.tuples(st.floats(20, 120), st.floats(20, 110), st.booleans()), min_size=1, max_size=6),
    spacing=st.floats(0, 5),
)
@settings(deadline=None)
def test_padded_pieces_keep_off_others_and_on_the_bed(sizes: list[tuple[float, float, bool]], spacing: float) -> None:
    """Pieces stay inside the margins, pads on the bed; the box of each with its pads is apart from all others."""
    on = printer(spacing=spacing)
    jobs = {f"p{at}": job(f"p{at}", wide, deep, pads=pads) for at, (wide, deep, pads) in enumerate(sizes)}
    filled = fill_beds(list(jobs.values()), [on])
    assert sum(len(load.items) for load in filled.loads) == len(jobs)
    for load in filled.loads:
        reaches = dict(load.pads)
        boxes = []
        for item in load.items:
            one = jobs[item.piece]
            reach = reaches.get(item.piece, 0.0)
            assert reach == (pad_reach(on, one.width, one.depth) if one.pads else 0.0)
            x0, y0, x1, y1 = padded(one, item.x, item.y, item.turns, 0.0)
            assert min(x0, y0) >= 5 - 1e-6
            assert x1 <= 125 + 1e-6
            assert y1 <= 115 + 1e-6
            boxes.append(padded(one, item.x, item.y, item.turns, reach))
            assert min(boxes[-1][:2]) >= -1e-6
            assert boxes[-1][2] <= 130 + 1e-6
            assert boxes[-1][3] <= 120 + 1e-6
        for at, a in enumerate(boxes):
            for b in boxes[at + 1 :]:
                assert max(a[0] - b[2], b[0] - a[2], a[1] - b[3], b[1] - a[3]) >= spacing - 0.11


def test_a_bound_does_not_fall_because_of_pads(monkeypatch: pytest.MonkeyPatch) -> None:
    """Pieces with pads leave room in their boxes, so fewer count as boxes: what holds without pads holds with them."""
    monkeypatch.setattr(Bed, "bound", lambda bed, _copies: 1 if any(bed.pads) else 3)
    filled = fill_beds([job("plate", 100, 90, count=4)], [printer()])
    assert [(group.bedfuls, group.bound) for group in filled.groups] == [(4, 3)]


def test_a_box_with_pads_is_nested_with_them_where_there_is_room() -> None:
    """Where the bed is too narrow for both, only what of them lies inside the margins counts."""
    bed = Bed(printer(), [job("wide", 118, 60), job("small", 40, 30)])
    assert bed.pads == [6.0, float(RADIUS)]
    assert bed.sides == [(120.0, 72.0), (56.0, 46.0)]


def test_a_tray_is_padded_round_its_rounded_corners() -> None:
    """The pads of a box without a lid stand on the bed as well as those of a block."""
    assert corner_pads(box(150, 90, 30), 8.0, LAYER).count == 4
