"""The underside that all seated parts share: a body with a lead-in edge, sockets in rings of clearance, their domes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.ground.tolerances import OVERSHOOT
from nookwright.module.floor import CORNER_RADIUS
from nookwright.module.seat import LEAD_IN, LEAD_IN_HEIGHT, SOCKET_SKIN, draw_of, outer_size, rings_of
from nookwright.shapes.regions import Circle, Rect
from nookwright.shapes.solids import Bowl, Difference, Move, Prism, Repeat, Revolution, Solid, Taper, Union

if TYPE_CHECKING:
    from nookwright.module.module import Module
    from nookwright.module.seat import Ring, Seat


def body(module: Module, cols: int, rows: int, height: float) -> Solid:
    """A full block of the part's outer size, its lower edge drawn in so that a spread first layer stays inside.

    Args:
        module: the household's module.
        cols: footprint along x, cells.
        rows: footprint along y, cells.
        height: outer height, mm.
    """
    return block(outer_size(cols, module.pitch), outer_size(rows, module.pitch), height)


def block(width: float, depth: float, height: float) -> Solid:
    """A full block of any size with the outer corners of parts, its lower edge drawn in."""
    foot = Rect(width - 2 * LEAD_IN, depth - 2 * LEAD_IN, CORNER_RADIUS - LEAD_IN)
    return Union(
        (
            Move(Taper(foot, LEAD_IN, -LEAD_IN), x=LEAD_IN, y=LEAD_IN),
            Move(Prism(Rect(width, depth, CORNER_RADIUS), height - LEAD_IN), z=LEAD_IN),
        )
    )


def inner_radius(module: Module) -> float:
    """Radius of the upright inside corners, mm: concentric with the outside."""
    return CORNER_RADIUS - module.wall


def cavity(module: Module, cols: int, rows: int, *, floor: float, height: float, fillet: float) -> Solid:
    """The inside of a tray, as a cutter.

    Args:
        module: the household's module.
        cols: footprint along x, cells.
        rows: footprint along y, cells.
        floor: height of the floor, mm.
        height: outer height, mm.
        fillet: radius between floor and walls, mm.
    """
    bowl = Bowl(module.inner(cols), module.inner(rows), inner_radius(module), fillet, height - floor + OVERSHOOT)
    return Move(bowl, x=module.wall, y=module.wall, z=floor)


def domes(module: Module, cols: int, rows: int) -> tuple[Solid, ...]:
    """The domes over the sockets of a shell floor, one repeat a ring. They start one layer up, inside the floor."""
    return domes_of(module, rings_of(cols, rows, module.pitch, module.seat.growth, module.seat.clearance))


def domes_of(module: Module, rings: tuple[Ring, ...]) -> tuple[Solid, ...]:
    """The same over the sockets of these rings."""
    seat = module.seat
    high = seat.dome - seat.layer
    return tuple(
        Move(
            Repeat(
                Taper(Circle(seat.cone_base + ring.clearance + SOCKET_SKIN - draw_of(seat.layer)), high, draw_of(high)),
                ring.places,
            ),
            z=seat.layer,
        )
        for ring in rings
    )


def seated(solid: Solid, module: Module, cols: int, rows: int) -> Solid:
    """A solid with the sockets of its footprint cut into its underside.

    Args:
        solid: the part without sockets, its front left corner at the origin.
        module: the household's module.
        cols: footprint along x, cells.
        rows: footprint along y, cells.
    """
    return seated_on(solid, module, rings_of(cols, rows, module.pitch, module.seat.growth, module.seat.clearance))


def seated_on(solid: Solid, module: Module, rings: tuple[Ring, ...]) -> Solid:
    """A solid with the sockets of these rings cut into its underside."""
    return Difference(solid, tuple(Repeat(_socket(module.seat, ring.clearance), ring.places) for ring in rings))


def _socket(seat: Seat, clearance: float) -> Solid:
    """One socket as a cutter: the cone's slope, wider by the clearance, with a lead-in at its mouth."""
    mouth = seat.cone_base + clearance
    return Revolution(
        (
            (0.0, -OVERSHOOT),
            (mouth + LEAD_IN, -OVERSHOOT),
            (mouth + LEAD_IN, 0.0),
            (mouth - draw_of(LEAD_IN_HEIGHT), float(LEAD_IN_HEIGHT)),
            (mouth - draw_of(seat.socket_depth), seat.socket_depth),
            (0.0, seat.socket_depth),
        )
    )
