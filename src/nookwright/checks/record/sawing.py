"""Whether the strips of wood that may be sawn fit where the printed ones would lie, and hold on the liner's cones.

A strip is sawn once, and wood is not printed again: its length and width are taken from the places and the meshes of
what it stands for, its holes from the liner's cones. What this does not know: which wood is at hand.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.record.claims import Wrong, between, figure, said_once
from nookwright.ground.findings import Severity
from nookwright.ground.sources import Fact, Kind
from nookwright.ground.tolerances import MESH
from nookwright.module.seat import drawn_layer, seat_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from nookwright.checks.bodies import Shape
    from nookwright.exchange.kit import Kit, Placement
    from nookwright.exchange.saw_models import KitStrip
    from nookwright.ground.findings import Finding
    from nookwright.survey.models import Room

GAPS = Fact(2.0, unit="mm", kind=Kind.CALCULATED, source="Parts in one line lie 0.4 apart; a strip has no such gaps.")
STOCK = Fact(
    1.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="Wood comes in whole mm: 3 in place of a lip of 2.6 to 3.4."
)
BESIDE = Fact(0.25, unit="mm", kind=Kind.CALCULATED, source="A filler is made 0.2 narrower than its place.")
DEEPER = Fact(
    1.5, unit="mm", kind=Kind.COMMON_PRACTICE, source="A hole, than its cone is high: for the tip of a drill."
)
WIDER = Fact(3.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="A hole, than its cone: drilled by hand, still held.")
_FENCE = "fence"


def check_sawing(kit: Kit, room: Room, shapes: Mapping[str, Shape]) -> Iterator[Finding]:
    """One finding about everything that is wrong with the strips.

    Args:
        kit: the kit, its references sound.
        room: with the bars that there are.
        shapes: meshes by file.
    """
    yield from said_once("sawing-wrong", Severity.STOP, _wrong(kit, room, shapes))


def _wrong(kit: Kit, room: Room, shapes: Mapping[str, Shape]) -> Iterator[Wrong]:
    if kit.sawing.strips or kit.sawing.bar:
        yield from figure("sawing", "The bars are long", kit.sawing.bar, room.making.sawing.bar, unit="mm")
        yield from figure("sawing", "A cut takes", kit.sawing.kerf, room.making.sawing.kerf, unit="mm")
    names = {part.id: part.name for part in kit.parts}
    stand: dict[tuple[str, str], list[Placement]] = defaultdict(list)
    for one in kit.placements:
        stand[one.space, names[one.part]].append(one)
    used: Counter[tuple[str, str]] = Counter()
    for strip in kit.sawing.strips:
        used.update((strip.space, name) for name in strip.instead_of)
        yield from _strip(strip, kit, stand, shapes)
    for (space, name), count in used.items():
        if count > len(stand[space, name]):
            yield Wrong(space, f"Strips stand for {count} times {name}; {len(stand[space, name])} lie there.")


def _strip(
    strip: KitStrip, kit: Kit, stand: Mapping[tuple[str, str], list[Placement]], shapes: Mapping[str, Shape]
) -> Iterator[Wrong]:
    """One of them, against what it stands for; parts whose names round to the same stand for each other."""
    if not strip.instead_of:
        yield Wrong(strip.space, "A strip stands for nothing.")
        return
    parts = {part.id: part for part in kit.parts}
    meant = [stand.get((strip.space, name), []) for name in strip.instead_of]
    solids = [[s for one in placed if (s := shapes.get(parts[one.part].stl))] for placed in meant]
    if not all(solids):
        return
    fence = parts[meant[0][0].part].kind == _FENCE
    lengths = [[float(np.ptp(s.vertices[:, 0])) for s in same] for same in solids]  # each lies along its own x
    least = sum(map(min, lengths)) - (GAPS * len(solids) if fence else MESH)
    most = sum(map(max, lengths)) + GAPS * (len(solids) - 1)
    what = f"A strip in place of {strip.instead_of[0]}"
    yield from between(strip.space, f"{what} is long", strip.length, least, most, unit="mm")
    yield from between(strip.space, f"{what} is long", strip.length, 0.0, kit.sawing.bar, unit="mm")
    high = float(np.ptp(solids[0][0].vertices[:, 2]))
    yield from between(
        strip.space,
        f"{what} is high",
        strip.height,
        high if fence else high - STOCK,
        high if fence else high + STOCK,
        unit="mm",
    )
    if fence:
        yield from between(strip.space, f"{what} is wide", strip.width, 0.0, kit.module.pitch, unit="mm")
    else:
        lip = min(map(_lip, solids[0]), key=lambda wide: abs(wide + BESIDE / 2 - strip.width))
        yield from between(strip.space, f"{what} is wide", strip.width, lip, lip + BESIDE, unit="mm")
    yield from _holes(strip, kit, what, fence=fence)


def _lip(shape: Shape) -> float:
    """How wide a filler is at its top: its tongues are low, and reach below the panel's edge, mm."""
    top = shape.vertices[shape.vertices[:, 2] > shape.box[1][2] - MESH]
    return float(np.ptp(top[:, 1]))


def _holes(strip: KitStrip, kit: Kit, what: str, *, fence: bool) -> Iterator[Wrong]:
    """Holes over the cones of the liner: as many as cells, as far apart, and wide and deep enough."""
    holes = strip.holes
    if holes is None:
        return
    if not fence:
        yield Wrong(strip.space, f"{what} has holes, and no filler stands on cones.")
        return
    layers = tuple(printer.layer for printer in kit.printers)
    seat, pitch = seat_of(drawn_layer(layers)), kit.module.pitch
    yield from figure(strip.space, f"Holes of {what} are apart by", holes.apart, pitch, unit="mm")
    yield from figure(strip.space, f"Holes of {what}", holes.count, round(strip.length / pitch))
    first = (strip.length - (holes.count - 1) * pitch) / 2
    yield from figure(
        strip.space, f"The first hole of {what} is from its end by", holes.first, first, unit="mm", off=0.1
    )
    cone = 2 * seat.cone_base
    yield from between(strip.space, f"Holes of {what} are wide", holes.diameter, cone, cone + WIDER, unit="mm")
    deep = seat.cone_height
    yield from between(strip.space, f"Holes of {what} are deep", holes.depth, deep, deep + DEEPER, unit="mm")
    half = pitch / 2
    yield from between(strip.space, f"Holes of {what} are from its face by", holes.from_face, half - 1, half, unit="mm")
