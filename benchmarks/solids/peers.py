"""How fast parts become meshes, against idiomatic build123d code of the same shapes, in one run.

    peers.py [--repeats N]

Trays, panels and cradles of 6 x 8 and 12 x 14 cells, each from its parameters to triangles within 0.01 mm of the true
surface, nothing kept from the run before. The two take turns; the best of the repeats of each counts, and the spread is
that of the ratios turn by turn. The two volumes must agree, or the ratio means nothing. Needs the group ``bench``.
"""

from __future__ import annotations

import argparse
import math
import time
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import build123d as b3d

from nookwright.ground.tolerances import MESH
from nookwright.layout.liner import EDGE_INSET, PanelSpec
from nookwright.module.choice import module_of
from nookwright.module.floor import CORNER_RADIUS
from nookwright.module.seat import (
    LEAD_IN,
    PAD_RADIUS,
    SOCKET_SKIN,
    STRAP_WIDTH,
    draw_of,
    has_cone,
    outer_size,
    rings_of,
)
from nookwright.parts.cradles.cradle import ROOT, Pockets, cradle, pockets_of
from nookwright.parts.liner.panel import panel
from nookwright.parts.trays.tray import tray
from nookwright.sizing.ways import SHELL_FILLET
from nookwright.solids.mesh import MeshKernel

if TYPE_CHECKING:
    from collections.abc import Callable

SIZES = ((6, 8), (12, 14))
HEIGHT = 48.0
POCKET, APART = 14.5, 18.0
FIRST_LAYER_INSET = 0.3
WANTED = {"tray": 8, "panel": 35, "cradle": 10}
AGREE = 0.01
MODULE = module_of(18.0, 6.0, 0.2, "for the benchmark")
SEAT, PITCH = MODULE.seat, MODULE.pitch


@dataclass(frozen=True)
class Timed:
    """The best time of some runs, and what they made."""

    seconds: float
    volume_mm3: float
    triangles: int


UP = (b3d.Align.CENTER, b3d.Align.CENTER, b3d.Align.MIN)


def _block(width: float, depth: float, height: float) -> Any:  # noqa: ANN401 - of a library without stubs
    """The outside of a part, drawn in below."""
    block = b3d.extrude(b3d.RectangleRounded(width, depth, CORNER_RADIUS), amount=height)
    return b3d.chamfer(block.faces().sort_by(b3d.Axis.Z)[0].edges(), LEAD_IN)


def _hollow(cols: int, rows: int, floor: float, height: float, fillet: float) -> Any:  # noqa: ANN401
    """The inside of a part."""
    plan = b3d.RectangleRounded(MODULE.inner(cols), MODULE.inner(rows), CORNER_RADIUS - MODULE.wall)
    inside = b3d.Pos(0, 0, floor) * b3d.extrude(plan, amount=height)
    return b3d.fillet(inside.faces().sort_by(b3d.Axis.Z)[0].edges(), fillet) if fillet else inside


def _middles(cols: int, rows: int) -> list[tuple[float, list[tuple[float, float]]]]:
    """Clearances of the rings and the middles of their sockets, seen from the middle of the part."""
    x, y = outer_size(cols, PITCH) / 2, outer_size(rows, PITCH) / 2
    return [(ring.clearance, [(a - x, b - y) for a, b in ring.places]) for ring in rings_of(cols, rows, PITCH)]


def _sockets(cols: int, rows: int) -> list[Any]:
    """All sockets of a part as cutters."""
    found = []
    for clearance, places in _middles(cols, rows):
        mouth = SEAT.cone_base + clearance
        one = b3d.Cone(mouth, mouth - draw_of(SEAT.socket_depth), SEAT.socket_depth, align=UP)
        one += b3d.Cone(mouth + LEAD_IN, mouth - draw_of(LEAD_IN), LEAD_IN, align=UP)
        found += [b3d.Pos(*place) * one for place in places]
    return found


def _domes(cols: int, rows: int) -> list[Any]:
    """All domes of a shell floor."""
    high, found = SEAT.dome - SEAT.layer, []
    for clearance, places in _middles(cols, rows):
        low = SEAT.cone_base + clearance + SOCKET_SKIN - draw_of(SEAT.layer)
        one = b3d.Cone(low, low - draw_of(high), high, align=UP)
        found += [b3d.Pos(x, y, SEAT.layer) * one for x, y in places]
    return found


def peer_tray(cols: int, rows: int) -> Any:  # noqa: ANN401
    """A plain tray with a shell floor."""
    block = _block(outer_size(cols, PITCH), outer_size(rows, PITCH), HEIGHT)
    hollow = block - _hollow(cols, rows, SEAT.shell_floor, HEIGHT, SHELL_FILLET)
    return hollow + _domes(cols, rows) - _sockets(cols, rows)


def peer_panel(cols: int, rows: int) -> Any:  # noqa: ANN401
    """A panel with cones like a chessboard."""
    wide, deep = cols * PITCH, rows * PITCH
    cells = [(c, r) for c in range(cols) for r in range(rows) if has_cone(c, r)]
    cones = [((c + 0.5) * PITCH - wide / 2, (r + 0.5) * PITCH - deep / 2) for c, r in cells]
    outer = b3d.RectangleRounded(wide - 2 * EDGE_INSET, deep - 2 * EDGE_INSET, CORNER_RADIUS)
    back = 2 * (EDGE_INSET + STRAP_WIDTH)
    frame = outer - b3d.RectangleRounded(wide - back, deep - back, CORNER_RADIUS - STRAP_WIDTH)
    pad = b3d.RegularPolygon(PAD_RADIUS, 8, major_radius=False, rotation=22.5)
    members = [b3d.Pos(*cone) * pad for cone in cones]
    strap = b3d.Rectangle(2 * math.hypot(wide, deep), STRAP_WIDTH)
    for side in (1, -1):
        lines = sorted({round(x - side * y, 6) for x, y in cones})
        members += [b3d.Pos(line / 2, -side * line / 2) * b3d.Rot(0, 0, side * 45) * strap for line in lines]
    near = PITCH * 0.75  # from the edge to a cone beside it
    upright, lying = b3d.Rectangle(STRAP_WIDTH, PITCH / 2), b3d.Rectangle(PITCH / 2, STRAP_WIDTH)
    for x, y in cones:
        if deep / 2 - abs(y) < near:
            members.append(b3d.Pos(x, y + math.copysign(PITCH / 4, y)) * upright)
        if wide / 2 - abs(x) < near:
            members.append(b3d.Pos(x + math.copysign(PITCH / 4, x), y) * lying)
    sheet = (frame + members) & outer
    inset = 2 * (EDGE_INSET + FIRST_LAYER_INSET)
    edge = b3d.Rectangle(wide, deep) - b3d.RectangleRounded(
        wide - inset, deep - inset, CORNER_RADIUS - FIRST_LAYER_INSET
    )
    plate = b3d.extrude(sheet, amount=SEAT.panel) - b3d.extrude(edge, amount=SEAT.layer)
    cone = b3d.Cone(SEAT.cone_base, SEAT.cone_top, SEAT.cone_height, align=UP)
    return plate + [b3d.Pos(x, y, SEAT.panel) * cone for x, y in cones]


def _pockets(cols: int, rows: int) -> Pockets:
    columns, lines = int(MODULE.inner(cols) // APART), int(MODULE.inner(rows) // APART)
    return pockets_of(MODULE, cols=cols, rows=rows, diameter=POCKET, columns=columns, lines=lines, pitch=APART - 2.3)


def peer_cradle(cols: int, rows: int) -> Any:  # noqa: ANN401
    """A cradle of sleeves on a smooth floor."""
    wide, deep, wall, floor = outer_size(cols, PITCH), outer_size(rows, PITCH), MODULE.wall, SEAT.dome
    pockets = _pockets(cols, rows)
    middles = [b3d.Pos(x - wide / 2, y - deep / 2) for x, y in pockets.middles]
    lying, standing = b3d.Rectangle(wide - wall, wall), b3d.Rectangle(wall, deep - wall)
    plan = [middle * b3d.Circle(POCKET / 2 + wall) for middle in middles]
    plan += [b3d.Pos(0, y - deep / 2) * lying for y in pockets.back]
    plan += [b3d.Pos(x - wide / 2, 0) * standing for x in pockets.across]
    sleeves = b3d.Pos(0, 0, floor - ROOT) * b3d.extrude(plan[0] + plan[1:], amount=HEIGHT - floor + ROOT)
    hole = b3d.Pos(0, 0, floor) * b3d.Cylinder(POCKET / 2, HEIGHT, align=UP)
    hollow = _block(wide, deep, HEIGHT) - _hollow(cols, rows, floor, HEIGHT, 0.0)
    return hollow + sleeves - [middle * hole for middle in middles] - _sockets(cols, rows)


def ours(kind: str, cols: int, rows: int) -> Timed:
    """One run of ours, from parameters to triangles."""
    start = time.perf_counter()
    if kind == "tray":
        part = tray(MODULE, cols=cols, rows=rows, height=HEIGHT, smooth=False)
    elif kind == "panel":
        part = panel(MODULE, PanelSpec(cols, rows, (), first_has_cone=True, slots=()))
    else:
        part = cradle(MODULE, cols=cols, rows=rows, height=HEIGHT, pockets=_pockets(cols, rows))
    mesh = MeshKernel(MESH).mesh(part.recipe)
    return Timed(time.perf_counter() - start, mesh.volume_mm3, len(mesh.triangles))


def theirs(kind: str, cols: int, rows: int) -> Timed:
    """One run of the peer, from parameters to triangles."""
    make: Callable[[int, int], Any] = {"tray": peer_tray, "panel": peer_panel, "cradle": peer_cradle}[kind]
    start = time.perf_counter()
    part = make(cols, rows)
    _, triangles = part.tessellate(float(MESH))
    return Timed(time.perf_counter() - start, part.volume, len(triangles))


def compared(kind: str, size: tuple[int, int], repeats: int) -> tuple[Timed, Timed, list[float]]:
    """The quickest of some runs of ours and of the peer, and the ratios of their turns, from the least on."""
    turns = [(ours(kind, *size), theirs(kind, *size)) for _ in range(repeats)]
    mine, peer = (min(runs, key=lambda timed: timed.seconds) for runs in zip(*turns, strict=True))
    return mine, peer, sorted(other.seconds / own.seconds for own, other in turns)


def main() -> int:
    """Print the table; 1 where a ratio falls short or two volumes differ."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--repeats", type=int, default=3)
    repeats = parser.parse_args().repeats
    failed = False
    print(
        f"{'part':14} {'ours, ms':>9} {'peer, ms':>9} {'ratio':>7} {'spread':>13} {'wanted':>7} {'volumes differ':>15}"
    )
    for kind, wanted in WANTED.items():
        for size in SIZES:
            mine, peer, ratios = compared(kind, size, repeats)
            ratio, apart = peer.seconds / mine.seconds, mine.volume_mm3 / peer.volume_mm3 - 1
            failed |= ratio < wanted or abs(apart) > AGREE
            name = f"{kind} {size[0]} x {size[1]}"
            times = f"{1000 * mine.seconds:9.1f} {1000 * peer.seconds:9.1f}"
            spread = f"{ratios[0]:.1f} to {ratios[-1]:.1f}"
            print(f"{name:14} {times} {ratio:7.1f} {spread:>13} {wanted:7d} {apart:15.3%}", flush=True)
    return int(failed)


if __name__ == "__main__":
    raise SystemExit(main())
