"""Readings of a coupon that cannot be: ids that it does not have, and lengths far from what was drawn."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.ground.errors import Fault
from nookwright.ground.sources import Fact, Kind
from nookwright.sizing.printers.coupon import feature, features
from nookwright.survey.coupon_table import read_table, table_path
from nookwright.survey.load import read_toml
from nookwright.survey.typed import listed, nearest, show

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from nookwright.sizing.printers.coupon import Feature
    from nookwright.survey.coupon_table import Row
    from nookwright.survey.models import Coupon, Room
    from nookwright.survey.typed import Typed

FAR = Fact(
    1.5, unit="mm", kind=Kind.CHOICE, source="No printer that prints at all is so far off: 1 % of 148, and an offset."
)
TENFOLD = Fact(10.0, unit="1", kind=Kind.STANDARD, source="A decimal point one place off.")
INCH = Fact(25.4, unit="mm/in", kind=Kind.STANDARD, source="International yard and pound agreement of 1959.")
SHARE = Fact(0.02, unit="1", kind=Kind.CHOICE, source="So near to a tenth, to ten times or to inches is no accident.")


def coupon_faults(path: Path, room: Room) -> tuple[Fault, ...]:
    """What is wrong with the readings of a room's coupons, all at once.

    Args:
        path: the room file.
        room: what it holds.
    """
    if not room.coupon:
        return ()
    typed, faults = read_toml(path)
    if typed is None:
        return faults
    return tuple(sorted(fault for number, coupon in enumerate(room.coupon) for fault in _of(typed, number, coupon)))


def _of(typed: Typed, number: int, coupon: Coupon) -> Iterator[Fault]:
    rows: dict[str, Row] = {}
    if coupon.csv is not None:
        rows, _ = read_table(table_path(typed.file, coupon.csv), typed, ("coupon", number, "csv"))
    known = tuple(one.id for one in features(coupon.form))
    for name, readings in coupon.readings.items():
        place = _Place(typed, number, coupon, name, rows.get(name))
        if name not in known:
            close = nearest(name, known)
            remedy = (
                f"Write {close} instead." if close else "Write one of them; the coupon's sheet shows where each is."
            )
            yield place.fault(show(name), f"the id of a feature: {listed(known, most=50)}", remedy)
            continue
        for reading in readings.all:
            drawn = feature(name, coupon.form)
            if abs(reading - drawn.nominal) > FAR:
                allowed = f"{drawn.nominal - FAR:.2f} to {drawn.nominal + FAR:.2f} mm, as {drawn.nominal:.2f} is drawn"
                yield place.fault(f"{reading:g} mm", allowed, _suspicion(reading, drawn))


def _suspicion(reading: float, drawn: Feature) -> str:
    """What a wrong reading looks like."""
    for factor, words in (
        (TENFOLD, "The decimal point looks one place too far right; measure again."),
        (1 / TENFOLD, "The decimal point looks one place too far left; measure again."),
        (1 / INCH, 'It looks like inches; write it with its unit, such as "5.83 in".'),
    ):
        if abs(reading / (drawn.nominal * factor) - 1) <= SHARE:
            return words
    return f"Measure {drawn.what} again, and check the id and the form of the coupon."


class _Place:
    """Where a reading stands: in a table or in the room file."""

    def __init__(self, typed: Typed, number: int, coupon: Coupon, name: str, row: Row | None) -> None:
        self.typed, self.number, self.coupon, self.name, self.row = typed, number, coupon, name, row

    def fault(self, found: str, allowed: str, remedy: str) -> Fault:
        """A fault there."""
        if self.row is not None and self.coupon.csv is not None:
            file = str(table_path(self.typed.file, self.coupon.csv))
            return Fault(file, self.row.line, self.name, found, allowed, remedy)
        path = ("coupon", self.number, "readings", self.name)
        return self.typed.fault(path, found=found, allowed=allowed, remedy=remedy)
