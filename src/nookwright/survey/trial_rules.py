"""What was found in trials: keys that belong together, and slips of the size that a trial can be checked against."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from nookwright.ground.errors import LengthError
from nookwright.ground.lengths import read_length
from nookwright.ground.sources import Fact, Kind
from nookwright.survey.models import Shape
from nookwright.survey.own_sizes import typed_size
from nookwright.survey.typed import listed, nearest, show

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.ground.errors import Fault
    from nookwright.survey.locate import Path
    from nookwright.survey.typed import Typed

FAR_FROM_SIDE = Fact(
    25.0, unit="mm", kind=Kind.CHOICE, source="A pilot and a reading of one side that differ by more: one is a slip."
)
MOST_FOUND = Fact(
    15.0, unit="mm", kind=Kind.CHOICE, source="A pilot that is off by more was laid along another side, or misread."
)
FAR_FROM_THING = Fact(
    0.2, unit="1", kind=Kind.CHOICE, source="Of a diameter: a gauge that differs by more is of another lot."
)
_KEYS = {
    "gauge": ("sizes", "says"),
    "space": ("axis", "pilot", "tight", "loose"),
    "seat": (),
}


def trial_contradictions(typed: Typed) -> Iterator[Fault]:
    """Every contradiction in what was found."""
    for path, found in typed.tables("found"):
        kinds = [kind for kind in _KEYS if kind in found]
        if len(kinds) != 1:
            yield typed.fault(
                path,
                found=" and ".join(kinds) if kinds else "neither gauge nor space nor seat",
                allowed="one of them: what was tried",
                remedy="Write one table [[found]] for each trial.",
            )
            continue
        yield from _strangers(typed, path, found, kinds[0])
        if kinds == ["gauge"]:
            yield from _gauge(typed, path, found)
        elif kinds == ["space"]:
            yield from _pilot(typed, path, found)


def _strangers(typed: Typed, path: Path, found: dict[str, Any], kind: str) -> Iterator[Fault]:
    """Keys that belong to another kind of trial."""
    for other, keys in _KEYS.items():
        for key in keys:
            if other != kind and key in found:
                yield typed.fault(
                    (*path, key),
                    allowed=f"{listed((kind, *_KEYS[kind]))} beside `{kind}`",
                    remedy=f"Delete `{key}`, or write a table [[found]] of its own with `{other}`.",
                )


def _reference(typed: Typed, path: Path, key: str, kind: str) -> Iterator[Fault]:
    """An id that is not in the file."""
    name, known = typed.at((*path, key)), typed.ids(kind)
    if isinstance(name, str) and name not in known:
        close = nearest(name, known)
        remedy = f"Write {show(close)} instead." if close else f"Write one of them, or add a table [[{kind}]]."
        yield typed.fault((*path, key), allowed=f"the id of a {kind}: {listed(known)}", remedy=remedy)


def _missing(typed: Typed, path: Path, key: str, allowed: str, remedy: str) -> Fault:
    return typed.fault((*path, key), found="nothing", allowed=allowed, remedy=remedy)


def _gauge(typed: Typed, path: Path, found: dict[str, Any]) -> Iterator[Fault]:
    """Gauges: as many answers as sizes, of a lot that has a diameter, and near it."""
    yield from _reference(typed, path, "gauge", "lot")
    sizes, says = found.get("sizes"), found.get("says")
    if sizes is None or sizes == []:
        yield _missing(
            typed, path, "sizes", "the sizes that are marked on the gauges", "Add a line `sizes = [40.2, 40.6, 41.0]`."
        )
        return
    if not isinstance(sizes, list) or not isinstance(says, list) or len(sizes) != len(says):
        yield typed.fault(
            (*path, "says"),
            allowed=f"one answer for each of {len(sizes) if isinstance(sizes, list) else 1} sizes",
            remedy='Add a line such as `says = ["tight", "goes in", "loose"]`, in the order of the sizes.',
        )
        return
    yield from _of_lot(typed, path, found["gauge"], sizes)


def _of_lot(typed: Typed, path: Path, name: object, sizes: list[Any]) -> Iterator[Fault]:
    lot = next((table for _, table in typed.tables("lot") if table.get("id") == name), None)
    if lot is None:
        return
    diameter = _diameter(typed, lot)
    if diameter is None:
        yield typed.fault(
            (*path, "gauge"),
            allowed="a lot of round things, whose pockets have gauges",
            remedy="Delete this table: there is nothing to size by it.",
        )
        return
    for number, size in enumerate(sizes):
        length = _mm(typed, size)
        if length is not None and diameter and abs(length - diameter) > FAR_FROM_THING * diameter:
            yield typed.fault(
                (*path, "sizes", number),
                allowed=f"a size near the things, which are {diameter:g} mm",
                remedy="Write what is marked on the gauge; or was it a gauge of another lot?",
            )


def _diameter(typed: Typed, lot: dict[str, Any]) -> float | None:
    """The first reading of a lot's diameter, mm; 0 where it cannot be read, ``None`` where the lot is not round."""
    standard = lot.get("standard")
    size = typed_size(standard, typed) if isinstance(standard, str) else None
    shape = size.shape if size else lot.get("shape")
    if shape != Shape.ROUND:
        return None
    readings = lot.get("diameter")
    if isinstance(readings, dict):
        readings = readings.get("floor")
    if isinstance(readings, list):
        readings = readings[0] if readings else None
    return _mm(typed, readings) or 0.0


def _pilot(typed: Typed, path: Path, found: dict[str, Any]) -> Iterator[Fault]:
    """Pilots: which side, how long, and tight or loose by how much."""
    yield from _reference(typed, path, "space", "space")
    for key, allowed, remedy in (
        ("axis", "width, depth or height", 'Add a line `axis = "width"`.'),
        ("pilot", "the length of the pilot", "Add a line `pilot = ...` with its length as the kit says it."),
    ):
        if key not in found:
            yield _missing(typed, path, key, allowed, remedy)
    if ("tight" in found) == ("loose" in found):
        yield typed.fault(
            path,
            found="both tight and loose" if "tight" in found else "neither tight nor loose",
            allowed="one of them",
            remedy="Write `tight = 0.5` for a pilot that is too long by that, `loose = 1.2` for the gap that is left.",
        )
        return
    key = "tight" if "tight" in found else "loose"
    by = _mm(typed, found[key])
    if by is not None and by > MOST_FOUND:
        yield typed.fault(
            (*path, key),
            allowed=f"at most {MOST_FOUND:g} mm",
            remedy="Check the unit and the decimal point; was the pilot laid along another side?",
        )
        return
    yield from _against_side(typed, path, found, (by or 0.0) * (-1 if key == "tight" else 1))


def _against_side(typed: Typed, path: Path, found: dict[str, Any], gap: float) -> Iterator[Fault]:
    """A pilot that is nowhere near what was read of its side."""
    space = next((table for _, table in typed.tables("space") if table.get("id") == found["space"]), None)
    pilot, axis = _mm(typed, found.get("pilot")), found.get("axis")
    side = None if space is None or not isinstance(axis, str) else space.get(axis)
    while isinstance(side, list | dict):
        side = (side.get("floor") if isinstance(side, dict) else side[0]) if side else None
    read = _mm(typed, side)
    if pilot is not None and read is not None and axis != "height" and abs(pilot + gap - read) > FAR_FROM_SIDE:
        yield typed.fault(
            (*path, "pilot"),
            allowed=f"a pilot of the {axis}, which was read as {read:g} mm",
            remedy="Write the length that the kit gives for this pilot, or correct the reading.",
        )


def _mm(typed: Typed, value: object) -> float | None:
    """A typed length in mm; ``None`` where it is none, about which the models speak."""
    head = typed.data.get("room")
    unit = head.get("units", "mm") if isinstance(head, dict) else "mm"
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        return None
    try:
        return read_length(value, unit)
    except (LengthError, TypeError, ValueError):
        return None
