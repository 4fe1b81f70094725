"""Whether a piece prints without support as it stands, by its own layers.

Each layer is compared with the one below it, grown by what 45 degrees reach in a layer. What lies outside is carried at
both ends as a bridge, or it hangs. An island that meets nothing below begins in the air. Of every layer the walls are
looked at, of the first its hold on the bed. What this does not know: cooling, sag of long bridges, warp, strings.
"""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.checks.bridges import Carriers, span_of
from nookwright.checks.sections import STEEPEST_OVERHANG_DEG, Sections
from nookwright.checks.thin_walls import grown, holds_a_disc, length_of, opened, thin_walls
from nookwright.ground.findings import Finding, Severity
from nookwright.ground.sources import Fact, Kind
from nookwright.ground.tolerances import MESH

if TYPE_CHECKING:
    from manifold3d import CrossSection

    from nookwright.exchange.stl import Triangles, Vertices

LONGEST_BRIDGE = Fact(
    20.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="Printers of the trade lay bridges of this length flat."
)
FIRST_LAYER_SPREAD = Fact(
    0.2, unit="mm", kind=Kind.COMMON_PRACTICE, source="The first layer is pressed out by 0.1 to 0.25 on each side."
)
FIRST_LAYER_LEAST_MM2 = Fact(
    20.0, unit="mm2", kind=Kind.CHOICE, source="Less than a square of 4.5 on the bed is knocked over by the nozzle."
)
SLIMMEST = Fact(
    10.0, unit="1", kind=Kind.COMMON_PRACTICE, source="Height over base; beyond this a piece sways and wants a brim."
)


@dataclass(frozen=True)
class _Fault:
    """One place: how bad it is, and where."""

    measure: float
    x: float
    y: float
    z: float


_Faults = dict[str, list[_Fault]]


def printability(
    subject: str, vertices: Vertices, triangles: Triangles, *, layer: float, line: float
) -> tuple[Finding, ...]:
    """What keeps a piece from printing without support.

    Args:
        subject: name of the piece.
        vertices: (n, 3), as it stands on the bed, mm.
        triangles: (m, 3), counter-clockwise from outside, closed.
        layer: layer height, mm.
        line: width of a line, mm.

    Returns:
        One finding for each kind of fault, with the worst place, sorted.

    Raises:
        SolidError: the mesh is not closed.
    """
    sections = Sections(vertices, triangles, layer)
    faults: _Faults = defaultdict(list)
    for number in sections.hanging:
        _look_below(sections, number, line, faults)
    for number in sections.walls:
        thin = thin_walls(sections, number, line)
        faults["wall-thin"] += [_fault(wall, length_of(wall), sections.middle(number)) for wall in thin]
    _look_at_the_first(sections, line, faults)
    return tuple(sorted(_finding(subject, code, found) for code, found in faults.items() if found))


def _look_below(sections: Sections, number: int, line: float, faults: _Faults) -> None:
    """Compare a layer with the one below it."""
    here, below = sections.at(number), sections.at(number - 1)
    reach = sections.layer * math.tan(math.radians(STEEPEST_OVERHANG_DEG)) + MESH
    reach += FIRST_LAYER_SPREAD if number == 1 else 0.0
    support = grown(below, reach)
    bare, z = here - support, sections.middle(number)
    if number in sections.beginning:
        for island in here.decompose():
            if (island ^ support).area() < MESH:
                faults["island-in-air"].append(_fault(island, island.area(), z))
                bare -= island
    carriers = Carriers.of(support)
    for region in bare.decompose():
        if holds_a_disc(region):
            _judge(region, carriers, line, z, faults)


def _judge(region: CrossSection, carriers: Carriers, line: float, z: float, faults: _Faults) -> None:
    """A region without plastic below it: a bridge, one too long, or an overhang."""
    span = span_of(region, carriers, spacing=line / 2, enough=LONGEST_BRIDGE)
    if span is None:
        faults["overhang"].append(_fault(region, region.area(), z))
    elif span > LONGEST_BRIDGE:
        faults["bridge-long"].append(_fault(region, span, z))


def _look_at_the_first(sections: Sections, line: float, faults: _Faults) -> None:
    """The hold on the bed, and how slim the piece is."""
    first = sections.at(0)
    z = sections.middle(0)
    held = 0.0
    for island in first.decompose():
        kept = opened(island, line / 2 - MESH)
        held += kept.area()
        if kept.is_empty():
            faults["first-layer-small"].append(_fault(island, island.area(), z))
    if held < FIRST_LAYER_LEAST_MM2 and "first-layer-small" not in faults:
        faults["first-layer-small"].append(_fault(first, held, z))
    x0, y0, x1, y1 = first.bounds() if not first.is_empty() else (0.0, 0.0, 0.0, 0.0)
    slim = sections.count * sections.layer / max(min(x1 - x0, y1 - y0), line)
    if slim > SLIMMEST:
        faults["tall-slim"].append(_fault(first, slim, z))


def _fault(region: CrossSection, measure: float, z: float) -> _Fault:
    x0, y0, x1, y1 = region.bounds() if not region.is_empty() else (0.0, 0.0, 0.0, 0.0)
    return _Fault(measure, (x0 + x1) / 2, (y0 + y1) / 2, z)


_SAID = {
    "overhang": (
        Severity.STOP,
        "{n} places hang out flatter than 45 degrees and are not carried at both ends, the largest {m:.1f} mm2",
        "Put a slope of 45 degrees under it, or carry it on two opposite sides.",
    ),
    "island-in-air": (
        Severity.STOP,
        "{n} islands begin in the air, the largest of {m:.1f} mm2",
        "Turn the piece over, or join them to what is below.",
    ),
    "bridge-long": (
        Severity.WARN,
        f"{{n}} bridges are longer than {LONGEST_BRIDGE:g} mm, the longest {{m:.1f}} mm",
        "Put a rib under it, or an arch of 45 degrees.",
    ),
    "first-layer-small": (
        Severity.WARN,
        f"{{n}} places hold badly on the bed, the largest {{m:.1f}} mm2; wanted: a line, {FIRST_LAYER_LEAST_MM2:g} mm2",
        "Print it with a brim, or lay it down.",
    ),
    "wall-thin": (
        Severity.WARN,
        "{n} walls are thinner than the narrowest line, the longest {m:.1f} mm long",
        "Make the wall whole lines thick, or print it with a smaller nozzle.",
    ),
    "tall-slim": (
        Severity.NOTE,
        "It stands {m:.0f} times as high as its base is deep",
        "Print it with a brim, slowly.",
    ),
}  # fmt: skip


def _finding(subject: str, code: str, faults: list[_Fault]) -> Finding:
    severity, words, remedy = _SAID[code]
    worst = max(faults, key=lambda fault: fault.measure)
    said = words.format(n=len(faults), m=worst.measure)
    return Finding(code, severity, subject, f"{said}, near ({worst.x:.1f}, {worst.y:.1f}, {worst.z:.1f}).", remedy)
