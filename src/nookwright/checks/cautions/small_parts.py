"""Small parts where children reach: things of a lot by their measures, printed pieces by their meshes.

What it does not know: what breaks off, and what is poured by volume: loose lots are taken for small.
"""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.cautions.cylinder import DEEP, DIAMETER, TENTH, goes_in
from nookwright.checks.cautions.naming import named
from nookwright.checks.cautions.whereabouts import called
from nookwright.checks.cautions.words import caution
from nookwright.ground.findings import Severity
from nookwright.survey.models import Shape

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from nookwright.checks.bodies import Shape as Mesh
    from nookwright.checks.boxes import Floats
    from nookwright.checks.cautions.whereabouts import Whereabouts
    from nookwright.checks.verdicts import Verdicts
    from nookwright.exchange.kit import Kit
    from nookwright.ground.findings import Finding
    from nookwright.survey.models import Lot

_SIDES = 24  # of a round thing; a 24-gon round it is 0.9 % larger, so its corners are drawn on it


def small_in_reach(where: Whereabouts, shapes: Mapping[str, Mesh], verdicts: Verdicts) -> Iterator[Finding]:
    """One finding a space that children reach, with the lots and the printed parts that are small.

    A warning where the room says that small children come there, a note where it says nothing of their age.

    Args:
        where: the kit in its room.
        shapes: sound meshes by file.
        verdicts: those reached before.
    """
    small_children = where.room.choices.small_children
    reached = [space for space in where.room.space if where.reached(space)]
    if not reached or small_children is False:
        return
    lots: dict[str, list[str]] = defaultdict(list)
    for lot, places in where.lots():
        spaces = [space.id for space in where.spaces_with(places) if space in reached]
        if spaces and is_small(lot, verdicts):
            for name in spaces:
                lots[name].append(called(lot))
    prints = _small_prints(where.kit, {space.id for space in reached}, shapes, verdicts)
    for space in reached:
        names = [*lots[space.id], *(f"the {name}" for name in prints[space.id])]
        if names:
            text = f"Children can reach {called(space)}, and small parts are in it: {named(names)}."
            found = caution("small-parts-in-reach", space.id, text)
            yield replace(found, severity=Severity.WARN) if small_children else found


def is_small(lot: Lot, verdicts: Verdicts) -> bool:
    """Whether one thing of a lot, at its smallest, goes into the small-parts cylinder.

    Args:
        lot: with the measures of its things.
        verdicts: those reached before.
    """
    if lot.shape is Shape.LOOSE:
        return True
    points = _hull(lot)
    if points is None or _is_wide(lot):
        return False
    (small,) = verdicts.of(f"small thing {points.tolist()}", lambda: (float(goes_in(points)),))
    return bool(small)


def _is_wide(lot: Lot) -> bool:
    """Whether a thing is wider than the cylinder however it is turned.

    Of a round thing every view is as wide as it; of a box the mean square of its corners from the middle of any view is
    at least that of its two shorter sides.
    """
    if lot.diameter:
        return lot.diameter.smallest > DIAMETER + TENTH
    sides = sorted(side.smallest for side in (lot.width, lot.depth, lot.height or lot.thickness) if side)
    return math.hypot(*sides[:2]) > DIAMETER + TENTH


def _hull(lot: Lot) -> Floats | None:
    """Corners of one thing; none of sheets and of things without measures."""
    if lot.diameter and lot.height:
        turn = 2 * np.pi * np.arange(_SIDES) / _SIDES
        ring = lot.diameter.smallest / 2 * np.column_stack([np.cos(turn), np.sin(turn)])
        return np.vstack([np.column_stack([ring, np.full(_SIDES, z)]) for z in (0.0, lot.height.smallest)])
    if lot.shape is not Shape.FLAT and lot.width and lot.depth and lot.height:
        return _box(lot.width.smallest, lot.depth.smallest, lot.height.smallest)
    if lot.shape is Shape.FLAT and lot.width and lot.depth and lot.thickness:
        return _box(lot.width.smallest, lot.depth.smallest, lot.thickness.smallest)
    return None


def _box(*size: float) -> Floats:
    corners: Floats = np.stack(np.meshgrid(*([0.0, side] for side in size)), axis=-1).reshape(-1, 3)
    return corners


def _small_prints(
    kit: Kit, spaces: set[str], shapes: Mapping[str, Mesh], verdicts: Verdicts
) -> Mapping[str, list[str]]:
    """Names of the parts with small pieces, by the space that they are in."""
    there: dict[str, set[str]] = defaultdict(set)
    for placement in kit.placements:
        if placement.space in spaces:
            there[placement.part].add(placement.space)
    names = {part.id: part.name for part in kit.parts}
    found: dict[str, list[str]] = defaultdict(list)
    for piece in kit.pieces:
        if piece.part in there and piece.file in shapes and _goes_in(shapes[piece.file], verdicts):
            for space in sorted(there[piece.part]):
                found[space].append(names[piece.part])
    return found


def _goes_in(mesh: Mesh, verdicts: Verdicts) -> bool:
    """Whether a mesh goes in, remembered."""
    low, high = mesh.box
    if float((high - low).max()) > np.hypot(DIAMETER, DEEP):
        return False
    (small,) = verdicts.of(f"small part {mesh.key}", lambda: (float(goes_in(mesh.vertices)),))
    return bool(small)
