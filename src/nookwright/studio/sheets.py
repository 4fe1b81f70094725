"""A planned room in cells, as the pages show and change it: plain data that travels as JSON between processes.

Lengths are mm; columns, rows, footprints are cells. What it does not know: shapes of parts; those come as solids.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from pydantic import Field

from nookwright.exchange.layout_records import layout_record
from nookwright.ground.frozen import Model
from nookwright.layout.rules import held, highest, passes
from nookwright.module.seat import outer_size

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.layout.model import Ask, Candidate, Grid, Placed
    from nookwright.layout.plan import Plan
    from nookwright.survey.models import Room


class Item(Model):
    """One part in its place."""

    id: str = Field(description="Of this plan: the lot's id, or the space's with a number.")
    lot: str = Field(description="Id of its lot; empty for spare trays, fences and the like.")
    name: str = Field(description="What people call it.")
    kind: str = Field(description="What holds the things: tray, cradle, rest ...")
    space: str = Field(description="Id of its space.")
    col: int = Field(description="Column of its front left cell.")
    row: int = Field(description="Row of it.")
    cols: int = Field(description="Cells along x, as it lies.")
    rows: int = Field(description="Cells along y, as it lies.")
    height: float = Field(description="Of the part.")
    tall: float = Field(description="Height it needs above the liner, things included.")
    mass_g: float = Field(description="Part and things.")
    level: int = Field(default=0, description="1 on the deck lid of the one below.")
    stays: bool = Field(default=False, description="The person said that it stays.")


class Sheet(Model):
    """One space in cells."""

    id: str = Field(description="As in the room file.")
    name: str = Field(description="For people.")
    kind: str = Field(description="As in the room file.")
    cols: int = Field(description="Cells along x.")
    rows: int = Field(description="Cells along y.")
    blocked: tuple[tuple[int, int], ...] = Field(description="Cells that nothing may cover, as (col, row).")
    origin: tuple[float, float] = Field(description="Front left corner of cell (0, 0) from the walls.")
    size: tuple[float, float, float] = Field(description="Usable width, depth and height.")
    height: float = Field(description="Clear height above the liner.")
    load_g: float = Field(description="What it may still carry.")


class Footprint(Model):
    """One size that a lot's part may have."""

    cols: int = Field(description="Cells, unturned.")
    rows: int = Field(description="Cells, unturned.")
    height: float = Field(description="Of the part.")
    tall: float = Field(description="Height it needs, things included.")
    may_turn: bool = Field(description="Whether it may lie turned by 90 degrees.")
    most: float | None = Field(
        default=None, description="Greatest height that its part may be given; nothing where any will do."
    )


class Wanted(Model):
    """What a lot may be kept in, and where not."""

    lot: str = Field(description="Its id.")
    name: str = Field(description="For people.")
    sizes: tuple[Footprint, ...] = Field(description="Least sizes, the cheapest first; a larger part is as good.")
    refused: dict[str, str] = Field(description="Ids of spaces that it may not go to, each with the reason.")


class Left(Model):
    """A lot without a place."""

    lot: str = Field(description="Its id.")
    name: str = Field(description="For people.")
    reason: str = Field(description="Why.")
    remedy: str = Field(description="What to do.")


class Cost(Model):
    """One part of what a layout costs."""

    name: str = Field(description="Of the part.")
    value: float = Field(description="In units of cost.")


class Sheets(Model):
    """All spaces of a room, with what stands in them."""

    pitch: float = Field(description="Of the module.")
    rise: float = Field(description="Of the module.")
    gap: float = Field(description="By which an outer size is less than its cells: at one cell.")
    spaces: tuple[Sheet, ...] = Field(description="In the order of the room file.")
    items: tuple[Item, ...] = Field(description="Sorted by space, row, column.")
    lots: tuple[Wanted, ...] = Field(description="All lots that some part could hold.")
    left_out: tuple[Left, ...] = Field(description="Lots without a place.")
    cost: tuple[Cost, ...] = Field(description="By parts: what the search counts, then how parts lie in a space.")
    counted: float = Field(
        default=0.0, description="What the search counts of it: which lot goes where, in which part."
    )
    bound: float = Field(default=0.0, description="No layout can have less than this of what is counted; proven.")

    def sheet(self, space: str) -> Sheet:
        """A space by its id.

        Raises:
            KeyError: there is none.
        """
        for one in self.spaces:
            if one.id == space:
                return one
        raise KeyError(space)

    @property
    def total(self) -> float:
        """The whole cost."""
        return sum(part.value for part in self.cost)


def sheets_of(room: Room, plan: Plan) -> Sheets:
    """The sheets of a plan.

    Args:
        room: as surveyed.
        plan: of it.
    """
    names = {lot.id: lot.name or lot.id for lot in room.lot}
    judged = layout_record(plan, room.choices.layout)
    return Sheets(
        pitch=plan.module.pitch,
        rise=plan.module.rise,
        gap=round(plan.module.pitch - outer_size(1, plan.module.pitch), 6),
        spaces=tuple(
            Sheet(
                id=one.space.id,
                name=one.space.name or one.space.id,
                kind=one.space.kind,
                cols=one.grid.cols,
                rows=one.grid.rows,
                blocked=one.grid.blocked,
                origin=(one.floor.x0, one.floor.y0),
                size=(one.usable.width, one.usable.depth, one.usable.height),
                height=one.grid.height,
                load_g=one.grid.load_g,
            )
            for one in plan.spaces
            if one.grid.fill
        ),
        items=tuple(_items(plan, names, {place.lot for place in room.place if not place.may_move})),
        lots=tuple(_wanted(ask, [one.grid for one in plan.spaces], names) for ask in plan.laid.asks),
        left_out=tuple(
            Left(lot=one.lot, name=names[one.lot], reason=one.reason, remedy=one.remedy) for one in plan.layout.left_out
        ),
        cost=tuple(Cost(name=one.name, value=one.value) for one in (*judged.cost, *judged.arrangement)),
        counted=judged.total,
        bound=judged.bound,
    )


def _items(plan: Plan, names: dict[str, str], nailed: set[str]) -> Iterator[Item]:
    """Everything that stands in a space, but for what does not stand on cells."""
    for number, one in enumerate(plan.layout.placed):
        lot = one.candidate.lot if one.candidate else ""
        yield Item(
            id=lot or f"{one.space}-{number}",
            lot=lot,
            name=names.get(lot, "") or one.label or "spare tray",
            kind=_kind(one),
            space=one.space,
            col=one.col,
            row=one.row,
            cols=one.cols,
            rows=one.rows,
            height=one.height,
            tall=one.candidate.tall if one.candidate else one.height,
            mass_g=one.candidate.mass_g if one.candidate else 0.0,
            level=one.level,
            stays=one.pinned and lot in nailed,
        )


def _kind(placed: Placed) -> str:
    """What a part is, in a word."""
    if placed.fence:
        return "fence"
    return str(placed.candidate.way.kind) if placed.candidate else "tray"


def _wanted(ask: Ask, grids: list[Grid], names: dict[str, str]) -> Wanted:
    """What a lot may be kept in."""
    return Wanted(
        lot=ask.lot,
        name=names[ask.lot],
        sizes=tuple(
            Footprint(
                cols=one.cols,
                rows=one.rows,
                height=one.height,
                tall=one.tall,
                may_turn=one.may_turn,
                most=None if math.isinf(most := highest(one)) else most,
            )
            for one in ask.candidates
        ),
        refused={grid.space: reason for grid in grids if grid.fill and (reason := _refusal(ask, grid))},
    )


def _refusal(ask: Ask, grid: Grid) -> str:
    """Why a lot may not go to a space whatever stands there; empty if it may."""
    rules = (
        (ask.out_of_reach and grid.children, "children can reach it"),
        (ask.cool and grid.warm, "it gets warm there"),
        (ask.dry and grid.wet, "it may get wet there"),
        (bool(ask.spaces) and grid.space not in ask.spaces, "its group has its home elsewhere"),
    )
    broken = next((reason for rule, reason in rules if rule), "")
    if broken:
        return broken
    low = [one for one in ask.candidates if one.tall <= grid.height]
    if not low:
        return f"it needs {_least(ask.candidates):.0f} mm of height, and {grid.height:.0f} mm are clear"
    if not any(passes(one, grid) for one in low):
        return "it does not pass the opening"
    return "" if any(held(one, grid) for one in low) else "too small for the cones there"


def _least(candidates: tuple[Candidate, ...]) -> float:
    """The least height that any of them needs."""
    return min(one.tall for one in candidates)
