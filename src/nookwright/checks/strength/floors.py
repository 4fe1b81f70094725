"""Floors: between the cones they stand on, while the part is lifted with its things, and as roofs and lids that carry.

Floors are printed lying, so they bend along their layers. A floor on cones is a slab on columns; a lid or a roof is a
plate that rests on what is solid below it; a floor that is lifted hangs on the walls. What this does not know: infill.
A thick floor counts as solid at nine tenths of its thickness, since nearly all of its stiffness lies in its skins.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.bodies import matrix_of
from nookwright.checks.seats.members import in_space
from nookwright.checks.seats.rounds import cones_of
from nookwright.checks.strength.plates import RESTING, THIN, Bent, Patch, Plate, Spread, rigidity
from nookwright.checks.strength.roofs import roof_of
from nookwright.checks.strength.vessels import vessel_of
from nookwright.checks.strength.worst import Case, worst_of
from nookwright.checks.weights import weight_n
from nookwright.ground.findings import Severity
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from nookwright.checks.bodies import Shape
    from nookwright.checks.boxes import Floats
    from nookwright.checks.strength.loads import Carried
    from nookwright.checks.strength.plastics import Plastic
    from nookwright.checks.verdicts import Verdicts
    from nookwright.exchange.kit import Placement
    from nookwright.ground.findings import Finding

SLAB_SAG = Fact(
    0.00581,
    unit="1",
    kind=Kind.HANDBOOK,
    source="Timoshenko, article 54: inner square panel on columns, w D / (q a^4).",
)
SLAB_MOMENT = Fact(
    0.196,
    unit="1",
    kind=Kind.MEMORY,
    source="Timoshenko, table 48: moment over a column a tenth of the spacing wide, M / (q a^2); the largest there.",
)
SKINS_FROM = Fact(2.4, unit="mm", kind=Kind.COMMON_PRACTICE, source="A thicker floor has infill between its skins.")
SKINS_SHARE = Fact(
    0.9,
    unit="1",
    kind=Kind.CALCULATED,
    source="Skins of 0.6 and 1.0 of 4.4: 1 - (2.8 / 4.4)^3 = 0.74 of the stiffness, that of 0.9 of the thickness.",
)
JERK = Fact(2.0, unit="1", kind=Kind.CALCULATED, source="What is lifted all at once weighs twice for a moment.")
PRESS_N = Fact(20.0, unit="N", kind=Kind.CHOICE, source="Two kilograms: a hand that leans on a lid.")
PALM = Fact(40.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="The ball of a hand.")
SAG_SHARE = Fact(0.01, unit="1", kind=Kind.CHOICE, source="A shelf that hangs by a hundredth of its span looks bent.")
_SEATED = ("tray", "cradle", "shoe", "rest", "nest", "riser")
_GRID = 24  # places each way at which the nearest cone is looked for


@dataclass(frozen=True)
class Slab:
    """A floor on cones: its sag, mm, and its largest stress, MPa."""

    sag: float
    stress: float


def on_columns(pressure_mpa: float, spacing: float, thickness: float, modulus_mpa: float) -> Slab:
    """An even load on a slab that stands on columns in a square pattern.

    Args:
        pressure_mpa: of the load.
        spacing: of the columns, mm.
        thickness: mm.
        modulus_mpa: of the plastic.
    """
    sag = SLAB_SAG * pressure_mpa * spacing**4 / rigidity(modulus_mpa, thickness)
    return Slab(sag, 6 * SLAB_MOMENT * pressure_mpa * spacing**2 / thickness**2)


def stiff(thickness: float) -> float:
    """Thickness of a solid plate as stiff as a printed floor, mm.

    >>> stiff(1.0), round(stiff(4.4), 2)
    (1.0, 3.96)
    """
    return thickness if thickness <= SKINS_FROM else thickness * SKINS_SHARE


def check_floors(carried: Carried, shapes: Mapping[str, Shape], verdicts: Verdicts) -> tuple[Finding, ...]:
    """Check every floor, lid and roof.

    Args:
        carried: the kit and what its parts carry.
        shapes: sound meshes by file.
        verdicts: those reached before.
    """
    spans = list(_on_cones(carried, shapes, verdicts))
    lifted = list(_lifted(carried, shapes, verdicts))
    roofs = list(_roofs(carried, shapes, verdicts))
    return (
        *worst_of(
            "floor-weak", Severity.STOP, spans,
            "Between the cones it stands on, its floor bears {stress:.1f} MPa for years; the plastic bears "
            "{limit:.1f} MPa.",
            "Take a smooth floor, a full liner, or keep lighter things in it.",
        ),
        *worst_of(
            "floor-lifted", Severity.WARN, lifted,
            "Lifted with its things, its floor hangs by up to {sag:.1f} mm with {stress:.1f} MPa; the plastic bears "
            "{limit:.1f} MPa at once.",
            "Take things out before you lift it, or take a smooth floor.",
        ),
        *worst_of(
            "roof-weak", Severity.STOP, [case for case in roofs if case.what == "weight"],
            "What stands on it bends it with {stress:.1f} MPa for years; the plastic bears {limit:.1f} MPa.",
            "Put lighter things on it, make it narrower, or thicker.",
        ),
        *worst_of(
            "roof-pressed", Severity.WARN, [case for case in roofs if case.what == "hand"],
            f"A hand that leans on it with {PRESS_N:g} N bends it by up to {{sag:.1f}} mm with {{stress:.1f}} MPa; the "
            "plastic bears {limit:.1f} MPa at once.",
            "Make it narrower, or thicker.",
        ),
        *worst_of(
            "roof-sags", Severity.WARN, [case for case in roofs if case.what == "sag"],
            "Under what stands on it, it hangs by up to {stress:.1f} mm after years; more than {limit:.1f} mm shows.",
            "Put lighter things on it, make it narrower, or thicker.", unit="mm",
        ),
    )  # fmt: skip


def _on_cones(carried: Carried, shapes: Mapping[str, Shape], verdicts: Verdicts) -> Iterator[Case]:
    """Seated parts as slabs on the cones below them, at the widest place without one."""
    cones = _cones(carried, shapes, verdicts)
    for placement in carried.kit.placements:
        part = carried.parts[placement.part]
        plastic, below = carried.plastic(part.id), cones.get(placement.space)
        if part.kind not in _SEATED or plastic is None or part.stl not in shapes or below is None:
            continue
        if any(carried.parts[carried.part_of[name]].kind != "panel" for name in placement.stands_on):
            continue
        low, high = carried.boxes[placement.id]
        load_g = carried.inside_g[placement.id] + carried.on_top_g[placement.id]
        pressure = weight_n(load_g) / float((high[0] - low[0]) * (high[1] - low[1]))
        spacing = math.sqrt(2) * _emptiest(low, high, below)
        floor = stiff(vessel_of(shapes[part.stl], verdicts).floor)
        slab = on_columns(pressure, spacing, floor, plastic.creep_modulus_mpa)
        share = min(1.0, float(low[2]) / slab.sag) if slab.sag > 0 else 1.0  # the floor of the space holds it up then
        yield Case(part.id, placement.label, "floor", slab.stress * share, plastic.years_mpa, slab.sag * share)


def _cones(carried: Carried, shapes: Mapping[str, Shape], verdicts: Verdicts) -> dict[str, Floats]:
    """Middles of the cones of all panels, by space."""
    found: dict[str, list[Floats]] = {}
    for placement in carried.kit.placements:
        part = carried.parts[placement.part]
        if part.kind == "panel" and part.stl in shapes:
            matrix = matrix_of(placement.space_from_part)
            found.setdefault(placement.space, []).append(in_space(cones_of(shapes[part.stl], verdicts), matrix)[:, :2])
    return {space: np.vstack(places) for space, places in found.items() if sum(map(len, places))}


def _emptiest(low: Floats, high: Floats, cones: Floats) -> float:
    """Radius of the largest disc of a footprint without a cone below it, mm."""
    near = cones[((cones > low[:2]) & (cones < high[:2])).all(axis=1)]
    if not len(near):
        return float(math.hypot(*(high - low)[:2]) / 2)
    x, y = (np.linspace(low[axis], high[axis], _GRID) for axis in (0, 1))
    points = np.stack(np.meshgrid(x, y), axis=-1).reshape(-1, 1, 2)
    return float(np.sqrt(((points - near) ** 2).sum(axis=2).min(axis=1)).max())


def _lifted(carried: Carried, shapes: Mapping[str, Shape], verdicts: Verdicts) -> Iterator[Case]:
    """Floors that hang on their walls while the part is lifted with what is in it."""
    for placement in carried.kit.placements:
        part = carried.parts[placement.part]
        plastic, load_g = carried.plastic(part.id), carried.inside_g[placement.id]
        if part.kind not in ("tray", "cradle", "nest") or plastic is None or part.stl not in shapes or load_g <= 0:
            continue
        vessel = vessel_of(shapes[part.stl], verdicts)
        plate = Plate(vessel.width, vessel.depth, stiff(vessel.floor), RESTING)
        bent = plate.bent(Spread.EVEN, JERK * weight_n(load_g) / (plate.width * plate.depth), plastic.modulus_mpa)
        yield _case(placement, "floor", bent, plastic.strength_mpa)


def _case(placement: Placement, what: str, bent: Bent, limit: float) -> Case:
    return Case(
        placement.part, placement.label, what, max(bent.along_x, bent.along_y), limit, bent.sag, bound=not bent.thin
    )


def _roofs(carried: Carried, shapes: Mapping[str, Shape], verdicts: Verdicts) -> Iterator[Case]:
    """Lids and roofs under what stands on them, and under a hand."""
    for placement in carried.kit.placements:
        part = carried.parts[placement.part]
        plastic = carried.plastic(part.id)
        if part.kind not in ("lid", "riser", "cap") or plastic is None or part.stl not in shapes:
            continue
        roof = roof_of(shapes[part.stl], verdicts)
        if roof is None:
            continue
        plate = Plate(roof.width, roof.depth, roof.thickness, RESTING)
        yield from _under(placement, plate, carried.on_top_g[placement.id], plastic)


def _under(placement: Placement, plate: Plate, on_top_g: float, plastic: Plastic) -> Iterator[Case]:
    """A plate under a mass for years, and under a hand at once."""
    palm = tuple(round(min(1.0, PALM / side), 1) or 0.1 for side in (plate.width, plate.depth))
    pressed = plate.bent(Patch(0.5, 0.5, *palm), PRESS_N, plastic.modulus_mpa)
    yield _case(placement, "hand", pressed, plastic.strength_mpa)
    if on_top_g > 0:
        pressure = weight_n(on_top_g) / (plate.width * plate.depth)
        bent = plate.bent(Spread.EVEN, pressure, plastic.creep_modulus_mpa)
        yield _case(placement, "weight", bent, plastic.years_mpa)
        limit = SAG_SHARE * min(plate.width, plate.depth)
        yield Case(placement.part, placement.label, "sag", bent.sag, limit, bent.sag, bent.sag > THIN * plate.thickness)
