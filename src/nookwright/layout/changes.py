"""What differs between two layouts of a room: moved, turned, resized, new, gone; as data, and in words.

Each layout comes as where its parts stand, in millimetres, so that one may be a plan and the other an earlier kit.
Parts are told by the lot that they hold; those that hold none, by their label, size and place.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import astuple, dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from nookwright.ground.tolerances import GRID
from nookwright.module.seat import outer_size

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from nookwright.layout.model import Layout
    from nookwright.layout.spaces import SpacePlan
    from nookwright.module.module import Module

SPARE = "spare"


@dataclass(frozen=True, order=True)
class Stand:
    """Where one part stands, mm.

    Attributes:
        name: id of its lot, or its label where it holds none.
        space: id of the space.
        x, y, z: front left corner of its underside.
        width, depth, height: as it lies.
    """

    name: str
    space: str
    x: float
    y: float
    z: float
    width: float
    depth: float
    height: float

    @property
    def size(self) -> tuple[float, float, float]:
        """Longer side, shorter side and height: the same for a part that was turned."""
        return max(self.width, self.depth), min(self.width, self.depth), self.height


class What(StrEnum):
    """What happened to a part; in the order in which it is told."""

    GONE = "gone"
    NEW = "new"
    RESIZED = "resized"
    MOVED = "moved"


@dataclass(frozen=True)
class Change:
    """One part that is not as it was.

    Attributes:
        what: what happened to it; a part that is resized may have moved too.
        name: id of its lot, or its label.
        before: how it stood; ``None`` for a new one.
        after: how it stands; ``None`` for one that is gone.
    """

    what: What
    name: str
    before: Stand | None
    after: Stand | None

    @property
    def text(self) -> str:
        """The same in words."""
        if self.before is None or self.after is None:
            there = self.before or self.after
            where = f" in {there.space}, {_size(there)}" if there else ""
            return f"{self.name}: {self.what}{where}."
        told = []
        if self.what is What.RESIZED:
            told.append(f"{_size(self.before)} becomes {_size(self.after)}")
        moved = _way(self.before, self.after)
        return f"{self.name}: {'; '.join([*told, *([moved] if moved else [])])}."


def stands_of(layout: Layout, spaces: Iterable[SpacePlan], module: Module) -> tuple[Stand, ...]:
    """Where the parts of a layout stand.

    Args:
        layout: what goes where.
        spaces: in cells.
        module: the household's module.
    """
    floors = {plan.space.id: (plan.floor, module.seat.panel if plan.liner.panels else 0.0) for plan in spaces}
    found = []
    for one in layout.placed:
        floor, panel = floors[one.space]
        width, depth = outer_size(one.cols, module.pitch), outer_size(one.rows, module.pitch)
        found.append(
            Stand(
                name=one.candidate.lot if one.candidate else one.label or SPARE,
                space=one.space,
                x=round(floor.x0 + one.col * module.pitch + (one.cols * module.pitch - width) / 2, 6),
                y=round(floor.y0 + one.row * module.pitch + (one.rows * module.pitch - depth) / 2, 6),
                z=round(panel + one.raised, 6),
                width=width,
                depth=depth,
                height=one.height,
            )
        )
    return tuple(sorted(found))


def changes(before: Iterable[Stand], after: Iterable[Stand]) -> tuple[Change, ...]:
    """What happened from one layout to the other, sorted by what and by name.

    Args:
        before: where parts stood.
        after: where they stand.
    """
    old, new = _by_name(before), _by_name(after)
    found = [change for name in sorted({*old, *new}) for change in _of(name, old.get(name, []), new.get(name, []))]
    order = list(What)
    return tuple(sorted(found, key=lambda one: (order.index(one.what), one.name)))


def _by_name(stands: Iterable[Stand]) -> Mapping[str, list[Stand]]:
    found: dict[str, list[Stand]] = defaultdict(list)
    for one in sorted(stands):
        found[one.name].append(one)
    return found


def _of(name: str, old: list[Stand], new: list[Stand]) -> Iterator[Change]:
    """The changes of parts of one name: those that stayed are taken out, then those that are most alike matched."""
    stayed = [one for one in old if any(_same(one, other) for other in new)]
    old = [one for one in old if one not in stayed]
    new = [one for one in new if not any(_same(one, other) for other in stayed)]
    for before in old:
        if not new:
            yield Change(What.GONE, name, before, None)
            continue
        after = min(new, key=lambda one: (one.size != before.size, one.space != before.space, one))
        new.remove(after)
        yield Change(What.MOVED if after.size == before.size else What.RESIZED, name, before, after)
    yield from (Change(What.NEW, name, None, one) for one in new)


def _same(one: Stand, other: Stand) -> bool:
    """Whether two stands are one, but for noise."""
    here, there = astuple(one)[2:], astuple(other)[2:]
    return one.space == other.space and all(abs(a - b) <= GRID for a, b in zip(here, there, strict=True))


def _size(one: Stand) -> str:
    return f"{one.width:.0f} x {one.depth:.0f} x {one.height:g} mm"


def _way(before: Stand, after: Stand) -> str:
    """How a part moved, in words; empty where it did not."""
    turned = ", turned" if (before.width > before.depth) != (after.width > after.depth) else ""
    if before.space != after.space:
        where = f"{after.x:.0f} mm from the left, {after.y:.0f} from the front"
        return f"from {before.space} to {after.space}, {where}{turned}"
    ways = (
        (after.x - before.x, "to the right", "to the left"),
        (after.y - before.y, "to the back", "to the front"),
        (after.z - before.z, "up", "down"),
    )
    told = [f"{abs(by):.0f} mm {more if by > 0 else less}" for by, more, less in ways if abs(by) > GRID]
    return f"{' and '.join(told)}{turned}" if told else turned.removeprefix(", ")
