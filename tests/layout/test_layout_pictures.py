"""The pictures of calm and tightest in the docs: the same room twice, drawn as it is, and calm is the calmer one."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from pathlib import Path
from typing import TypeAlias

import pytest

DOCS = Path(__file__).resolve().parents[2] / "docs"
PICTURES = sorted((DOCS / "pictures").glob("layout-*.svg"))
SVG = "{http://www.w3.org/2000/svg}"
DRAWN = 0.11  # px, to which the pictures are rounded, twice

Box: TypeAlias = tuple[float, float, float, float]


def panels(picture: Path) -> dict[str, tuple[Box, list[Box], list[Box]]]:
    """Of each layout in a picture: the frame, the blocked cells, the parts."""
    root = ET.parse(picture).getroot()  # noqa: S314 - our own file
    found = {}
    for group in root.iter(f"{SVG}g"):
        boxes: dict[str, list[Box]] = {"frame": [], "blocked": [], "part": []}
        for one in group.iter(f"{SVG}rect"):
            x, y, width, height = (float(one.get(key, "0")) for key in ("x", "y", "width", "height"))
            boxes[one.get("class", "")].append((x, y, x + width, y + height))
        found[group.get("id", "")] = (boxes["frame"][0], boxes["blocked"], boxes["part"])
    return found


def overlap(one: Box, other: Box) -> bool:
    """Whether two boxes share more than an edge."""
    wide = min(one[2], other[2]) - max(one[0], other[0])
    return wide > DRAWN and min(one[3], other[3]) - max(one[1], other[1]) > DRAWN


def distinct(values: list[float]) -> int:
    """How many values differ by more than what is rounded."""
    ordered = sorted(values)
    return sum(1 for n, value in enumerate(ordered) if n == 0 or value - ordered[n - 1] > 2 * DRAWN)


def test_the_page_shows_every_picture() -> None:
    """And no other one."""
    page = (DOCS / "layout.md").read_text(encoding="utf-8")
    assert PICTURES
    assert page.count("](pictures/layout-") == len(PICTURES)
    assert all(f"](pictures/{picture.name})" in page for picture in PICTURES)


@pytest.mark.parametrize("picture", PICTURES, ids=lambda picture: picture.stem)
def test_parts_lie_apart_inside_their_frame(picture: Path) -> None:
    """Both layouts, and nothing on what is blocked."""
    both = panels(picture)
    assert set(both) == {"calm", "tightest"}
    for frame, blocked, parts in both.values():
        assert all(x0 >= 0 and y0 >= 0 and x1 <= frame[2] and y1 <= frame[3] for x0, y0, x1, y1 in parts)
        lying = [*parts, *blocked]
        hits = [(a, b) for n, a in enumerate(parts) for b in lying[n + 1 :] if overlap(a, b)]
        assert hits == []


def test_no_part_is_lost_between_the_two() -> None:
    """Over the whole room there are as many in calm as in tightest."""
    count = {"calm": 0, "tightest": 0}
    for picture in PICTURES:
        for name, (_, _, parts) in panels(picture).items():
            count[name] += len(parts)
    assert count["calm"] == count["tightest"] > 40


def test_calm_is_the_calmer_one() -> None:
    """Fewer widths, and fewer lines at which parts begin, in all spaces together."""
    widths, lines = {"calm": 0, "tightest": 0}, {"calm": 0, "tightest": 0}
    for picture in PICTURES:
        for name, (_, _, parts) in panels(picture).items():
            widths[name] += distinct([x1 - x0 for x0, _, x1, _ in parts])
            lines[name] += distinct([x0 for x0, _, _, _ in parts]) + distinct([y1 for _, _, _, y1 in parts])
    assert widths["calm"] < widths["tightest"]
    assert lines["calm"] < lines["tightest"]
