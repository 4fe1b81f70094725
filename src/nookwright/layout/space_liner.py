"""The liner that a space gets: what the room file wishes, and what the layout that stands on it needs.

Level, pattern and cells come before the layout. Cones only under the layout, and fillers as high as the trays beside
them, follow from it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.ground.findings import Finding, Severity
from nookwright.layout.filler_forms import sprung_side, with_sprung_side, with_tall_fillers
from nookwright.layout.liner_levels import Level, cones_under, level_cells, level_pattern, liner_at
from nookwright.layout.liner_model import FillerForm, Side
from nookwright.module.floor import OWN_GAP, SLACK, Axis, floor_of
from nookwright.module.pattern import Pattern, smallest_of
from nookwright.survey.models import ConesFor, FillerWish

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from nookwright.layout.liner_model import Cell, Liner, PlacedFiller
    from nookwright.layout.model import Placed
    from nookwright.module.floor import Floor
    from nookwright.module.module import Module
    from nookwright.sizing.usable import Usable
    from nookwright.survey.models import Choices, Space

_PATTERNS = {
    ConesFor.SINGLE: Pattern.EVERY_CELL,
    ConesFor.PAIR: Pattern.CHESSBOARD,
    ConesFor.SQUARE: Pattern.EVERY_SECOND,
    ConesFor.LAYOUT: Pattern.UNDER_LAYOUT,
}


@dataclass(frozen=True)
class LinerWish:
    """What liner a space should get.

    Attributes:
        level: how much.
        pattern: where its cones stand.
        tall: whether wide gaps beside trays get tall fillers.
        sprung: whether one side gets springs.
    """

    level: Level = Level.FULL
    pattern: Pattern = Pattern.CHESSBOARD
    tall: bool = True
    sprung: bool = False

    @property
    def smallest(self) -> tuple[int, int]:
        """The smallest footprint that may stand on it, cells; any where nothing is held by cones."""
        return smallest_of(self.pattern) if self.level.lined else (1, 1)

    @property
    def under_layout(self) -> Level:
        """The level at which cones only under the layout are offered for comparison, or asked for."""
        return self.level if self.level.lined and self.pattern is Pattern.UNDER_LAYOUT else Level.FULL

    @property
    def usual(self) -> bool:
        """Whether there is nothing to say about it."""
        return self.level is Level.FULL and self.pattern is not Pattern.UNDER_LAYOUT


def wish_of(space: Space, choices: Choices) -> LinerWish:
    """The wish of a space, from its own keys and the choices of the room.

    Args:
        space: as surveyed.
        choices: of the room.
    """
    level = Level(space.liner or choices.liner)
    return LinerWish(
        level=level,
        pattern=level_pattern(level, _PATTERNS[ConesFor(space.pattern or choices.pattern)]),
        tall=FillerWish(space.fillers or choices.fillers) is FillerWish.TALL,
        sprung=choices.sprung_filler if space.sprung_filler is None else space.sprung_filler,
    )


def floor_for(wish: LinerWish, usable: Usable, module: Module, longest: float) -> Floor:
    """The cells of a space; all that is left lies at one side where only so a spring has room.

    Args:
        wish: what liner it should get.
        usable: its usable inside.
        module: the household's module.
        longest: the longest strip that can be printed, mm.
    """
    plain = floor_of(usable, module, lined=wish.level.lined)
    if not _may_be_sprung(wish, usable):
        return plain
    for axis in (None, Axis.Y, Axis.X):
        floor = floor_of(usable, module, one_sided=axis)
        liner = liner_at(wish.level, floor, usable, module.pitch, longest)
        if sprung_side(liner, usable.width, usable.depth):
            return floor
    return plain


def _may_be_sprung(wish: LinerWish, usable: Usable) -> bool:
    """Whether springs have an upright wall to press on: against a cove they would lift the liner."""
    foot = usable.foot
    upright = not usable.cove_radius and max(foot.left, foot.right, foot.front, foot.back) <= OWN_GAP
    return wish.sprung and wish.level.lined and upright


def liner_for(
    wish: LinerWish, floor: Floor, usable: Usable, module: Module, *, longest: float, placed: Sequence[Placed] = ()
) -> Liner:
    """The liner of a space.

    Args:
        wish: what it should be.
        floor: cells of the space.
        usable: its usable inside.
        module: the household's module.
        longest: the longest strip that can be printed, mm.
        placed: what stands on it; nothing while that is not decided yet.
    """
    chosen = cones_needed(wish.level, floor, placed) if wish.pattern is Pattern.UNDER_LAYOUT else ()
    liner = liner_at(wish.level, floor, usable, module.pitch, longest, usual=wish.pattern, chosen=chosen)
    if wish.tall:
        rims = [_upright(filler, usable, _rim_beside(filler, floor, module, placed)) for filler in liner.fillers]
        liner = with_tall_fillers(liner, rims)
    side = sprung_side(liner, usable.width, usable.depth) if _may_be_sprung(wish, usable) else None
    if side:
        liner = with_sprung_side(liner, side, usable.width if side.upright else usable.depth)
    return liner


def cones_needed(level: Level, floor: Floor, placed: Iterable[Placed]) -> tuple[Cell, ...]:
    """The cells that need a cone where the layout stands still.

    Args:
        level: how much liner.
        floor: cells of the space.
        placed: what stands on it.
    """
    carried = level_cells(level, floor.cols, floor.rows) - set(floor.blocked)
    return cones_under((place for one in placed for place in _footprints(one)), sorted(carried))


def _footprints(one: Placed) -> Iterator[tuple[int, int, int, int]]:
    """Where parts stand, (column, row, columns, rows); the parts of a rest may be anywhere in its cells."""
    if one.candidate and one.candidate.way.long:
        yield from ((col, row, 1, 1) for col, row in _cells(one))
    else:
        yield one.col, one.row, one.cols, one.rows


def _rim_beside(filler: PlacedFiller, floor: Floor, module: Module, placed: Iterable[Placed]) -> float:
    """Height of the lowest rim beside a filler, above the floor of the space, mm; 0 where nothing would fall there.

    Things fall into a gap that is wider than they are thick. What a spare tray will hold is not known.
    """
    side = filler.side
    begin, end = filler.start, filler.start + filler.spec.length
    origin = floor.y0 if side.upright else floor.x0
    lowest = 0.0
    for one in placed:
        first, cells = (one.row, one.rows) if side.upright else (one.col, one.cols)
        low, high = origin + first * module.pitch, origin + (first + cells) * module.pitch
        if _reaches(one, side, floor) and low < end and high > begin and _falls(one, filler.spec.width):
            rim = one.raised + one.height
            lowest = min(lowest or rim, rim)
    return round(lowest + module.seat.panel, 6) if lowest else 0.0


def _upright(filler: PlacedFiller, usable: Usable, height: float) -> float:
    """The height of a tall filler, mm; 0 where the wall behind it leans in so that it would jam."""
    wall = filler.side.value
    leans = getattr(usable.up_to(height), wall) - getattr(usable.foot, wall) > OWN_GAP
    return 0.0 if leans else height


def _falls(one: Placed, gap: float) -> bool:
    """Whether the things of a part would fall into a gap beside it."""
    if one.candidate is None or one.decked:
        return False
    thing = one.candidate.way.thing
    return min(thing.width, thing.depth, thing.height) < gap + SLACK


def _reaches(one: Placed, side: Side, floor: Floor) -> bool:
    """Whether a part stands in the outer cells at a side."""
    return {
        Side.LEFT: one.col == 0,
        Side.RIGHT: one.col + one.cols == floor.cols,
        Side.FRONT: one.row == 0,
        Side.BACK: one.row + one.rows == floor.rows,
    }[side]


def unheld(liner: Liner, placed: Iterable[Placed]) -> tuple[Placed, ...]:
    """The parts that meet no cone.

    Args:
        liner: of their space.
        placed: what stands on it.
    """
    cones = {(panel.col + c, panel.row + r) for panel in liner.panels for c, r in panel.spec.cones}
    return tuple(one for one in placed if not cones & {*_cells(one)})


def _cells(one: Placed) -> Iterator[Cell]:
    return ((c, r) for c in range(one.col, one.col + one.cols) for r in range(one.row, one.row + one.rows))


def about_liner(
    name: str, wish: LinerWish, liner: Liner, placed: Sequence[Placed], *, thickness: float
) -> tuple[Finding, ...]:
    """What there is to say about the liner of a space.

    Args:
        name: id of the space.
        wish: what it should be.
        liner: what it is.
        placed: what stands on it.
        thickness: of its panels, mm.
    """
    found = []
    if not wish.usual:
        keeps = wish.pattern.keeps if wish.level is Level.FULL else wish.level.keeps
        remedy = "What the other levels would cost stands with the space in kit.json and on the page."
        found.append(Finding("liner-lean", Severity.NOTE, name, f"Liner: {wish.level}. {keeps}", remedy))
    loose = unheld(liner, placed) if wish.level.lined else ()
    if loose:
        text = f"{len(loose)} parts meet no cone: their neighbours alone keep them from sliding."
        remedy = f"Put dots of felt {thickness:g} mm thick under their corners, or take more liner."
        found.append(Finding("part-not-held", Severity.WARN, name, text, remedy))
    if wish.sprung and not any(one.spec.form is FillerForm.SPRUNG for one in liner.fillers):
        text = "No filler is sprung: none is wide and long enough, or its wall is rounded at the foot."
        found.append(Finding("filler-not-sprung", Severity.NOTE, name, text, "Fix the liner with two spots of tape."))
    return tuple(found)
