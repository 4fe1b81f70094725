"""Faults of bedfuls: what does not lie where, as often, or in what it should."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.bed_room import TOUCH_MM2
from nookwright.ground.tolerances import GRID
from nookwright.survey.bed_wishes import SPACING, KeepOut, OneByOne

from .harness import shifted, turned
from .table import plain, sized

if TYPE_CHECKING:
    from nookwright.exchange.kit import Bedful
    from nookwright.exchange.threemf import ThreeMF
    from nookwright.exchange.threemf_model import Item

    from .harness import Sample

SMALL = "small"


def _alone(sample: Sample) -> Bedful:
    """A bedful of one piece, so that it can be moved without meeting another."""
    return next(one for one in sample.kit.bedfuls if len(one.items) == 1 and one.printer == SMALL)


def _full(sample: Sample) -> Bedful:
    """A bedful with several pieces."""
    return next(one for one in sample.kit.bedfuls if len(one.items) > 1)


def _shift(sample: Sample, bedful: Bedful, x: float = 0, z: float = 0) -> Sample:
    """The first copy on a bed, moved."""

    def move(item: Item) -> Item:
        first = item.bed_from_body == bedful.items[0].bed_from_piece
        return replace(item, bed_from_body=shifted(item.bed_from_body, x, 0, z)) if first else item

    return sample.with_items(bedful.id, move)


@sized("item-off-bed", f"{GRID:g} mm into the margin of the bed")
def off_bed(sample: Sample, size: float) -> Sample:
    """A piece lies over the edge of the bed."""
    bedful = _alone(sample)
    (body,) = sample.on_bed(bedful)
    margin = next(one.margin for one in sample.kit.printers if one.id == bedful.printer)
    return _shift(sample, bedful, x=margin - float(body[0][0]) - size * GRID)


@sized("item-floats", f"{GRID:g} mm above the bed")
def floating(sample: Sample, size: float) -> Sample:
    """A piece floats above the bed."""
    return _shift(sample, _alone(sample), z=size * GRID)


@plain("item-mirrored")
def mirrored(sample: Sample) -> Sample:
    """A piece is mirrored on the bed, in kit.json and in the 3MF."""
    bedful = _alone(sample)
    width = next(piece.size[0] for piece in sample.kit.pieces if piece.id == bedful.items[0].piece)
    flip = np.diag([-1.0, 1, 1, 1])
    flip[0, 3] = width
    return sample.with_items(bedful.id, lambda item: replace(item, bed_from_body=turned(item.bed_from_body, flip)))


@plain("bed-file-differs")
def mirrored_in_file(sample: Sample) -> Sample:
    """A piece is mirrored in the 3MF alone."""
    bedful = _alone(sample)
    width = next(piece.size[0] for piece in sample.kit.pieces if piece.id == bedful.items[0].piece)
    flip = np.diag([-1.0, 1, 1, 1])
    flip[0, 3] = width

    def change(content: ThreeMF) -> ThreeMF:
        (item,) = content.items
        return replace(content, items=(replace(item, bed_from_body=turned(item.bed_from_body, flip)),))

    return sample.with_bed_file(bedful.id, change)


@sized("bed-file-differs", f"{GRID:g} mm")
def elsewhere_in_file(sample: Sample, size: float) -> Sample:
    """A piece lies elsewhere in the 3MF than kit.json says."""

    def change(content: ThreeMF) -> ThreeMF:
        first, *others = content.items
        return replace(
            content, items=(replace(first, bed_from_body=shifted(first.bed_from_body, size * GRID)), *others)
        )

    return sample.with_bed_file(_full(sample).id, change)


@plain("bed-file-differs")
def colour_in_file(sample: Sample) -> Sample:
    """The 3MF has another colour than kit.json says."""

    def change(content: ThreeMF) -> ThreeMF:
        return replace(content, materials=tuple(replace(one, colour="#123456") for one in content.materials))

    return sample.with_bed_file(_alone(sample).id, change)


@plain("bed-file-differs")
def mesh_in_file(sample: Sample) -> Sample:
    """The 3MF holds a mesh that is 0.2 mm higher than the STL."""

    def change(content: ThreeMF) -> ThreeMF:
        (body,) = content.bodies
        top = body.vertices[:, 2] > body.vertices[:, 2].max() - GRID
        raised = body.vertices.copy()
        raised[top, 2] += 0.2
        return replace(content, bodies=(replace(body, vertices=raised),))

    return sample.with_bed_file(_alone(sample).id, change)


@plain("file-unreadable")
def no_bed_file(sample: Sample) -> Sample:
    """The 3MF of a bedful is no 3MF."""
    return sample.overwritten(_alone(sample).file, b"not a package")


@sized("items-near", f"{GRID:g} mm nearer than the printer's spacing")
def too_near(sample: Sample, size: float) -> Sample:
    """Two pieces lie nearer to each other than the printer asks for."""
    return sample.surveyed("printer", SMALL, spacing=SPACING + size * GRID)


@plain("items-collide", besides=("items-near",))
def one_in_another(sample: Sample) -> Sample:
    """Two pieces lie in each other."""
    bedful = _full(sample)
    (low, high), (other, far) = sample.on_bed(bedful)[:2]
    middle = (other + far) / 2 - (low + high) / 2

    def move(item: Item) -> Item:
        first = item.bed_from_body == bedful.items[0].bed_from_piece
        return replace(item, bed_from_body=shifted(item.bed_from_body, middle[0], middle[1])) if first else item

    return sample.with_items(bedful.id, move)


@sized("item-kept-free", f"{TOUCH_MM2:g} mm2")
def on_the_clip(sample: Sample, size: float) -> Sample:
    """A piece covers a place of the bed that must stay free."""
    (body,) = sample.on_bed(_alone(sample))
    edge, along = float(body[0][0]), 20.0
    zone = KeepOut(x=0, y=float(body[0][1]) + 10, width=edge + size * TOUCH_MM2 / along, depth=along, why="a clip")
    return sample.surveyed("printer", SMALL, keep_out=(zone,))


@sized("item-under-head", f"{GRID:g} mm higher than the head clears")
def under_the_head(sample: Sample, size: float) -> Sample:
    """A piece that is printed before others is higher than the head clears."""
    highest = max(
        float(high[2])
        for bedful in sample.kit.bedfuls
        if bedful.printer == SMALL
        for _, high in sample.on_bed(bedful)[:-1]
    )
    return sample.surveyed("printer", SMALL, one_by_one=OneByOne(radius=2, height=highest - size * GRID))


@plain("material-not-loaded", besides=("printer-errors-otherwise",))
def not_loaded(sample: Sample) -> Sample:
    """A printer is to print a material that it does not have."""
    return sample.surveyed("printer", SMALL, materials=("white",))


@plain("piece-material", besides=("material-otherwise",))
def other_material(sample: Sample) -> Sample:
    """A piece lies on a bed of another material than it is meant for."""
    red = next(one for one in sample.kit.pieces if one.material == "red" and len(sample.pieces_of(one.part)) == 1)
    return sample.having("pieces", red.id, material="white")


@plain("piece-count", besides=("card-differs",))
def not_on_any_bed(sample: Sample) -> Sample:
    """A piece is on no bed."""
    bedful = _full(sample)
    return sample.having("bedfuls", bedful.id, items=bedful.items[1:]).with_beds({bedful.id})


@plain("piece-count")
def one_too_few(sample: Sample) -> Sample:
    """A part is placed more often than it is printed."""
    coins = sample.placed("coin-cells")
    again = coins.model_copy(update={"id": "drawer-900", "space_from_part": shifted(coins.space_from_part, 54)})
    return sample.saying(placements=(*sample.kit.placements, again))
