"""Racks that are screwed overhead, to a wall or inside a door: bending for years, with a large factor, and the screws.

Their trough is measured in level sections of the file, which lie across the trough. Below a shelf it is half a ring
whose ends do not turn, with the weight in a line at its bottom: M = F r / pi (Roark, table 9.2, case 1). On a wall or
a door it is a cantilever with the weight in its middle. The strength across layers counts where a rack is not printed
on its end. What this does not know: the wall, the door, the shelf and the fixings. Somebody must judge them on site.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.strength.outlines import solid_of
from nookwright.checks.strength.probes import grid, solid_along, spread
from nookwright.checks.strength.withdrawal import withdrawal_n_mm
from nookwright.checks.weights import weight_n
from nookwright.ground.findings import Against, Finding, Severity
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from manifold3d import CrossSection

    from nookwright.checks.bodies import Shape
    from nookwright.checks.strength.loads import Carried
    from nookwright.checks.strength.plastics import Plastic
    from nookwright.checks.verdicts import Verdicts
    from nookwright.exchange.kit import KitOrder, KitPart

OVERHEAD = Fact(
    6.0,
    unit="1",
    kind=Kind.CHOICE,
    source="Strength by stress of what hangs over heads: 4.5, as a load of years may use 22 % of it, and a third more "
    "for layers that stick less than those of the data sheet.",
)
BUMP = Fact(
    2.0, unit="1", kind=Kind.CALCULATED, source="A load let go at rest on a spring presses with twice its weight."
)
LEAST_THREAD = Fact(25.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="Of thread in wood for what hangs on a wall.")
THICKNESS_STEP = Fact(0.05, unit="mm", kind=Kind.CHOICE, source="Thicknesses of a profile are found to this.")
THICKEST = Fact(16.0, unit="mm", kind=Kind.CHOICE, source="A thicker trough is not looked for.")
WIDEST_HOLLOW = Fact(1.5, unit="1", kind=Kind.CHOICE, source="Of the things' diameter: what is wider is no trough.")
_ACROSS = 25  # lines across a trough each way
_LEVELS = (0.3, 0.42, 0.5, 0.58, 0.7)  # of its length, at which a profile is looked at
_HANGING = "under a shelf"
_SCREW = re.compile(r"(\d+)")
_JUDGE = (
    "The wall, the door or the shelf, and the screws or plugs in it, must be judged on site by someone who knows "
    "them. Nothing printed may hold what could hurt somebody by falling, and local rules go first."
)


@dataclass(frozen=True)
class Trough:
    """A rack's profile: the thinnest place of its trough, the radius in the middle of its wall, its length, in mm."""

    wall: float
    radius: float
    length: float


def trough_moment(force_n: float, radius: float, *, hanging: bool) -> float:
    """Largest moment in a trough, N mm.

    Args:
        force_n: of all that lies in it.
        radius: in the middle of its wall, mm.
        hanging: from both sides, below a shelf; else from its back.

    >>> round(trough_moment(10.0, 30.0, hanging=True), 1), trough_moment(10.0, 30.0, hanging=False)
    (95.5, 300.0)
    """
    return force_n * radius / math.pi if hanging else force_n * radius


def trough_of(shape: Shape, diameter: float, verdicts: Verdicts) -> Trough:
    """The trough of a rack as its file has it.

    Args:
        shape: of the rack, its trough along z.
        diameter: of what lies in it, mm: the hollow is no narrower.
        verdicts: those reached before.
    """
    wall = verdicts.of(f"trough {shape.key}", lambda: (_thinnest(shape),))[0]
    length = float(shape.box[1][2] - shape.box[0][2])
    return Trough(wall, (max(diameter, _hollow(shape, diameter)) + wall) / 2, length)


def _thinnest(shape: Shape) -> float:
    """The thinnest place of the profile, mm: what must be worn away until it is no longer in one piece."""
    solid = solid_of(shape)
    low, length = float(shape.box[0][2]), float(shape.box[1][2] - shape.box[0][2])
    return max(_thinnest_of(solid.slice(low + level * length)) for level in _LEVELS)


def _thinnest_of(section: CrossSection) -> float:
    """The thinnest place of one section, mm; 0 where a hole for a screw parts it."""
    if len(section.decompose()) != 1:
        return 0.0
    thin, thick = 0.0, float(THICKEST)
    while thick - thin > THICKNESS_STEP:
        tried = (thin + thick) / 2
        thin, thick = (tried, thick) if _stays_whole(section, tried) else (thin, tried)
    return thin


def _stays_whole(section: CrossSection, thickness: float) -> bool:
    """Whether a section that is worn away by half a thickness all round is still one piece as long and as wide."""
    from manifold3d import JoinType

    worn = section.offset(-thickness / 2, JoinType.Miter, 2.0)
    if worn.is_empty() or len(worn.decompose()) != 1:
        return False
    reach, left = (np.array(one.bounds())[2:] - np.array(one.bounds())[:2] for one in (section, worn))
    return bool((left > reach - thickness - THICKNESS_STEP).all())


def _hollow(shape: Shape, diameter: float) -> float:
    """Width of the hollow where a thing lies, mm, by lines across the middle of the length; 0 where none is found."""
    low, high = shape.box
    middle = float(low[2] + high[2]) / 2
    found = 0.0
    for axis in (0, 1):
        points = grid(spread(float(low[1 - axis]), float(high[1 - axis]), _ACROSS), np.array([middle]))
        lines = solid_along(shape, axis, points)
        gaps = (lines.start[1:] - lines.end[:-1])[lines.line[1:] == lines.line[:-1]]
        found = max(found, float(gaps[gaps < WIDEST_HOLLOW * diameter].max(initial=0.0)))
    return found


def check_racks(carried: Carried, shapes: Mapping[str, Shape], verdicts: Verdicts) -> tuple[Finding, ...]:
    """Check every rack that was made to order.

    Args:
        carried: the kit and what its parts carry.
        shapes: sound meshes by file.
        verdicts: those reached before.
    """
    found: list[Finding] = []
    for order in carried.kit.orders:
        part = carried.parts[order.part]
        plastic = carried.plastic(part.id)
        if part.kind == "rack" and plastic is not None and part.stl in shapes:
            found += _thin(order, part, carried, shapes[part.stl], verdicts)
            found += _on_site(order, part, plastic)
    return tuple(found)


def _mass_g(part: KitPart) -> float:
    """Of a rack and all that lies in it, g."""
    return _number(part, "mass_g") * _number(part, "count") + part.mass_g


def _number(part: KitPart, key: str) -> float:
    value = part.parameters.get(key, 0.0)
    return float(value) if isinstance(value, int | float) else 0.0


def _thin(order: KitOrder, part: KitPart, carried: Carried, shape: Shape, verdicts: Verdicts) -> Iterator[Finding]:
    """A trough that bends too much for years."""
    plastic = carried.plastic(part.id)
    if plastic is None:
        return
    trough = trough_of(shape, _number(part, "diameter"), verdicts)
    hanging = part.parameters.get("mount") == _HANGING
    moment = trough_moment(weight_n(_mass_g(part)), trough.radius, hanging=hanging)
    if trough.wall <= 0:
        text = "Its file holds no trough of one piece along its length, so that nothing says what it bears."
        yield Finding(
            "rack-thin", Severity.STOP, order.id, text, "Do not print it: please report it with the room file."
        )
        return
    stress = 6 * moment / (trough.length * trough.wall**2)
    on_end = carried.upright.get(part.id, True)
    strength = plastic.strength_mpa if on_end else plastic.across_mpa
    limit = strength / OVERHEAD
    if stress <= limit:
        return
    need = math.sqrt(6 * moment / (trough.length * limit))
    how = "along" if on_end else "across"
    text = (
        f"Its trough is {trough.wall:.1f} mm thick at its thinnest and bears {stress:.2f} MPa with "
        f"{_mass_g(part) / 1000:.2f} kg; allowed {limit:.2f} MPa, the strength of {plastic.name} {how} its layers "
        f"divided by {OVERHEAD:g}. That asks for {need:.1f} mm."
    )
    remedy = "Do not hang it up. Keep fewer or lighter things in it, make it of wood, or print it on its end."
    against = Against(round(stress, 3), round(limit, 3), "MPa")
    yield Finding("rack-thin", Severity.STOP, order.id, text, remedy, against)


def _on_site(order: KitOrder, part: KitPart, plastic: Plastic) -> Iterator[Finding]:
    """What the screws must hold, and who must judge the rest."""
    screws = max(1.0, _number(part, "screws"))
    named = str(part.parameters.get("screw", ""))
    size = _SCREW.search(named)
    weight = weight_n(_mass_g(part)) * BUMP
    hanging = part.parameters.get("mount") == _HANGING
    # On a wall the weight turns the rack about its lower edge: its arm by the height of the screws over that edge.
    pull = weight / screws * (1.0 if hanging else _arm(part))
    text = f"Full, it pulls each of its {screws:.0f} screws with up to {pull:.0f} N, a bump counted."
    if size:
        hold = withdrawal_n_mm(float(size.group(1)))
        thread = max(float(LEAST_THREAD), math.ceil(pull / hold))
        text += (
            f" A wood screw of {size.group(1)} mm may be pulled with {hold:.1f} N for each mm of thread in sound "
            f"softwood: take screws with {thread:.0f} mm of thread in the wood, or plugs that are rated for it."
        )
    text += f" Not where it gets warmer than {plastic.most_c:g} degrees. {_JUDGE}"
    remedy = "Have it judged, hang twice the load on it for a day before use, and look at it again after a month."
    yield Finding("rack-on-site", Severity.NOTE, order.id, text, remedy)


def _arm(part: KitPart) -> float:
    """Arm of the weight from the wall by the height of the screws over the lower edge, for a rack on a wall or door."""
    diameter, plate = _number(part, "diameter"), _number(part, "plate")
    return (plate + diameter / 2) / max(1.0, part.size[1] - plate)
