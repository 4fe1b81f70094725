"""Faults of what holds parts: cones that are too few, a seat that goes on too seldom, a lid that may slip."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
from manifold3d import Manifold, OpType

from nookwright.checks.bodies import matrix_of
from nookwright.checks.seats.lids import LIES_ON, deck_gap
from nookwright.checks.seats.members import members_of
from nookwright.checks.seats.tolerances import of_two_prints
from nookwright.checks.verdicts import Verdicts
from nookwright.ground.findings import Severity
from nookwright.module.pattern import Pattern
from nookwright.module.seat import LEAD_IN, LEAD_IN_HEIGHT
from nookwright.sizing.printers.household import household_of

from .in_seats import DRAW, PITCH, SEAT, STUB
from .solids import box, post, size_of
from .table import plain

if TYPE_CHECKING:
    from collections.abc import Sequence

    from .harness import Sample

SOCKETS = (16, 4)  # of the tray of the straws
HARDLY = 0.03  # mm less than what must be


def _without_cones(sample: Sample, spots: Sequence[tuple[float, float]]) -> Sample:
    """With cones of the large drawer's panel cut off, each by where it stands in its space."""
    panel = sample.placed("liner panel")
    x0, y0, _ = matrix_of(panel.space_from_part)[:3, 3]
    off = [box((x - x0 - 5, y - y0 - 5, SEAT.panel + STUB), (x - x0 + 5, y - y0 + 5, 9)) for x, y in spots]
    return sample.cut(panel.part, lambda solid: solid - Manifold.batch_boolean(off, OpType.Add))


def _cells_of(sample: Sample, label: str) -> list[tuple[float, float]]:
    """Middles of the cells below a part, in its space."""
    low, high = sample.box_of(label)
    counts = [round(float(high[axis] - low[axis] + 0.6) / PITCH) for axis in (0, 1)]
    return [
        (float(low[0]) - 0.3 + (col + 0.5) * PITCH, float(low[1]) - 0.3 + (row + 0.5) * PITCH)
        for col in range(counts[0])
        for row in range(counts[1])
    ]


@plain("part-turns", besides=("cone-missing",))
def turns_freely(sample: Sample) -> Sample:
    """A tray in the open stands on the only cone far and wide: it turns about it as it likes."""
    alone = sample.moved("coin-cells", x=4 * PITCH, y=-12 * PITCH)
    (x, y), *_, last = _cells_of(alone, "coin-cells")
    around = [(x + col * PITCH, y + row * PITCH) for col in range(-2, 4) for row in range(-2, 4)]
    return _without_cones(alone, [spot for spot in around if math.dist(spot, last) > 1])


@plain("part-turns", severity=Severity.WARN, besides=("cone-missing",))
def turns_to_its_neighbour(sample: Sample) -> Sample:
    """A tray some way off another stands on one cone alone: it turns until it meets its neighbour."""
    apart = sample.moved("coin-cells", x=4 * PITCH, y=-10 * PITCH)
    return _without_cones(apart, _cells_of(apart, "coin-cells")[:2])


@plain("part-not-engaged", severity=Severity.WARN, besides=("cone-missing",))
def too_few_cones(sample: Sample) -> Sample:
    """A narrow part stands where cones are so far apart that none is below it, as its liner says."""
    spaces = tuple(
        one.model_copy(
            update={"liners": tuple(liner.model_copy(update={"pattern": Pattern.EVERY_SECOND}) for liner in one.liners)}
        )
        if one.id == "drawer"
        else one
        for one in sample.kit.spaces
    )
    return _without_cones(sample.saying(spaces=spaces), _cells_of(sample, "guard, knife"))


@plain("seat-unlikely", besides=("socket-tight",))
def sockets_alike(sample: Sample) -> Sample:
    """All sockets of a long tray are as narrow as that in its middle: it goes on too seldom."""
    (cols, rows), part = SOCKETS, sample.placed("straws").part
    width, depth, _ = next(one.size for one in sample.kit.parts if one.id == part)
    x0, y0 = (width - (cols - 1) * PITCH) / 2, (depth - (rows - 1) * PITCH) / 2
    places = [(x0 + col * PITCH, y0 + row * PITCH) for col in range(cols) for row in range(rows)]

    def narrower(solid: Manifold) -> Manifold:
        left, _, _, right, _, _ = solid.bounding_box()
        here = [(x, y) for x, y in places if left < x - SEAT.cone_base and x + SEAT.cone_base < right]  # of this piece
        filled = [post(x, y, 0.05, SEAT.socket_depth + 0.1, diameter=9) for x, y in here]
        holes = [_socket(x, y) for x, y in here]
        return solid + Manifold.batch_boolean(filled, OpType.Add) - Manifold.batch_boolean(holes, OpType.Add)

    return sample.cut(part, narrower)


def _socket(x: float, y: float) -> Manifold:
    """A socket as it is in the middle of a part."""
    radius = SEAT.cone_base + SEAT.clearance
    bore = Manifold.cylinder(SEAT.socket_depth, radius, radius - DRAW * SEAT.socket_depth, 96)
    mouth = Manifold.cylinder(LEAD_IN_HEIGHT, radius + LEAD_IN, radius - DRAW * LEAD_IN_HEIGHT, 96)
    return (bore + mouth).translate((x, y, 0))


@plain("lid-loose", severity=Severity.WARN)
def lid_may_slip(sample: Sample) -> Sample:
    """A deck lid that is pushed aside lies on its ledge as drawn, and hardly where printers make its gap wider."""
    lid, tray = sample.placed("deck lid, erasers"), sample.placed("erasers")
    members = members_of(sample.kit, sample.shapes | sample.piece_shapes, Verdicts(None))
    between = np.linalg.inv(matrix_of(tray.space_from_part)) @ matrix_of(lid.space_from_part)
    gap = deck_gap(members[lid.part], members[tray.part], between, 0)
    edges = of_two_prints(household_of(sample.room).envelope, gap.size)
    less = (gap.kept(edges.loose) - LIES_ON + HARDLY) / 2

    def narrower(solid: Manifold) -> Manifold:
        trimmed = solid.trim_by_plane((1, 0, 0), less)
        return trimmed.trim_by_plane((-1, 0, 0), less - size_of(solid)[0]).translate((-less, 0, 0))

    return sample.cut(lid.part, narrower).moved_alone(lid.id, *(matrix_of(lid.space_from_part)[:3, 0] * less).tolist())
