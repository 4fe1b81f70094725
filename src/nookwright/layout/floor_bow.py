"""What a bowed floor does to the parts on it: the liner follows it, stiff trays do not.

A floor with a bow b over the sides W and D is taken as a paraboloid. A tray L long stands on its ends over a hollow
and hangs in the middle by b (L / W)^2: there its sockets leave the cones. Neighbours stand at an angle to each other of
8 b / W^2 times the distance of their middles, so their tops come together by that times their height and use up the gap
between them. On a bulge tops go apart, trays rest on their middle, and it is their ends that hold nothing.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from nookwright.ground.findings import Finding, Severity
from nookwright.ground.sources import Fact, Kind
from nookwright.module.seat import GAP_BASE, PART_GAP

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from nookwright.layout.model import Placed
    from nookwright.module.module import Module
    from nookwright.sizing.usable import Usable

ENGAGED = Fact(
    1.0,
    unit="mm",
    kind=Kind.CALCULATED,
    source="A cone holds while it is at least so far in its socket: its slope holds.",
)


def about_bow(usable: Usable, module: Module, placed: Sequence[Placed]) -> tuple[Finding, ...]:
    """What there is to say of the bow under the parts of a space.

    Args:
        usable: the inside of the space, with its bow.
        module: the household's module.
        placed: what stands in it.
    """
    if not usable.bow.sag or not usable.width or not usable.depth:
        return ()
    return (*_hanging(usable, module, placed), *_touching(usable, module, placed))


def hang(usable: Usable, width: float, depth: float) -> float:
    """How far the middle of a stiff tray stands off the floor's curve against its ends, mm.

    Args:
        usable: the inside of the space, with its bow.
        width: of the tray, along x, mm.
        depth: of it, mm.
    """
    bow = abs(usable.bow.sag)
    return min(bow, bow * ((width / usable.width) ** 2 + (depth / usable.depth) ** 2))


def _hanging(usable: Usable, module: Module, placed: Sequence[Placed]) -> Iterator[Finding]:
    """Trays that leave cones."""
    most = module.seat.cone_height - ENGAGED
    hangs = [hang(usable, one.cols * module.pitch, one.rows * module.pitch) for one in placed]
    loose = sum(one > most for one in hangs)
    if loose:
        cells = math.floor(min(usable.width, usable.depth) * math.sqrt(most / abs(usable.bow.sag) / 2) / module.pitch)
        where, verb = ("in the middle", "sags") if usable.bow.sag > 0 else ("at the ends", "bulges up")
        text = (
            f"The floor {verb} by {abs(usable.bow.sag):.1f} mm ({usable.bow.how}): {loose} parts stand up to "
            f"{max(hangs):.1f} mm off their cones {where}, which reach {module.seat.cone_height:g}."
        )
        yield Finding("floor-bowed", Severity.WARN, usable.space, text, _remedy(usable, cells))


def _remedy(usable: Usable, cells: int) -> str:
    shorter = f", or keep trays to {cells} cells each way" if cells >= 1 else ""
    if usable.bow.sag > 0:
        return f"Shim the liner by up to {usable.bow.sag:.1f} mm in the middle, or prop the board from below{shorter}."
    return f"Shim the liner by up to {-usable.bow.sag:.1f} mm along the walls, or press the board down{shorter}."


def _touching(usable: Usable, module: Module, placed: Sequence[Placed]) -> Iterator[Finding]:
    """Neighbours whose tops come together over a hollow; over a bulge they go apart."""
    room = PART_GAP - GAP_BASE
    most = max((_closing(usable, module, a, b) for n, a in enumerate(placed) for b in placed[n + 1 :]), default=0.0)
    if most > room:
        text = (
            f"The floor sags by {usable.bow.sag:.1f} mm ({usable.bow.how}): tops of neighbours come together by "
            f"{most:.1f} mm, and the gap between them has {room:.1f} to give."
        )
        remedy = f"Shim the liner by up to {usable.bow.sag:.1f} mm in the middle, or prop the board from below."
        yield Finding("floor-bowed-tops", Severity.WARN, usable.space, text, remedy)


def _closing(usable: Usable, module: Module, one: Placed, other: Placed) -> float:
    """How far the tops of two parts come together, mm; 0 where they are no neighbours."""
    height = min(one.height, other.height)
    beside_x = _touch(one.col, one.cols, other.col, other.cols) and _share(one.row, one.rows, other.row, other.rows)
    beside_y = _touch(one.row, one.rows, other.row, other.rows) and _share(one.col, one.cols, other.col, other.cols)
    if beside_x:
        return height * 8 * usable.bow.sag / usable.width**2 * (one.cols + other.cols) / 2 * module.pitch
    if beside_y:
        return height * 8 * usable.bow.sag / usable.depth**2 * (one.rows + other.rows) / 2 * module.pitch
    return 0.0


def _touch(first: int, cells: int, other: int, others: int) -> bool:
    """Whether two stretches of cells end where the other begins."""
    return first + cells == other or other + others == first


def _share(first: int, cells: int, other: int, others: int) -> bool:
    """Whether two stretches of cells overlap."""
    return first < other + others and other < first + cells
