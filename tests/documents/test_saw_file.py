from __future__ import annotations

import csv
import io
from typing import TYPE_CHECKING

from nookwright.documents.saw_file import HEAD, TAPE, held_by, saw_csv
from nookwright.exchange.saw_models import KitHoles, KitSawing, KitStrip

if TYPE_CHECKING:
    from nookwright.exchange.kit import Kit

HOLES = KitHoles(count=11, diameter=7, depth=4, first=8.7, apart=18, from_face=8.7)


def strip(width: float, height: float, length: float, *names: str, holes: KitHoles | None = None) -> KitStrip:
    """One strip of a drawer."""
    return KitStrip(space="drawer", width=width, height=height, length=length, instead_of=names, holes=holes)


def with_strips(kit: Kit, *strips: KitStrip, bar: float = 1000) -> Kit:
    """A kit that offers these strips."""
    return kit.model_copy(update={"sawing": KitSawing(bar=bar, kerf=1.5, strips=strips)})


def rows(kit: Kit) -> list[dict[str, str]]:
    """The file, read again."""
    return list(csv.DictReader(io.StringIO(saw_csv(kit))))


def test_strips_are_listed_bar_by_bar(kit: Kit) -> None:
    """Rounded down to what a rule shows, a kerf between two of one bar, and what they stand for."""
    thin, thick = strip(7.3, 3, 287.64, "a", "b"), strip(15, 18, 197.4, "fence", holes=HOLES)
    found = rows(with_strips(kit, thin, thin, thick))
    assert tuple(found[0]) == HEAD
    assert [(row["stock_width_mm"], row["stock_height_mm"], row["length_mm"]) for row in found] == [
        ("7.0", "3.0", "287.5"), ("7.0", "3.0", "287.5"), ("15.0", "18.0", "197.0"),
    ]  # fmt: skip
    assert [row["from_mm"] for row in found] == ["0.0", "289.0", "0.0"]
    assert [row["instead_of"] for row in found] == ["a + b", "a + b", "fence"]
    assert {row["bars_needed"] for row in found} == {row["bars_at_least"] for row in found} == {"1"}


def test_bars_are_as_long_as_the_person_has_them(kit: Kit) -> None:
    """Of half a metre one strip of 288 goes on each."""
    thin = strip(7.3, 3, 287.64, "a")
    found = rows(with_strips(kit, thin, thin, bar=500))
    assert [(row["bar"], row["from_mm"], row["bar_mm"]) for row in found] == [
        ("1", "0.0", "500.0"),
        ("2", "0.0", "500.0"),
    ]


def test_each_strip_says_what_holds_it(kit: Kit) -> None:
    """Tape, or holes over the cones with every figure that a drill needs."""
    said = [
        row["held_by"] for row in rows(with_strips(kit, strip(7, 3, 290, "a"), strip(15, 18, 197, "b", holes=HOLES)))
    ]
    assert said == [TAPE, held_by(HOLES)]
    assert "11 holes over cones: 7 wide and 4 deep, 8.7 from the side" in said[1]
    assert "the first 8.7 from the end, then every 18" in said[1]


def test_without_long_strips_there_is_no_list(kit: Kit) -> None:
    """The file is not written then."""
    assert saw_csv(with_strips(kit)) == ""
