from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest

from nookwright.checks.bed_room import check_bed_room
from nookwright.checks.bodies import Body, Sort, box_shape, shape_of
from nookwright.exchange.kit import Bedful
from nookwright.exchange.printing_models import BedSettings
from nookwright.survey.bed_wishes import KeepOut, OneByOne
from nookwright.survey.models import Printer
from nookwright.survey.printer_profile import PrinterProfile

if TYPE_CHECKING:
    from nookwright.checks.bodies import Shape


def printer(**more: object) -> Printer:
    """A bed of 200 x 200."""
    return Printer(id="one", bed_width=200, bed_depth=200, bed_height=100, materials=("grey",), **more)


def cube(x: float, y: float, height: float = 10.0) -> Body:
    """A body of 10 x 10 at a place."""
    return at(box_shape((0, 0, 0), (10, 10, height)), x, y)


def at(shape: Shape, x: float, y: float) -> Body:
    """A shape at a place."""
    matrix = np.eye(4)
    matrix[:2, 3] = x, y
    return Body("piece", Sort.PART, shape, matrix)


def ring() -> Shape:
    """A square frame of 50 with a middle of 30."""
    from manifold3d import CrossSection, Manifold

    section = CrossSection.square((50, 50)) - CrossSection.square((30, 30)).translate((10, 10))
    mesh = Manifold.extrude(section, 5).to_mesh()
    return shape_of("ring", np.array(mesh.vert_properties, np.float64), np.array(mesh.tri_verts))


def codes(on: Printer, *bodies: Body) -> list[str]:
    """Codes of what is found."""
    bedful = Bedful(
        id="bed",
        printer="one",
        material="grey",
        colour="#808080",
        file="bed.3mf",
        model_sha256="0" * 64,
        time_s=1,
        mass_g=1,
        items=(),
    )
    return [finding.code for finding in check_bed_room(bedful, on, list(bodies))]


@pytest.mark.parametrize(
    ("more", "x", "expected"),
    [
        ({}, 13.0, []),
        ({}, 12.9, ["items-near"]),
        ({"spacing": 5}, 14.9, ["items-near"]),
        ({"spacing": 0}, 10.0, []),
        ({"profile": PrinterProfile(brim=2)}, 16.9, ["items-near"]),
        ({"profile": PrinterProfile(brim=2)}, 17.0, []),
        ({"one_by_one": OneByOne(radius=40, height=50)}, 49.9, ["items-near"]),
        ({"one_by_one": OneByOne(radius=40, height=50)}, 50.0, []),
    ],
)
def test_pieces_are_as_far_apart_as_the_printer_asks(more: dict[str, object], x: float, expected: list[str]) -> None:
    """Two cubes beside each other: spacing, two brims, or the head one by one."""
    assert codes(printer(**more), cube(0, 0), cube(x, 0)) == expected


def test_a_distance_across_a_corner_counts_as_it_is() -> None:
    """3 mm, not less, though both boxes come nearer than that along each axis."""
    assert codes(printer(), cube(0, 0), cube(12.2, 12.2)) == []
    assert codes(printer(), cube(0, 0), cube(12.0, 12.0)) == ["items-near"]


def test_a_piece_may_lie_in_the_middle_of_another() -> None:
    """With the spacing all round, and not nearer."""
    assert codes(printer(), at(ring(), 0, 0), cube(20, 20)) == []
    assert codes(printer(), at(ring(), 0, 0), cube(12, 20)) == ["items-near"]


@pytest.mark.parametrize(
    ("brim", "x", "expected"), [(0.0, 30.0, []), (0.0, 29.9, ["item-kept-free"]), (2.0, 31.9, ["item-kept-free"])]
)
def test_nothing_lies_where_nothing_may(brim: float, x: float, expected: list[str]) -> None:
    """Not with its brim either."""
    on = printer(keep_out=(KeepOut(x=10, y=0, width=20, depth=20),), profile=PrinterProfile(brim=brim))
    assert codes(on, cube(x, 5)) == expected


def test_only_the_last_piece_may_be_higher_than_the_head_clears() -> None:
    """One by one; together, any may."""
    on = printer(one_by_one=OneByOne(radius=10, height=30))
    assert codes(on, cube(0, 0), cube(50, 0, 40)) == []
    assert codes(on, cube(0, 0, 40), cube(50, 0)) == ["item-under-head"]
    assert codes(printer(), cube(0, 0, 40), cube(50, 0)) == []


def skirted(on: Printer, *bodies: Body) -> list[str]:
    """Codes of what is found where there is a skirt of two lines, 3 mm away: 3.8 in all."""
    settings = BedSettings(
        nozzle=0.4, layer=0.2, line_width=0.43, walls=2, skin_below=3, skin_above=5, infill_percent=15, infill="lines",
        seam="nearest", brim=0.0, skirt_loops=2, skirt=3.0,
    )  # fmt: skip
    bedful = Bedful(
        id="bed", printer="one", material="grey", colour="#808080", file="bed.3mf", model_sha256="0" * 64, time_s=1,
        mass_g=1, items=(), settings=settings,
    )  # fmt: skip
    return [finding.code for finding in check_bed_room(bedful, on, list(bodies))]


def test_a_skirt_that_leaves_the_bed_is_found() -> None:
    """It reaches 3.8 mm beyond the pieces."""
    assert skirted(printer(), cube(3.9, 100)) == []
    assert skirted(printer(), cube(3.7, 100)) == ["skirt-off-bed"]
    assert skirted(printer(), cube(100, 186.3)) == ["skirt-off-bed"]


def test_a_skirt_that_crosses_a_place_that_stays_free_is_found() -> None:
    """Between two pieces, where neither of them is near."""
    clip = printer(keep_out=(KeepOut(x=95, y=20, width=10, depth=10),))
    assert skirted(clip, cube(20, 20), cube(170, 20)) == ["skirt-kept-free"]
    assert skirted(clip, cube(20, 60), cube(170, 60)) == []
