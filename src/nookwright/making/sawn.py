"""Strips of wood that may take the place of long plain fillers and fences, as long as they run on in one line.

A strip is as long as all that it replaces together. A filler's is as wide as the filler and lies on the floor, on tape:
it has no tongues. A fence's has a hole over every cone that may stand under it, so it stands as the fence does. What it
does not know: which wood is at hand.
"""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.layout.liner_model import FillerForm, FillerSpec
from nookwright.module.seat import outer_size
from nookwright.parts.liner.fence import FenceSpec

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from nookwright.module.module import Module
    from nookwright.parts.design import Copy

LONG_STRIP = Fact(
    200.0, unit="mm", kind=Kind.CHOICE, source="From here on a strip of wood is sawn sooner than one is printed."
)
RUNS_ON = Fact(2.0, unit="mm", kind=Kind.CALCULATED, source="Two fillers in one line are 0.4 apart; walls are further.")
FENCE_WIDTH = Fact(15.0, unit="mm", kind=Kind.CHOICE, source="A batten of its own, where cells are as wide as that.")
BEHIND = Fact(2.8, unit="mm", kind=Kind.CHOICE, source="Of a batten, left behind the holes over the cones.")
FILLER_HEIGHT = Fact(
    3.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="Plywood of 3: as high as the lips of a printed filler, 2.6."
)
HOLE_PLAY = Fact(2.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="A hole drilled by hand is a millimetre off.")
HOLE_DEEPER = Fact(1.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="Than a cone is high, for the tip of the drill.")


@dataclass(frozen=True)
class Holes:
    """Holes in the underside of a strip, over cones.

    Attributes:
        count: one a cell.
        diameter, depth: of each, mm.
        first: its middle from an end, mm.
        apart: from middle to middle, mm.
        from_face: of the middles, from the long side that faces the parts, mm.
    """

    count: int
    diameter: float
    depth: float
    first: float
    apart: float
    from_face: float


@dataclass(frozen=True)
class Strip:
    """One strip to saw.

    Attributes:
        space: id of its space.
        width, height: of the stock, mm.
        length: mm.
        copies: what it stands for.
        holes: of a fence on a liner; ``None`` where tape holds it.
    """

    space: str
    width: float
    height: float
    length: float
    copies: tuple[Copy, ...]
    holes: Holes | None = None

    @property
    def fence(self) -> bool:
        """Whether it is a fence, not a filler."""
        return isinstance(self.copies[0].spec, FenceSpec)


def strips(copies: Sequence[Copy], module: Module, bar: float) -> tuple[Strip, ...]:
    """Everything long and straight that is printed and might be sawn, in the order of the copies.

    Args:
        copies: all that have a place.
        module: the household's module.
        bar: length of the bars, mm.
    """
    lines: dict[tuple[object, ...], list[Copy]] = defaultdict(list)
    for copy in copies:
        if may_be_sawn(copy):
            lines[_line(copy)].append(copy)
    made = (_strip(run, module) for line in lines.values() for run in _runs(line, module, bar))
    return tuple(one for one in made if LONG_STRIP <= one.length <= bar)


def may_be_sawn(copy: Copy) -> bool:
    """Whether a copy is a plain filler or a fence, in its place."""
    plain = isinstance(copy.spec, FillerSpec) and copy.spec.form is FillerForm.PLAIN
    return bool(copy.space) and (plain or isinstance(copy.spec, FenceSpec))


def _line(copy: Copy) -> tuple[object, ...]:
    """What copies have in common that lie in one line."""
    beside = copy.y if copy.quarter_turns % 2 == 0 else copy.x
    return copy.space, copy.part.kind, copy.quarter_turns, round(beside, 2), copy.part.size[1:]


def _along(copy: Copy) -> tuple[float, float]:
    """From where to where a copy goes along its line, mm."""
    start = copy.x if copy.quarter_turns % 2 == 0 else copy.y
    return start, start + copy.part.size[0]


def _runs(line: Iterable[Copy], module: Module, bar: float) -> Iterator[tuple[Copy, ...]]:
    """The copies of a line, those together that run on in one another and go on one bar."""
    run: list[Copy] = []
    for copy in sorted(line, key=_along):
        goes_on = run and _along(copy)[0] - _along(run[-1])[1] <= RUNS_ON
        if run and not (goes_on and _length([*run, copy], module) <= bar):
            yield tuple(run)
            run = []
        run.append(copy)
    if run:
        yield tuple(run)


def _length(run: Sequence[Copy], module: Module) -> float:
    """Length of what replaces a run, mm; a fence's tongue is not counted."""
    if all(isinstance(copy.spec, FenceSpec) for copy in run):
        return outer_size(_cells(run), module.pitch)
    return _along(run[-1])[1] - _along(run[0])[0]


def _cells(run: Iterable[Copy]) -> int:
    return sum(copy.spec.cells for copy in run if isinstance(copy.spec, FenceSpec))


def _strip(run: tuple[Copy, ...], module: Module) -> Strip:
    first, length = run[0], _length(run, module)
    if isinstance(first.spec, FenceSpec):
        holes = _holes(_cells(run), length, module) if first.lined else None
        return Strip(first.space, fence_width(module), first.part.size[2], length, run, holes)
    width = first.spec.width if isinstance(first.spec, FillerSpec) else first.part.size[1]
    return Strip(first.space, width, float(FILLER_HEIGHT), length, run)


def fence_width(module: Module) -> float:
    """Width of the batten in place of a fence, whole mm: it leaves the next cells free, and wood behind its holes.

    Args:
        module: the household's module.
    """
    outer = outer_size(1, module.pitch)
    behind = outer / 2 + _hole_width(module) / 2 + BEHIND
    return float(min(math.floor(outer), max(int(FENCE_WIDTH), math.ceil(round(behind, 6)))))


def _hole_width(module: Module) -> float:
    return round(2 * module.seat.cone_base + HOLE_PLAY, 1)


def _holes(cells: int, length: float, module: Module) -> Holes:
    """The holes of a fence's strip."""
    seat = module.seat
    return Holes(
        count=cells,
        diameter=_hole_width(module),
        depth=round(seat.cone_height + HOLE_DEEPER, 1),
        first=round((length - (cells - 1) * module.pitch) / 2, 1),
        apart=module.pitch,
        from_face=round(outer_size(1, module.pitch) / 2, 1),
    )
