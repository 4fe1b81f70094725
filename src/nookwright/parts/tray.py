"""A plain tray: walls, a floor, sockets underneath."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.module.estimates import tray_plastic
from nookwright.module.seat import outer_size
from nookwright.parts.model import Kind, Part, size_name
from nookwright.parts.underside import body, cavity, domes, seated
from nookwright.shapes.solids import Difference, Union
from nookwright.sizing.ways import SHELL_FILLET, SMOOTH_FILLET

if TYPE_CHECKING:
    from nookwright.module.module import Module


def tray(module: Module, *, cols: int, rows: int, height: float, smooth: bool) -> Part:
    """A plain tray.

    Args:
        module: the household's module.
        cols: footprint along x, cells.
        rows: footprint along y, cells.
        height: outer height, mm, a whole number of rises.
        smooth: a flat floor above the sockets instead of a thin one with domes.
    """
    seat = module.seat
    floor = seat.dome if smooth else seat.shell_floor
    fillet = SMOOTH_FILLET if smooth else SHELL_FILLET
    inside = cavity(module, cols, rows, floor=floor, height=height, fillet=fillet)
    hollow = Difference(body(module, cols, rows, height), (inside,))
    solid = hollow if smooth else Union((hollow, *domes(module, cols, rows)))
    width, depth = outer_size(cols, module.pitch), outer_size(rows, module.pitch)
    return Part(
        kind=Kind.TRAY,
        name=f"tray {size_name(width, depth)} h{height:g}",
        parameters=(
            ("cols", cols),
            ("floor", "smooth" if smooth else "shell"),
            ("height", height),
            ("pitch", module.pitch),
            ("rows", rows),
            ("wall", module.wall),
        ),
        recipe=seated(solid, module, cols, rows),
        plastic=tray_plastic(module, cols, rows, height, smooth=smooth),
    )
