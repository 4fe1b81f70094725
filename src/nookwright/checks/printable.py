"""Whether a piece prints without support as it stands, by its own layers.

Each layer is compared with the one below it, grown by what 45 degrees reach in a layer. What lies outside is carried at
both ends as a bridge, or it hangs. An island that meets nothing below begins in the air. Of every layer the walls and
the gaps are looked at, of the first its hold on the bed, of the whole how it stands and whether its corners lift.
What this does not know: cooling, sag of long bridges, strings.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from nookwright.checks.bridges import LONGEST_BRIDGE, NUDGE, Carriers, span_of
from nookwright.checks.closing import NO_LOSSES, Losses, closing
from nookwright.checks.lettering import filled_gaps, thin_strokes
from nookwright.checks.print_words import FIRST_LAYER_LEAST_MM2, Flaw, finding
from nookwright.checks.sections import Sections
from nookwright.checks.shrinking import corner_of
from nookwright.checks.standing import HOLD_MPA, SLIMMEST, pulled_mpa, slimness
from nookwright.checks.thin_walls import ThinWalls, grown, holds_a_disc, length_of, width_of
from nookwright.ground.tolerances import MESH
from nookwright.module.lines import NARROWEST_SHARE

if TYPE_CHECKING:
    from manifold3d import CrossSection

    from nookwright.exchange.stl import Triangles, Vertices
    from nookwright.ground.findings import Finding

_Flaws = dict[str, list[Flaw]]


@dataclass(frozen=True, order=True)
class Setting:
    """What a piece is printed with, as far as it decides whether it prints.

    Attributes:
        layer: layer height, mm.
        line: width of a line, mm.
        losses: what the printer may take off insides; nothing to leave gaps out.
        shrinkage: of the plastic as it cools, as a share; 0 to leave corners out.
        lettered: whether the piece has lettering on top.
    """

    layer: float
    line: float
    losses: Losses = NO_LOSSES
    shrinkage: float = 0.0
    lettered: bool = False


def printability(
    subject: str, vertices: Vertices, triangles: Triangles, *, layer: float, line: float, losses: Losses = NO_LOSSES
) -> tuple[Finding, ...]:
    """What keeps a piece from printing without support.

    Args:
        subject: name of the piece.
        vertices: (n, 3), as it stands on the bed, mm.
        triangles: (m, 3), counter-clockwise from outside, closed.
        layer: layer height, mm.
        line: width of a line, mm.
        losses: what the printer may take off insides.

    Returns:
        One finding for each kind of flaw, with the worst place, sorted.

    Raises:
        SolidError: the mesh is not closed.
    """
    found = flaws(vertices, triangles, Setting(layer, line, losses))
    return tuple(sorted(finding(subject, each) for each in found))


def flaws(vertices: Vertices, triangles: Triangles, setting: Setting) -> tuple[Flaw, ...]:
    """The same as plain numbers: of each kind of flaw the worst place, and how many there are.

    Args:
        vertices: (n, 3), as it stands on the bed, mm.
        triangles: (m, 3), counter-clockwise from outside, closed.
        setting: what it is printed with.

    Raises:
        SolidError: the mesh is not closed.
    """
    sections, line = Sections(vertices, triangles, setting.layer), setting.line
    found: _Flaws = defaultdict(list)
    for number in sections.hanging:
        _look_below(sections, number, line, found)
    narrowest = NARROWEST_SHARE * line
    for number, wall in ThinWalls(sections, line).found():
        found["wall-thin"].append(_narrow("wall-thin", wall, narrowest, sections.middle(number)))
    for number, gap in closing(sections, setting.losses, line):
        found["hole-closes"].append(_narrow("hole-closes", gap, setting.losses.hole, sections.middle(number)))
    _look_at_the_first(sections, line, found)
    _look_at_the_whole(sections, setting, found)
    if setting.lettered:
        _look_at_letters(sections, setting, found)
    corner = (*vertices[:, :2].min(axis=0).tolist(), sections.bottom)
    return tuple(_worst(each, corner) for _, each in sorted(found.items()) if each)


def _worst(found: list[Flaw], corner: tuple[float, float, float]) -> Flaw:
    """The worst of one kind, seen from the front left corner of the piece's box on the bed."""
    worst = max(found, key=lambda flaw: flaw.extent or flaw.measure)
    x, y, z = (at - start for at, start in zip(worst.at, corner, strict=True))
    return Flaw(worst.code, len(found), worst.measure, worst.limit, (x, y, z), worst.extent)


def _look_below(sections: Sections, number: int, line: float, found: _Flaws) -> None:
    """Compare a layer with the one below it."""
    here, below = sections.at(number), sections.at(number - 1)
    support = grown(below, sections.reach(number))
    bare, z = here - support, sections.middle(number)
    if number in sections.beginning:
        for island in here.decompose():
            if (island ^ support).area() < MESH:
                found["island-in-air"].append(_flaw("island-in-air", island, island.area(), 0.0, z))
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
        found["overhang"].append(_flaw("overhang", region, region.area(), 0.0, z))
    elif span > LONGEST_BRIDGE:
        found["bridge-long"].append(_flaw("bridge-long", region, span, LONGEST_BRIDGE, z))


def _look_at_the_first(sections: Sections, line: float, found: _Flaws) -> None:
    """The hold on the bed."""
    first = sections.at(0)
    z, code = sections.middle(0), "first-layer-small"
    held = 0.0
    for island in first.decompose():
        half = line / 2 - MESH
        core = grown(island, -half)
        held += core.area() if core.area() > FIRST_LAYER_LEAST_MM2 else grown(core, half).area()
        if core.is_empty():
            found[code].append(_flaw(code, island, island.area(), FIRST_LAYER_LEAST_MM2, z))
    if held < FIRST_LAYER_LEAST_MM2 and code not in found:
        found[code].append(_flaw(code, first, held, FIRST_LAYER_LEAST_MM2, z))


def _look_at_the_whole(sections: Sections, setting: Setting, found: _Flaws) -> None:
    """How it stands against the nozzle, and whether its corners lift."""
    first, high, z = sections.at(0), sections.height, sections.middle(0)
    pulled = pulled_mpa(first, high)
    if pulled > HOLD_MPA:
        found["knocked-over"].append(_flaw("knocked-over", first, pulled, HOLD_MPA, z))
    slim = slimness(first, high, setting.line)
    if slim > SLIMMEST:
        found["tall-slim"].append(_flaw("tall-slim", first, slim, SLIMMEST, z))
    corner = corner_of(sections, setting.shrinkage)
    if corner and corner.goes > corner.bears:
        found["corners-lift"].append(Flaw("corners-lift", 1, corner.goes, corner.bears, (*corner.at, sections.bottom)))


def _look_at_letters(sections: Sections, setting: Setting, found: _Flaws) -> None:
    """Strokes and gaps of the lettering on top."""
    z, narrowest = sections.middle(sections.count - 1), NARROWEST_SHARE * setting.line
    for stroke in thin_strokes(sections, setting.line):
        found["text-small"].append(_narrow("text-small", stroke, narrowest, z))
    for gap in filled_gaps(sections, setting.losses, setting.line):
        found["text-fills"].append(_narrow("text-fills", gap, setting.losses.hole, z))


def _narrow(code: str, region: CrossSection, limit: float, z: float) -> Flaw:
    """What is too narrow, by its width; the longest is the worst."""
    return replace(_flaw(code, region, width_of(region, limit), limit, z), extent=length_of(region))


def _flaw(code: str, region: CrossSection, measure: float, limit: float, z: float) -> Flaw:
    x0, y0, x1, y1 = region.bounds() if not region.is_empty() else (0.0, 0.0, 0.0, 0.0)
    return Flaw(code, 1, measure, float(limit), ((x0 + x1) / 2, (y0 + y1) / 2, z))
