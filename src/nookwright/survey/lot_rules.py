"""How things were made and measured: keys of lots, processes and standards that contradict each other."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from nookwright.survey.models import Keep, Shape
from nookwright.survey.origins import Measured, Process
from nookwright.survey.own_sizes import typed_size
from nookwright.survey.standards import DIMENSIONS, plain
from nookwright.survey.typed import listed, nearest, show

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.ground.errors import Fault
    from nookwright.survey.locate import Path
    from nookwright.survey.typed import Typed

SIZES = ("width", "depth", "diameter", "height", "thickness")


def lot_contradictions(typed: Typed) -> Iterator[Fault]:
    """Every contradiction in how things were made and measured."""
    for path, lot in typed.tables("lot"):
        yield from _made(typed, path, lot)
        yield from _all_measured(typed, path, lot)
        yield from _no_pocket(typed, path, lot)
    for path, process in typed.tables("process"):
        if "tolerance" not in process and "percent" not in process:
            yield typed.fault(
                (*path, "tolerance"),
                found="neither tolerance nor percent",
                allowed="one of them, or both",
                remedy="Add a line `tolerance = ...` with what sizes differ by to each side, or `percent = ...`.",
            )
    yield from _own_standards(typed)


def _made(typed: Typed, path: Path, lot: dict[str, Any]) -> Iterator[Fault]:
    """A way of making that nobody knows, or that a published size does not need."""
    made = lot.get("made")
    if not isinstance(made, str):
        return
    known = (*Process, *typed.ids("process"))
    if made not in known:
        close = nearest(made, known)
        yield typed.fault(
            (*path, "made"),
            allowed=f"one of {listed(show(one.value) for one in Process)}, or the id of a [[process]]",
            remedy=f"Write {show(close)} instead." if close else "Choose one of them, or add a table [[process]].",
        )
    elif not _measured_sides(typed, lot):
        yield typed.fault(
            (*path, "made"),
            allowed="no made beside a standard that states every dimension",
            remedy="Delete `made`: the limits of the standard hold.",
        )


def _measured_sides(typed: Typed, lot: dict[str, Any]) -> tuple[str, ...]:
    """The dimensions that a lot itself gives; those of its shape where it has a shape."""
    standard = lot.get("standard")
    size = typed_size(standard, typed) if isinstance(standard, str) else None
    if size is not None:
        return tuple(side for side in size.left_open if side in SIZES)
    return tuple(side for side in SIZES if side in lot)


def _all_measured(typed: Typed, path: Path, lot: dict[str, Any]) -> Iterator[Fault]:
    """Lots of which every thing is said to be measured, with fewer readings than things."""
    count = lot.get("count")
    if lot.get("measured") != Measured.ALL or isinstance(count, bool) or not isinstance(count, int):
        return
    sides = _measured_sides(typed, lot)
    if isinstance(lot.get("standard"), str) and not sides:
        yield typed.fault(
            (*path, "measured"),
            allowed="nothing measured beside a standard that states every dimension",
            remedy="Delete `measured`: the limits of the standard hold.",
        )
    for side in sides:
        found = _number_of(lot[side]) if side in lot else count
        if 0 < found < count:
            yield typed.fault(
                (*path, side),
                found=f"{found} reading{'' if found == 1 else 's'}",
                allowed=f'one for each of the {count} things, as measured = "all" says',
                remedy='Measure the others too, or say measured = "sample".',
            )


def _number_of(value: object) -> int:
    """How many readings a value holds."""
    if isinstance(value, dict):
        return sum(_number_of(one) for one in value.values())
    return len(value) if isinstance(value, list) else 1


def _no_pocket(typed: Typed, path: Path, lot: dict[str, Any]) -> Iterator[Fault]:
    """A fit in a pocket for things that are to be kept in a tray."""
    for key in ("purpose", "fit"):
        if key in lot and lot.get("keep") == Keep.TRAY:
            yield typed.fault(
                (*path, key),
                allowed=f'no {key} beside keep = "tray": a tray has no pockets',
                remedy=f'Delete `{key}`, or say keep = "cradle".',
            )


def _own_standards(typed: Typed) -> Iterator[Fault]:
    """Own standards with the dimensions of another shape, without any, or twice under one designation."""
    seen: set[str] = set()
    for path, table in typed.tables("standard"):
        name, shape = table.get("designation"), table.get("shape")
        if isinstance(name, str):
            if plain(name) in seen:
                yield typed.fault(
                    (*path, "designation"),
                    allowed="a designation that no other standard of this file has, blanks and case aside",
                    remedy="Rename one of them.",
                )
            seen.add(plain(name))
        if shape not in list(Shape):
            continue
        sides = DIMENSIONS[Shape(shape)]
        for key in SIZES:
            if key in table and key not in sides:
                yield typed.fault(
                    (*path, key),
                    allowed=f'for the shape "{shape}" only {", ".join(sides)}',
                    remedy=f"Delete `{key}`, or choose another shape.",
                )
        if not sides:
            yield typed.fault(
                (*path, "shape"),
                allowed="a shape with dimensions",
                remedy='Delete the table: a lot of the shape "loose" says its volume itself.',
            )
        elif not any(side in table for side in sides):
            yield typed.fault(
                (*path, sides[0]),
                found="nothing",
                allowed=f"at least one of {', '.join(sides)}",
                remedy=f"Add a line `{sides[0]} = ...` with the largest that is allowed.",
            )
