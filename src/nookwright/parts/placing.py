"""How fences, deck lids and rests of the layout are made and where they lie: from cells to a spec, a turn, a corner."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.layout.liner_model import Side
from nookwright.module.seat import outer_size
from nookwright.parts.lids.deck_lid import DeckSpec, deck_lid_place, deck_tray
from nookwright.parts.liner.fence import End, FenceSpec

if TYPE_CHECKING:
    from nookwright.layout.model import FenceForm, Placed
    from nookwright.module.module import Module
    from nookwright.parts.model import Part

_TURNS = {Side.BACK: 0, Side.LEFT: 1, Side.FRONT: 2, Side.RIGHT: 3}  # unturned, its wall stands at the back


def fence_spec(placed: Placed) -> FenceSpec:
    """What a placed fence is made from."""
    form = _form(placed)
    return FenceSpec(
        cells=max(placed.cols, placed.rows),
        height=placed.height,
        left=End.SLOT if form.slot else End.PLAIN,
        right=End.TONGUE if form.tongue else End.PLAIN,
    )


def fence_turns(placed: Placed) -> int:
    """Quarter turns, counter-clockwise, that bring its wall to its side."""
    return _TURNS[_form(placed).wall]


def fence_corner(module: Module, placed: Placed, part: Part) -> tuple[float, float]:
    """The corner of its box from that of its body, mm: a tongue that points to the left or to the front lies before.

    Args:
        module: the household's module.
        placed: where it stands.
        part: the fence; its box holds its tongue.
    """
    tongue = part.size[0] - outer_size(max(placed.cols, placed.rows), module.pitch)
    return {2: (-tongue, 0.0), 3: (0.0, -tongue)}.get(fence_turns(placed), (0.0, 0.0))


def decked_tray(module: Module, cols: int, rows: int, height: float, *, smooth: bool) -> Part:
    """The tray of a stack's lower level, with a ledge for its deck lid.

    Args:
        module: the household's module.
        cols: footprint along x, cells.
        rows: the same along y.
        height: outer height, mm.
        smooth: whether its floor is.
    """
    return deck_tray(module, DeckSpec(cols, rows, height, smooth=smooth))


def deck_lid_at(module: Module, cols: int, rows: int, height: float) -> tuple[DeckSpec, tuple[float, float, float]]:
    """The lid of such a tray, and its corner from that of the tray, mm; it lies the same however the tray is turned.

    Args:
        module: the household's module.
        cols: footprint along x, cells.
        rows: the same along y.
        height: outer height of the tray, mm.
    """
    spec = DeckSpec(cols, rows, height)
    return spec, deck_lid_place(module, spec)


def _form(placed: Placed) -> FenceForm:
    if placed.fence is None:
        raise ValueError(f"{placed} is no fence")
    return placed.fence
