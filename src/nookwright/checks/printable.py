"""Whether a piece prints without support as it stands, by its own layers.

Each layer is compared with the one below it, grown by what 45 degrees reach in a layer. What lies outside is carried at
both ends as a bridge, or it hangs. An island that meets nothing below begins in the air. Of every layer the walls are
looked at, of the first its hold on the bed. What this does not know: cooling, sag of long bridges, warp, strings.
"""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

from nookwright.checks.bridges import LONGEST_BRIDGE, NUDGE, Carriers, span_of
from nookwright.checks.print_words import FIRST_LAYER_LEAST_MM2, Flaw, finding
from nookwright.checks.sections import Sections
from nookwright.checks.thin_walls import ThinWalls, grown, holds_a_disc, length_of
from nookwright.ground.sources import Fact, Kind
from nookwright.ground.tolerances import MESH

if TYPE_CHECKING:
    from manifold3d import CrossSection

    from nookwright.exchange.stl import Triangles, Vertices
    from nookwright.ground.findings import Finding

SLIMMEST = Fact(
    10.0, unit="1", kind=Kind.COMMON_PRACTICE, source="Height over base; beyond this a piece sways and wants a brim."
)


_Flaws = dict[str, list[Flaw]]


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
        One finding for each kind of flaw, with the worst place, sorted.

    Raises:
        SolidError: the mesh is not closed.
    """
    return tuple(sorted(finding(subject, each) for each in flaws(vertices, triangles, layer=layer, line=line)))


def flaws(vertices: Vertices, triangles: Triangles, *, layer: float, line: float) -> tuple[Flaw, ...]:
    """The same as plain numbers: of each kind of flaw the worst place, and how many there are.

    Args:
        vertices: (n, 3), as it stands on the bed, mm.
        triangles: (m, 3), counter-clockwise from outside, closed.
        layer: layer height, mm.
        line: width of a line, mm.

    Raises:
        SolidError: the mesh is not closed.
    """
    sections = Sections(vertices, triangles, layer)
    found: _Flaws = defaultdict(list)
    for number in sections.hanging:
        _look_below(sections, number, line, found)
    for number, wall in ThinWalls(sections, line).found():
        found["wall-thin"].append(_flaw("wall-thin", wall, length_of(wall), sections.middle(number)))
    _look_at_the_first(sections, line, found)
    corner = (*vertices[:, :2].min(axis=0).tolist(), sections.bottom)
    return tuple(_worst(each, corner) for _, each in sorted(found.items()) if each)


def _worst(found: list[Flaw], corner: tuple[float, float, float]) -> Flaw:
    """The worst of one kind, seen from the front left corner of the piece's box on the bed."""
    worst = max(found, key=lambda flaw: flaw.measure)
    x, y, z = (at - start for at, start in zip(worst.at, corner, strict=True))
    return Flaw(worst.code, len(found), worst.measure, (x, y, z))


def _look_below(sections: Sections, number: int, line: float, found: _Flaws) -> None:
    """Compare a layer with the one below it."""
    here, below = sections.at(number), sections.at(number - 1)
    support = grown(below, sections.reach(number))
    bare, z = here - support, sections.middle(number)
    if number in sections.beginning:
        for island in here.decompose():
            if (island ^ support).area() < MESH:
                found["island-in-air"].append(_flaw("island-in-air", island, island.area(), z))
                bare -= island
    regions = [region for region in bare.decompose() if holds_a_disc(region)] if not bare.is_empty() else []
    if regions and not _reach_beyond(regions, here):  # carried all round: most of them are ceilings of sockets
        regions = [region for region in regions if _narrowest(region) > LONGEST_BRIDGE]
    if not regions:
        return
    carriers = Carriers.of(support)
    for region in regions:
        _judge(region, carriers, line, z, found)


def _reach_beyond(regions: list[CrossSection], here: CrossSection) -> bool:
    """Whether some of the regions of a layer have an edge of the layer, which nothing carries."""
    from manifold3d import CrossSection

    return not (grown(CrossSection.compose(regions), NUDGE) - here).is_empty()


def _narrowest(region: CrossSection) -> float:
    """The shorter side of its box, mm."""
    x0, y0, x1, y1 = region.bounds()
    return float(min(x1 - x0, y1 - y0))


def _judge(region: CrossSection, carriers: Carriers, line: float, z: float, found: _Flaws) -> None:
    """A region without plastic below it: a bridge, one too long, or an overhang."""
    span = span_of(region, carriers, spacing=line / 2, enough=LONGEST_BRIDGE)
    if span is None:
        found["overhang"].append(_flaw("overhang", region, region.area(), z))
    elif span > LONGEST_BRIDGE:
        found["bridge-long"].append(_flaw("bridge-long", region, span, z))


def _look_at_the_first(sections: Sections, line: float, found: _Flaws) -> None:
    """The hold on the bed, and how slim the piece is."""
    first = sections.at(0)
    z = sections.middle(0)
    held = 0.0
    for island in first.decompose():
        half = line / 2 - MESH
        core = grown(island, -half)
        held += core.area() if core.area() > FIRST_LAYER_LEAST_MM2 else grown(core, half).area()
        if core.is_empty():
            found["first-layer-small"].append(_flaw("first-layer-small", island, island.area(), z))
    if held < FIRST_LAYER_LEAST_MM2 and "first-layer-small" not in found:
        found["first-layer-small"].append(_flaw("first-layer-small", first, held, z))
    x0, y0, x1, y1 = first.bounds() if not first.is_empty() else (0.0, 0.0, 0.0, 0.0)
    slim = sections.count * sections.layer / max(min(x1 - x0, y1 - y0), line)
    if slim > SLIMMEST:
        found["tall-slim"].append(_flaw("tall-slim", first, slim, z))


def _flaw(code: str, region: CrossSection, measure: float, z: float) -> Flaw:
    x0, y0, x1, y1 = region.bounds() if not region.is_empty() else (0.0, 0.0, 0.0, 0.0)
    return Flaw(code, 1, measure, ((x0 + x1) / 2, (y0 + y1) / 2, z))
