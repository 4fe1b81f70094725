"""Faults of what closes or labels a part: name strips that slip past their lips, caps that do not hold or go in."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.bodies import matrix_of
from nookwright.checks.seats.dividers import HELD_BY
from nookwright.checks.seats.press_lids import GIVES_WAY, STAYS_ON
from nookwright.checks.seats.strips import PLATE, behind_lips, cap_room
from nookwright.checks.seats.tolerances import of_two_prints
from nookwright.ground.findings import Severity
from nookwright.sizing.printers.household import household_of

from .solids import box
from .table import sized

if TYPE_CHECKING:
    from manifold3d import Manifold

    from nookwright.checks.seats.tolerances import Edges
    from nookwright.exchange.kit import KitPart

    from .harness import Sample

HOLLOW = "riser"


@sized("strip-loose", f"{HELD_BY:g} mm behind a lip")
def strip_short(sample: Sample, size: float) -> Sample:
    """A name strip is so short that it slips past a lip."""
    strip = sample.part("name strip")
    placed = sample.placed(strip.id)
    tray = sample.placed(placed.stands_on[0])
    between = np.linalg.inv(matrix_of(tray.space_from_part)) @ matrix_of(placed.space_from_part)
    held = behind_lips(strip, ((sample.shape_of(tray.part), np.eye(4)),), between)
    spare = held - max(0.0, _edges(sample, max(strip.size[:2])).loose) - HELD_BY
    width, depth, height = strip.size
    return sample.cut(strip.id, lambda solid: solid ^ box((0, 0, -1), (width - size * spare, depth, height + 1)))


@sized("cap-loose", f"{STAYS_ON:g} mm of room", severity=Severity.WARN)
def cap_small(sample: Sample, size: float) -> Sample:
    """The skirt of a cap is so small that ballast pushes it out."""
    cap, room = _cap(sample)
    return sample.cut(
        cap.id, lambda solid: _skirted(solid, cap, -size * (STAYS_ON - room - _edges(sample, cap.size[0]).loose))
    )


@sized("cap-tight", f"{GIVES_WAY:g} mm that it gives way")
def cap_large(sample: Sample, size: float) -> Sample:
    """The skirt of a cap is larger than its hole."""
    cap, room = _cap(sample)
    spare = room - _edges(sample, cap.size[0]).tight + GIVES_WAY
    return sample.cut(cap.id, lambda solid: _skirted(solid, cap, size * spare))


def _edges(sample: Sample, size: float) -> Edges:
    return of_two_prints(household_of(sample.room).envelope, size)


def _cap(sample: Sample) -> tuple[KitPart, float]:
    """The cap of the kit, and the room beside its skirt, mm."""
    cap, below = sample.part("cap"), sample.part(HOLLOW)
    eye = np.eye(4)
    room = cap_room(cap.size[2], ((sample.shape_of(cap.id), eye),), ((sample.shape_of(below.id), eye),))
    assert room
    return cap, min(room)


def _skirted(solid: Manifold, cap: KitPart, wider: float) -> Manifold:
    """A cap whose skirt is wider by so much, both sides together, mm."""
    high = cap.size[2]
    skirt = solid.slice(high - PLATE).bounds()
    low, far = np.array(skirt[:2]) - wider / 2, np.array(skirt[2:]) + wider / 2
    roots = [
        high for high in np.arange(PLATE, high, PLATE) if solid.slice(high).area() < solid.slice(PLATE / 2).area() / 2
    ]
    plate = float(roots[0])
    whole = box((-1, -1, plate), (cap.size[0] + 1, cap.size[1] + 1, high + 1))
    wide = box((float(low[0]), float(low[1]), plate), (float(far[0]), float(far[1]), high))
    if wider < 0:
        return solid - (whole - wide)
    own = box((float(skirt[0]), float(skirt[1]), plate - PLATE), (float(skirt[2]), float(skirt[3]), high))
    wall = box((float(low[0]), float(low[1]), plate - PLATE), (float(far[0]), float(far[1]), high)) - own
    return solid + wall
