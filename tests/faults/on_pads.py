"""Faults of what is printed beside pieces: pads that hold their corners down, the skirt round a bedful."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
from manifold3d import CrossSection, JoinType

from nookwright.checks.bed_pads import SHARED_MM2, TOUCH
from nookwright.checks.bed_room import TOUCH_MM2, common_mm2
from nookwright.exchange.stl import read_stl
from nookwright.exchange.threemf import read_3mf
from nookwright.exchange.threemf_model import PADS
from nookwright.ground.findings import Severity
from nookwright.ground.tolerances import GRID
from nookwright.survey.bed_wishes import KeepOut

from .solids import solid_of
from .table import sized

if TYPE_CHECKING:
    from collections.abc import Callable

    import numpy.typing as npt

    from nookwright.exchange.kit import Bedful
    from nookwright.exchange.stl import Vertices
    from nookwright.exchange.threemf import ThreeMF

    from .harness import Sample

    Floats = npt.NDArray[np.float64]

LARGE = "large"
TIP = 1.0  # mm of a pad that is drawn out to the edge of the bed
STRAIGHT = 10.0  # mm of a skirt's straight side that a place to be kept free lies along


def _padded(sample: Sample) -> Bedful:
    """The bedful with pads."""
    return next(one for one in sample.kit.bedfuls if one.pads)


def _with_pads(sample: Sample, move: Callable[[Vertices], Vertices]) -> Sample:
    """With the corners of all pads moved in the 3MF."""

    def change(content: ThreeMF) -> ThreeMF:
        bodies = tuple(
            replace(body, vertices=move(body.vertices)) if body.part_number.endswith(PADS) else body
            for body in content.bodies
        )
        return replace(content, bodies=bodies)

    return sample.with_bed_file(_padded(sample).id, change)


def _aside(sample: Sample, apart: Callable[[CrossSection, CrossSection], float]) -> Floats:
    """How far each pad goes outwards on its diagonal, for each corner of the piece, until ``apart`` is 0, mm.

    Args:
        sample: with a bedful that has pads.
        apart: of a pad and the first layer; grows with the way.
    """
    bedful = _padded(sample)
    (pads,) = bedful.pads
    (piece,) = (one for one in sample.kit.pieces if one.id == pads.piece)
    (body,) = (one for one in read_3mf(sample.folder / bedful.file).bodies if one.part_number.endswith(PADS))
    first = solid_of(*read_stl(sample.folder / piece.file)).slice(pads.height / 2)
    discs = solid_of(body.vertices, body.triangles).slice(pads.height / 2).decompose()
    ways = np.zeros((2, 2))
    for disc in discs:
        x0, y0, x1, y1 = disc.bounds()
        right, back = int(x0 + x1 > piece.size[0]), int(y0 + y1 > piece.size[1])
        low, high = -1.0, 1.0
        for _ in range(40):
            way = (low + high) / 2
            moved = disc.translate((way if right else -way, way if back else -way))
            low, high = (way, high) if apart(moved, first) < 0 else (low, way)
        ways[right, back] = high
    return ways


def _moved_aside(sample: Sample, ways: Floats) -> Sample:
    """With each pad moved outwards on its diagonal."""
    (pads,) = _padded(sample).pads
    (piece,) = (one for one in sample.kit.pieces if one.id == pads.piece)

    def move(vertices: Vertices) -> Vertices:
        right, back = (vertices[:, axis] > piece.size[axis] / 2 for axis in (0, 1))
        way = ways[right.astype(int), back.astype(int)]
        moved = vertices.copy()
        moved[:, 0] += np.where(right, way, -way)
        moved[:, 1] += np.where(back, way, -way)
        return moved

    return _with_pads(sample, move)


@sized("pads-height", f"{GRID:g} mm higher than a layer")
def pads_high(sample: Sample, size: float) -> Sample:
    """Pads are higher than the first layer: the second one holds them to their piece too."""

    def higher(vertices: Vertices) -> Vertices:
        moved = vertices.copy()
        moved[vertices[:, 2] > GRID, 2] += size * GRID
        return moved

    return _with_pads(sample, higher)


@sized("pads-in-piece", f"{SHARED_MM2:g} mm2 of the piece")
def pads_inside(sample: Sample, size: float) -> Sample:
    """Pads lie in their piece: they become a part of it."""
    share = size * SHARED_MM2 / 4
    return _moved_aside(sample, _aside(sample, lambda disc, first: share - (disc ^ first).area()))


@sized("pads-loose", f"{TOUCH:g} mm off the piece", severity=Severity.WARN)
def pads_loose(sample: Sample, size: float) -> Sample:
    """Pads do not touch their piece: they hold nothing down."""
    return _moved_aside(sample, _aside(sample, lambda disc, first: TOUCH_MM2 - common_mm2(disc, first, size * TOUCH)))


@sized("pads-off-bed", f"{GRID:g} mm past the edge of the bed")
def pads_off_bed(sample: Sample, size: float) -> Sample:
    """Pads reach over the edge of the bed."""
    bedful = _padded(sample)
    (pads,) = bedful.pads
    at = np.array(next(item.bed_from_piece for item in bedful.items if item.piece == pads.piece))

    def longer(vertices: Vertices) -> Vertices:
        on_bed = vertices @ at[:3, :3].T + at[:3, 3]
        front = on_bed[:, 1].min()
        on_bed[on_bed[:, 1] < front + TIP, 1] -= front + size * GRID
        return np.asarray((on_bed - at[:3, 3]) @ at[:3, :3])

    return _with_pads(sample, longer)


@sized("skirt-off-bed", f"{GRID:g} mm past the edge of the bed")
def skirt_off_bed(sample: Sample, size: float) -> Sample:
    """A skirt runs over the edge of the bed."""
    far = max(_skirt(sample, one).bounds()[3] for one in sample.kit.bedfuls if one.printer == LARGE)
    smaller = sample.surveyed("printer", LARGE, bed_depth=far - size * GRID)
    return replace(smaller, aside=frozenset({"printer-otherwise"}))  # its margin would not let pieces lie so far back


@sized("skirt-kept-free", f"{TOUCH_MM2:g} mm2")
def skirt_kept_free(sample: Sample, size: float) -> Sample:
    """A skirt crosses a place of the bed that must stay free."""
    bedful = next(one for one in sample.kit.bedfuls if one.printer == LARGE and len(one.items) == 1)
    body = sample.on_bed(bedful)[0]
    edge = _skirt(sample, bedful).bounds()[0]
    y = float(body[0][1] + body[1][1]) / 2 - STRAIGHT / 2
    zone = KeepOut(x=0, y=y, width=edge + size * TOUCH_MM2 / STRAIGHT, depth=STRAIGHT, why="a clip")
    return sample.surveyed("printer", LARGE, keep_out=(zone,))


def _skirt(sample: Sample, bedful: Bedful) -> CrossSection:
    """What the skirt of a bedful runs round, its line included."""
    files = {piece.id: piece.file for piece in sample.kit.pieces}
    areas = [
        solid_of(*read_stl(sample.folder / files[item.piece])).transform(np.array(item.bed_from_piece)[:3]).project()
        for item in bedful.items
    ]
    settings = bedful.settings
    assert settings
    assert settings.skirt_loops == 1
    out = settings.brim + settings.skirt + settings.line_width
    return CrossSection.batch_hull(areas).offset(out, JoinType.Round)
