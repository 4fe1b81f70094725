from __future__ import annotations

import csv
import io
from typing import TYPE_CHECKING

from nookwright.documents.saw_file import HEAD, saw_csv, strips
from nookwright.parts.model import Kind

if TYPE_CHECKING:
    from nookwright.exchange.kit import Kit


def with_strips(kit: Kit, *sizes: tuple[str, float, float]) -> Kit:
    """A kit that has nothing but strips: kind, length and width of each."""
    part, place = kit.parts[0], kit.placements[0]
    parts, places = [], []
    for number, (kind, length, width) in enumerate(sizes):
        keys = (
            {"length": length, "width": width, "travel": 0.5}
            if kind == "sprung"
            else {"length": length, "width": width}
        )
        changes = {
            "id": f"part-{number}",
            "name": f"{kind} {length:g}",
            "kind": Kind.FENCE if kind == "fence" else Kind.FILLER,
            "parameters": keys,
            "size": (length, width + 6.0, 18.0),
        }
        parts.append(part.model_copy(update=changes))
        places.append(place.model_copy(update={"id": f"place-{number}", "part": f"part-{number}"}))
    return kit.model_copy(update={"parts": tuple(parts), "placements": tuple(places)})


def test_long_plain_strips_are_listed_bar_by_bar(kit: Kit) -> None:
    """Rounded down to what a rule shows; short and sprung ones are printed."""
    made = with_strips(
        kit,
        ("filler", 287.64, 7.3),
        ("filler", 287.64, 7.3),
        ("filler", 120, 7.3),
        ("sprung", 280, 7.3),
        ("fence", 197, 17),
    )
    rows = list(csv.DictReader(io.StringIO(saw_csv(made))))
    assert tuple(rows[0]) == HEAD
    assert [(row["stock_width_mm"], row["stock_height_mm"], row["length_mm"]) for row in rows] == [
        ("7.0", "3.0", "287.5"), ("7.0", "3.0", "287.5"), ("10.0", "18.0", "197.0"),
    ]  # fmt: skip
    assert [row["from_mm"] for row in rows] == ["0.0", "289.0", "0.0"]
    assert {row["bars_needed"] for row in rows} == {row["bars_at_least"] for row in rows} == {"1"}
    assert len(strips(made)) == 3


def test_without_long_strips_there_is_no_list(kit: Kit) -> None:
    """The file is not written then."""
    assert saw_csv(with_strips(kit, ("filler", 149, 7))) == ""
