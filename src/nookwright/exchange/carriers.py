"""What stands on what: the panels below a part, the tray around a loose one, the deck lid below a stacked one."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.layout.liner_model import EDGE_INSET, PanelSpec
from nookwright.parts.lids.deck_lid import DeckSpec
from nookwright.parts.lids.sliding_rim import SlidingSpec
from nookwright.parts.model import Kind
from nookwright.parts.workshop import SlidingLid, TraySpec

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.parts.design import Copy


def carriers_of(copy: Copy, copies: Sequence[Copy], names: Sequence[str], pitch: float) -> tuple[str, ...]:
    """What carries a part; none for what lies on the floor of the space."""
    here = [(one, name) for one, name in zip(copies, names, strict=True) if one.space == copy.space]
    if copy.upright or isinstance(copy.spec, DeckSpec | SlidingLid):
        kinds = SlidingSpec if isinstance(copy.spec, SlidingLid) else TraySpec
        trays = ((one, name) for one, name in here if isinstance(one.spec, kinds) and one.z <= copy.z)
        return tuple(name for one, name in trays if _inside(copy, one) and copy.z <= one.z + one.size[2])
    if copy.lined:
        return tuple(name for panel, name in here if panel.part.kind is Kind.PANEL and _over(copy, panel, pitch))
    lids = ((one, name) for one, name in here if isinstance(one.spec, DeckSpec))
    return tuple(name for lid, name in lids if lid.z < copy.z and _inside(lid, copy))


def _over(upper: Copy, panel: Copy, pitch: float) -> bool:
    """Whether a part stands on a cell of a panel."""
    x0, y0, x1, y1 = _footprint(upper)
    spec = panel.spec
    if not isinstance(spec, PanelSpec):
        return False
    left, front = panel.x - EDGE_INSET - spec.set_back.left, panel.y - EDGE_INSET - spec.set_back.front
    corners = ((left + col * pitch, front + row * pitch) for col, row in spec.cells)
    return any(x0 < u + pitch and u < x1 and y0 < v + pitch and v < y1 for u, v in corners)


def _inside(loose: Copy, tray: Copy) -> bool:
    """Whether a loose part stands inside the footprint of a tray."""
    (x0, y0, x1, y1), (u0, v0, u1, v1) = _footprint(loose), _footprint(tray)
    return u0 <= x0 and x1 <= u1 and v0 <= y0 and y1 <= v1


def _footprint(copy: Copy) -> tuple[float, float, float, float]:
    width, depth, _ = copy.size
    if copy.quarter_turns % 2:
        width, depth = depth, width
    return copy.x, copy.y, copy.x + width, copy.y + depth
