"""A cradle whose pockets lean back, so that what stands in them shows its front and takes less height.

Wells between leaning boards, parted by upright boards: a round thing stands in a square well as surely as in a round
one, since it leans against its back along a line. Boards lean by 30 degrees at most, so they print without support, and
every well is open above along its slope: the body has no handle.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact
from nookwright.ground.sources import Kind as SourceKind
from nookwright.ground.tolerances import OVERSHOOT
from nookwright.module.estimates import Plastic, tray_plastic
from nookwright.module.seat import outer_size
from nookwright.parts.cradles.cradle import ROOT, WORTH_SPREADING, fillet_mm3
from nookwright.parts.cradles.pocket import LEAST_POCKET
from nookwright.parts.cradles.pocket_checks import LEAST_HOLD
from nookwright.parts.lying import along_x
from nookwright.parts.model import Example, Kind, Part, size_name
from nookwright.parts.refusals import refuse_part, require_whole_layers
from nookwright.parts.underside import body, cavity, seated
from nookwright.shapes.regions import Polygon, Rect, Region
from nookwright.shapes.solids import Difference, Intersection, Move, Prism, Solid, Union

if TYPE_CHECKING:
    from nookwright.module.module import Module

MOST_LEAN_DEG = Fact(
    30.0, unit="deg", kind=SourceKind.CHOICE, source="Walls print to 45 degrees; a third is kept for a worn nozzle."
)
LEAST_LEAN_DEG = Fact(
    5.0, unit="deg", kind=SourceKind.CHOICE, source="Below this a thing does not know which way to lean."
)


@dataclass(frozen=True)
class LeaningCradle:
    """What a leaning cradle is made from.

    Attributes:
        cols: footprint along x, cells.
        rows: footprint along y, cells.
        height: outer height, mm.
        width: of a well along x, mm, clearance included.
        depth: of a well across its slope, mm, clearance included.
        columns: wells along x.
        lines: wells along y.
        lean_deg: from upright to the back, degrees.
    """

    cols: int
    rows: int
    height: float
    width: float
    depth: float
    columns: int
    lines: int
    lean_deg: float


def leaning_height(length: float, depth: float, lean_deg: float) -> float:
    """How high a leaning thing reaches above the floor that it stands on with its lower back edge, mm.

    >>> round(leaning_height(100, 20, 30), 2), leaning_height(100, 20, 0)
    (96.6, 100.0)
    """
    lean = math.radians(lean_deg)
    return length * math.cos(lean) + depth * math.sin(lean)


def well_pitch(module: Module, depth: float, lean_deg: float) -> float:
    """From well to well along y, mm: depth and board, cut level.

    Args:
        module: the household's module.
        depth: of a well across its slope, mm.
        lean_deg: from upright, degrees.
    """
    return (depth + module.wall) / math.cos(math.radians(lean_deg))


def leaning_room(module: Module, asked: LeaningCradle) -> tuple[float, float]:
    """Room inside that the wells of a cradle take, along x and along y, mm."""
    high = asked.height - module.seat.dome
    across = asked.columns * (asked.width + module.wall) + module.wall
    board = module.wall / math.cos(math.radians(asked.lean_deg))
    back = asked.lines * well_pitch(module, asked.depth, asked.lean_deg) + board
    return across, back + high * math.tan(math.radians(asked.lean_deg)) + 2 * WORTH_SPREADING


def leaning_cradle(module: Module, asked: LeaningCradle) -> Part:
    """A cradle with leaning wells.

    Args:
        module: the household's module.
        asked: its parameters.

    Raises:
        RecipeError: it leans too much or too little, or its wells do not fit.
    """
    subject = f"leaning cradle {size_name(*_outer(module, asked))} h{asked.height:g}"
    _check(module, asked, subject)
    high = asked.height + OVERSHOOT
    inside = cavity(module, asked.cols, asked.rows, floor=module.seat.dome, height=high, fillet=0.0)
    hollow = Difference(body(module, asked.cols, asked.rows, high), (inside,))
    # Cut off all at once: boards that ended at the rim, each by itself, would leave slivers where their tops overlap.
    solid = Intersection((Union((hollow, *_boards(module, asked))), _below_rim(module, asked)))
    return Part(
        kind=Kind.CRADLE,
        name=f"cradle {size_name(*_outer(module, asked))} h{asked.height:g} leaning {asked.lean_deg:g}",
        parameters=(
            ("cols", asked.cols),
            ("columns", asked.columns),
            ("height", asked.height),
            ("lean_deg", asked.lean_deg),
            ("lines", asked.lines),
            ("pitch", module.pitch),
            ("rows", asked.rows),
            ("wall", module.wall),
            ("well_depth", asked.depth),
            ("well_width", asked.width),
        ),
        recipe=seated(solid, module, asked.cols, asked.rows),
        plastic=_plastic(module, asked),
    )


def _outer(module: Module, asked: LeaningCradle) -> tuple[float, float]:
    return outer_size(asked.cols, module.pitch), outer_size(asked.rows, module.pitch)


def _check(module: Module, asked: LeaningCradle, subject: str) -> None:
    """Refuse what does not lean, hold or fit."""
    require_whole_layers(subject, asked.height, module.seat.layer)
    if not LEAST_LEAN_DEG <= asked.lean_deg <= MOST_LEAN_DEG:
        refuse_part(
            subject,
            "it leans, and prints without support", found=f"{asked.lean_deg:g}",
            allowed=f"{LEAST_LEAN_DEG:g} to {MOST_LEAN_DEG:g}", remedy="Let it lean less, or take upright pockets.",
        )  # fmt: skip
    if not min(asked.width, asked.depth) >= LEAST_POCKET or min(asked.columns, asked.lines) < 1:
        refuse_part(
            subject,
            "it has wells that can be printed",
            found=f"{asked.columns} x {asked.lines} of {asked.width:g} x {asked.depth:g}",
            allowed=f"1 or more each way, at least {LEAST_POCKET:g} wide",
            remedy="Keep things so thin lying in a tray.",
        )  # fmt: skip
    least = module.seat.dome + LEAST_HOLD
    if not asked.height >= least:
        refuse_part(
            subject,
            "its wells hold", found=f"{asked.height:g}", allowed=f"at least {least:g}",
            remedy="Make it higher.",
        )  # fmt: skip
    for need, room, axis in zip(
        leaning_room(module, asked), (module.inner(asked.cols), module.inner(asked.rows)), ("x", "y"), strict=True
    ):
        if need > room:
            refuse_part(
                subject,
            f"its wells fit along {axis}", found=f"{need:.1f}", allowed=f"at most {room:g}",
                remedy="Take more cells, fewer wells, a lower cradle or less lean.",
            )  # fmt: skip


def _plates(module: Module, asked: LeaningCradle) -> tuple[tuple[float, float], ...]:
    """From where to where each upright board reaches along x; outer ones near the wall are part of it."""
    wall, (width, _) = module.wall, _outer(module, asked)
    step = asked.width + wall
    first = (width - asked.columns * step - wall) / 2
    plates = [(first + step * n, first + step * n + wall) for n in range(asked.columns + 1)]
    if first - wall < WORTH_SPREADING:
        plates[0], plates[-1] = (wall / 2, plates[0][1]), (plates[-1][0], width - wall / 2)
    return tuple(plates)


def _fronts(module: Module, asked: LeaningCradle) -> tuple[float, ...]:
    """Where the front of each leaning board meets the floor along y; they are in the middle."""
    _, depth = _outer(module, asked)
    step = well_pitch(module, asked.depth, asked.lean_deg)
    _, need = leaning_room(module, asked)
    first = (depth - need) / 2 + WORTH_SPREADING
    return tuple(first + step * number for number in range(asked.lines + 1))


def _below_rim(module: Module, asked: LeaningCradle) -> Solid:
    """All below the rim, and more than the cradle takes to the sides and downwards."""
    width, depth = _outer(module, asked)
    over = float(OVERSHOOT)
    block = Prism(Rect(width + 2 * over, depth + 2 * over), asked.height + over)
    return Move(block, x=-over, y=-over, z=-over)


def _boards(module: Module, asked: LeaningCradle) -> tuple[Solid, ...]:
    """Leaning boards from wall to wall, and upright ones from the first of them to the last."""
    wall, (width, _) = module.wall, _outer(module, asked)
    level, fronts = wall / math.cos(math.radians(asked.lean_deg)), _fronts(module, asked)
    lying = tuple(along_x(_sloped(module, asked, y, y + level), wall / 2, width - wall / 2) for y in fronts)
    whole = _sloped(module, asked, fronts[0] + level / 2, fronts[-1] + level / 2)
    return (*lying, *(along_x(whole, x0, x1) for x0, x1 in _plates(module, asked)))


def _sloped(module: Module, asked: LeaningCradle, front: float, back: float) -> Region:
    """The side view of a board that leans, given by where it meets the floor; its root lies in the floor.

    It goes on above the rim, where it is cut off.
    """
    floor, slope = module.seat.dome, math.tan(math.radians(asked.lean_deg))
    top = asked.height + OVERSHOOT
    down, up = -ROOT * slope, (top - floor) * slope
    return Polygon(
        (
            (front + down, floor - ROOT),
            (back + down, floor - ROOT),
            (back + up, top),
            (front + up, top),
        )
    )


def _plastic(module: Module, asked: LeaningCradle) -> Plastic:
    """The tray's plastic without its fillet, and the boards."""
    plain = tray_plastic(module, asked.cols, asked.rows, asked.height, smooth=True)
    high = asked.height - module.seat.dome
    level, fronts = module.wall / math.cos(math.radians(asked.lean_deg)), _fronts(module, asked)
    lying = len(fronts) * level * module.inner(asked.cols)
    low, top = module.wall, _outer(module, asked)[0] - module.wall
    across = sum(min(x1, top) - max(x0, low) for x0, x1 in _plates(module, asked))
    upright = sum(b - a - level for a, b in pairwise(fronts)) * across
    return Plastic(
        body_mm3=plain.body_mm3 - fillet_mm3(module, asked.cols, asked.rows) + (lying + upright) * high,
        sparse_mm3=plain.sparse_mm3,
        first_mm2=plain.first_mm2,
        height=asked.height,
        hops=0.0,
    )


def examples(module: Module) -> tuple[Example, ...]:
    """One steep well, two rows at the usual lean, and a field that leans as far as it may; wells make no handle."""
    high = module.height
    one = fitted(module, width=14.8, depth=14.8, columns=1, lines=1, lean_deg=10.0, height=high(24))
    few = fitted(module, width=20.0, depth=12.0, columns=3, lines=2, lean_deg=20.0, height=high(30))
    many = fitted(module, width=26.8, depth=26.8, columns=5, lines=3, lean_deg=MOST_LEAN_DEG, height=high(48))
    sizes = zip(("smallest", "middle", "largest"), (one, few, many), strict=True)
    return tuple(Example(size, leaning_cradle(module, asked), genus=0) for size, asked in sizes)


def fitted(
    module: Module,
    *,
    width: float,
    depth: float,
    columns: int,
    lines: int,
    lean_deg: float,
    height: float,
) -> LeaningCradle:
    """The cradle of the fewest cells for so many wells.

    Args:
        module: the household's module.
        width: of a well along x, mm.
        depth: of a well across its slope, mm.
        columns: wells along x.
        lines: wells along y.
        lean_deg: from upright, degrees.
        height: outer height, mm.
    """
    bare = LeaningCradle(1, 1, height, width, depth, columns, lines, lean_deg)
    across, back = leaning_room(module, bare)
    return replace(bare, cols=max(2, module.cells(across)), rows=module.cells(back))
