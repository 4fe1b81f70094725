"""The things of a lot as bodies in their part: boxes and cylinders at their largest size."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.bodies import NOISE, Body, Shape, Sort, boxes_shape, matrix_of, rounded_shape, rounds_shape
from nookwright.checks.boxes import pairs_within, tree
from nookwright.checks.in_words import OURS, called, length
from nookwright.ground.findings import Finding, Severity
from nookwright.ground.tolerances import GRID

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.checks.boxes import Floats
    from nookwright.exchange.kit import BodyBeside, Kit, LotPlace, Matrix


def bodies_of_things(kit: Kit) -> Iterator[tuple[str, Body]]:
    """The things of each place as one body, with the id of the placement that holds them."""
    matrices = {placement.id: placement.space_from_part for placement in kit.placements}
    for lot in kit.lots:
        for place in lot.places:
            if place.at:
                yield place.placement, _body(lot.id, place, matrices[place.placement])
            if place.at and place.beside:
                yield place.placement, _body(lot.id, _beside(place, place.beside), matrices[place.placement])


def _body(lot: str, place: LotPlace, matrix: Matrix) -> Body:
    return Body(lot, Sort.THINGS, _shape(place), matrix_of(matrix))


def _beside(place: LotPlace, body: BodyBeside) -> LotPlace:
    """The further bodies of a place, as if they were its things."""
    x, y, z = body.offset
    at = tuple((x0 + x, y0 + y, z0 + z) for x0, y0, z0 in place.at)
    return place.model_copy(update={"size": body.size, "at": at, "round_axis": "", "beside": None})


def _shape(place: LotPlace) -> Shape:
    """All things of a place; drawn in by the noise, so that those that only touch stay apart."""
    low, high = _boxes(place)
    if place.round_axis:
        return rounds_shape(low + NOISE, high - NOISE, place.round_axis)
    if place.corner_radius > NOISE:
        return rounded_shape(low + NOISE, high - NOISE, place.corner_radius)
    return boxes_shape(*_stacks(low + NOISE, high - NOISE))


def _boxes(place: LotPlace) -> tuple[Floats, Floats]:
    """Least and greatest corner of the box round each thing, in the part's axes."""
    at, (width, depth, height) = np.array(place.at, dtype=np.float64), place.size
    low = at - np.array([width / 2, depth / 2, 0.0])
    return low, low + np.array([width, depth, height])


def _stacks(low: Floats, high: Floats) -> tuple[Floats, Floats]:
    """Boxes that stand on each other, taken together: a stack of cards is one box."""
    order = np.lexsort((low[:, 2], low[:, 1], low[:, 0]))
    low, high = low[order], high[order]
    same = (np.abs(low[1:, :2] - low[:-1, :2]) < NOISE).all(axis=1)
    rests = same & (np.abs(low[1:, 2] - high[:-1, 2]) < 4 * NOISE)
    first = np.flatnonzero(np.concatenate([[True], ~rests]))
    last = np.concatenate([first[1:], [len(low)]]) - 1
    return low[first], high[last]


def straying_things(kit: Kit) -> Iterator[Finding]:
    """Lots with things that are planned beside or below the one part that should hold them."""
    sizes = {part.id: part.size for part in kit.parts}
    names = {one.id: called(one) for one in kit.placements}
    for lot in kit.lots:
        for place in lot.places:
            if place.held_by:
                continue  # long things reach beyond their supports
            low, high = _boxes(place) if place.at else (np.zeros((1, 3)), np.zeros((1, 3)))
            past = max(-low.min(), (high - sizes[place.part])[:, :2].max())
            if past > GRID:
                where = names[place.placement]
                text = f"A thing in {where} reaches {length(past)} past the outside of that part."
                yield Finding("things-outside-part", Severity.STOP, lot.id, text, OURS)


def colliding_things(kit: Kit) -> Iterator[Finding]:
    """Lots whose things are planned into each other."""
    names = {one.id: called(one) for one in kit.placements}
    for lot in kit.lots:
        for place in lot.places:
            pairs = _colliding(place) if len(place.at) > 1 else 0
            pairs += _colliding(_beside(place, place.beside)) if len(place.at) > 1 and place.beside else 0
            if pairs:
                how = "Two of its things" if pairs == 1 else f"{pairs} pairs of its things"
                text = f"{how} in {names[place.placement]} are planned to take the same room."
                yield Finding("things-collide", Severity.STOP, lot.id, text, OURS)


def _colliding(place: LotPlace) -> int:
    """Number of pairs of things that share room."""
    low, high = _boxes(place)
    depth = 2 * NOISE
    found = 0
    across = [axis for axis in range(3) if "xyz"[axis] != place.round_axis]
    for left, right in pairs_within(tree(low, high), depth):
        if place.round_axis:
            distance = np.sqrt(((low[left] - low[right])[:, across] ** 2).sum(axis=1))
            found += int((distance < place.size[across[0]] - depth).sum())
        else:
            found += len(left)
    return found
