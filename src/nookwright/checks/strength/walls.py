"""Walls of trays: loose things that lean on them for years, a hand that pushes them, a drawer that is shut hard.

A wall is a plate that is clamped in its floor, rests at its ends and is free at its rim. Bending along its height pulls
at the layers of a print; bending along its length does not. A wall that bends by more than half its thickness stiffens:
what is found for it is more than it really bears. What this does not know: how well layers stick.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from nookwright.checks.bodies import matrix_of
from nookwright.checks.forces.slams import slams_of
from nookwright.checks.strength.backing import NOTHING, behind
from nookwright.checks.strength.impact import bulge
from nookwright.checks.strength.plates import STANDING, THIN, Bent, Patch, Plate, Spread
from nookwright.checks.strength.vessels import OUTWARD, vessel_of
from nookwright.checks.strength.worst import Case, worst_of
from nookwright.checks.weights import weight_n
from nookwright.ground.findings import Severity
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from nookwright.checks.bodies import Shape
    from nookwright.checks.strength.loads import Carried, Heap
    from nookwright.checks.strength.plastics import Plastic
    from nookwright.checks.strength.vessels import Panel, Vessel
    from nookwright.checks.verdicts import Verdicts
    from nookwright.exchange.kit import KitSpace, Placement
    from nookwright.ground.findings import Finding

AT_REST = Fact(
    0.5, unit="1", kind=Kind.MEMORY, source="EN 1991-4: K = 1 - sin 30 deg, what loose things press sideways at rest."
)
HAND_N = Fact(10.0, unit="N", kind=Kind.CHOICE, source="A push of a kilogram on a rim: a hand that rummages.")
HAND_WIDE = Fact(20.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="Two fingertips side by side.")
BENDING_GAIN = Fact(
    1.5,
    unit="1",
    kind=Kind.HANDBOOK,
    source="A rectangular section bears 1.5 times the moment of its first yield before it gives way, at once.",
)
CROSSED = Fact(0.5, unit="1", kind=Kind.CALCULATED, source="A cosine: parts are turned by right angles, 0 or 1.")
TALLEST_LEAN = Fact(2.0, unit="1", kind=Kind.CALCULATED, source="Things twice as high as the wall press on its rim.")


@dataclass(frozen=True)
class _Wall:
    """A wall of a placed tray and what belongs to it."""

    placement: Placement
    space: KitSpace
    panel: Panel
    vessel: Vessel
    plastic: Plastic
    across: bool

    @property
    def plate(self) -> Plate:
        """The wall as a plate."""
        return Plate(self.panel.span, self.panel.height, self.panel.thickness, STANDING)

    @property
    def length(self) -> float:
        """Of the whole wall, inside, mm."""
        return self.vessel.depth if self.panel.axis == 0 else self.vessel.width

    def share(self, bent: Bent, *, years: bool) -> float:
        """Stress as a share of what the plastic bears, in the worse direction."""
        along = self.plastic.years_mpa if years else self.plastic.strength_mpa * BENDING_GAIN
        upright = along * (self.plastic.across if self.across else 1.0)
        return max(bent.along_x / along, bent.along_y / upright)


def check_walls(carried: Carried, shapes: Mapping[str, Shape], verdicts: Verdicts) -> tuple[Finding, ...]:
    """Check the walls of every tray that is placed.

    Args:
        carried: the kit and what its parts carry.
        shapes: sound meshes by file.
        verdicts: those reached before.
    """
    walls = tuple(_walls(carried, shapes, verdicts))
    leaning = [case for wall in walls for case in _leant_on(wall, carried.heaps.get(wall.placement.id, ()))]
    return (
        *worst_of(
            "wall-leant-on", Severity.STOP, leaning,
            "Loose things lean on its {what} wall with {stress:.1f} MPa for years; the plastic bears {limit:.1f} MPa.",
            "Put less into it, or divide it ([lot.tray] columns or rows): fixed dividers hold its walls.",
        ),
        *worst_of(
            "wall-pushed", Severity.WARN, [_pushed(wall) for wall in walls],
            f"A push of {HAND_N:g} N at the middle of the rim of its {{what}} wall bends it by up to {{sag:.1f}} mm "
            "with {stress:.1f} MPa; the plastic bears {limit:.1f} MPa at once.",
            "Divide it ([lot.tray] columns or rows): fixed dividers hold its walls. Or lift it by its corners.",
        ),
        *worst_of(
            "wall-slammed", Severity.WARN, [case for wall in walls for case in _slammed(wall, carried)],
            "Its things bulge its {what}: by up to {sag:.1f} mm, with {stress:.1f} MPa; the plastic bears "
            "{limit:.1f} MPa at once.",
            "Keep something close behind that wall, divide the tray, or keep the heaviest of it elsewhere.",
        ),
    )  # fmt: skip


def _walls(carried: Carried, shapes: Mapping[str, Shape], verdicts: Verdicts) -> Iterator[_Wall]:
    """All walls of all trays."""
    spaces = {space.id: space for space in carried.kit.spaces}
    for placement in carried.kit.placements:
        part = carried.parts[placement.part]
        plastic = carried.plastic(part.id)
        if part.kind == "tray" and plastic is not None and part.stl in shapes:
            vessel = vessel_of(shapes[part.stl], verdicts)
            for panel in vessel.panels:
                yield _Wall(placement, spaces[placement.space], panel, vessel, plastic, carried.upright[part.id])


def _case(wall: _Wall, bent: Bent, *, years: bool) -> Case:
    """A wall under a load, by the direction that bears least."""
    share = wall.share(bent, years=years)
    upright = (wall.plastic.across if wall.across else 1.0) * (1.0 if years else BENDING_GAIN)
    along = wall.plastic.years_mpa if years else wall.plastic.strength_mpa
    limit = along * upright
    return Case(
        wall.placement.part, wall.placement.label, wall.panel.side, share * limit, limit, bent.sag, not bent.thin
    )


def _leant_on(wall: _Wall, heaps: tuple[Heap, ...]) -> Iterator[Case]:
    """Loose things press sideways, most at the floor."""
    for heap in heaps:
        if heap.loose:
            pressure = AT_REST * weight_n(heap.g_mm3) * min(heap.height, wall.panel.height)
            bent = wall.plate.bent(Spread.LEANING, pressure, wall.plastic.creep_modulus_mpa)
            yield _case(wall, bent, years=True)


def _pushed(wall: _Wall) -> Case:
    """A hand at the middle of the rim."""
    high, wide = (round(min(HAND_WIDE / side, 1.0), 1) or 0.1 for side in (wall.panel.height, wall.panel.span))
    bent = wall.plate.bent(Patch(0.5, 1 - high / 2, wide, high), HAND_N, wall.plastic.modulus_mpa)
    return _case(wall, bent, years=False)


def _slammed(wall: _Wall, carried: Carried) -> Iterator[Case]:
    """Things thrown against a wall when its space is stopped."""
    mass_g = carried.inside_g[wall.placement.id]
    turn = float(matrix_of(wall.placement.space_from_part)[1, wall.panel.axis])
    if mass_g <= 0 or abs(turn) < CROSSED:
        return
    highest = max(heap.height for heap in carried.heaps[wall.placement.id])
    lean = min(TALLEST_LEAN, max(1.0, highest / wall.panel.height))
    shared = 1 + sum(1 for one in wall.vessel.panels if one.side not in OUTWARD and one.axis == wall.panel.axis)
    one_n = wall.plate.bent(Spread.EVEN, lean / (wall.length * wall.panel.height), wall.plastic.modulus_mpa)
    faces = OUTWARD.get(wall.panel.side, 0) * round(turn)
    for slam in slams_of(carried.surveyed[wall.space.id]):
        if faces not in (0, slam.throw.sign):
            continue
        there = behind(carried, wall.placement.id, wall.space, 1, faces) if faces else NOTHING
        sag = bulge(mass_g / shared, one_n.sag, accel_g=slam.accel_g, speed_m_s=slam.speed_m_s, behind=there)
        scale, thin = sag / one_n.sag, sag <= THIN * wall.panel.thickness
        bent = Bent(sag, one_n.along_x * scale, one_n.along_y * scale, thin)
        yield replace(_case(wall, bent, years=False), what=f"{wall.panel.side} wall {slam.words}")
