"""Our own lettering."""

from __future__ import annotations

import string

import pytest
from shapely import Polygon as ShapelyPolygon
from shapely import unary_union

from nookwright.ground.errors import RecipeError
from nookwright.shapes.alphabet import LETTERS, MARKS
from nookwright.shapes.regions import BOLDEST, Glyphs, Stroke, text_width
from nookwright.shapes.strokes import letter
from nookwright.solids.outlines import outline_points

INK = [character for character, (_, chains) in LETTERS.items() if chains]
MARKED = "ÄÖÜÉÈÊÇÅÑČŘŽŐÁÍÓÚäöüéèêçåñčřžőáíóúąęïğ"


def drawn(text: str, height: float, stroke: float) -> tuple[int, int]:
    """How many pieces of ink, and how many holes in them, by shapely."""
    strokes = [each for each in Glyphs(text, height, stroke).strokes.regions if isinstance(each, Stroke)]
    pens = [ShapelyPolygon(outline_points(each.outline, 0.001)) for each in strokes]
    ink = unary_union(pens)
    pieces = list(getattr(ink, "geoms", [ink]))
    return len(pieces), sum(len(piece.interiors) for piece in pieces)


def test_all_that_people_write_on_drawers_can_be_drawn() -> None:
    """Digits, letters, and the signs of sizes."""
    assert set(string.ascii_letters + string.digits + " -+.,/()×&':") <= set(LETTERS)


@pytest.mark.parametrize("character", [*INK, *MARKED])
def test_a_letter_reads_the_same_from_the_finest_to_the_boldest_pen(character: str) -> None:
    """Counters stay open and dots stay apart: pieces and holes do not depend on the stroke."""
    assert len({drawn(character, 10, 10 * share) for share in (0.05, 0.1, 0.15, float(BOLDEST))}) == 1


@pytest.mark.parametrize(
    ("text", "pieces", "holes"), [("B8", 2, 4), ("i", 2, 0), ("Ä", 3, 1), ("ı", 1, 0), ("ï", 3, 0)]
)
def test_letters_have_their_holes(text: str, pieces: int, holes: int) -> None:
    """Two holes in B and 8, a dot on i, which gives way to other marks."""
    assert drawn(text, 10, 1) == (pieces, holes)


@pytest.mark.parametrize("character", string.ascii_uppercase.replace("Q", "").replace("J", "") + string.digits)
def test_capitals_and_digits_fill_their_height(character: str) -> None:
    """From the baseline to the height, whatever the pen, and from the left to their width."""
    x0, y0, x1, y1 = Glyphs(character, 7, 0.9).bounds
    assert (y0, y1) == (0.0, 7.0)
    assert x0 >= 0.0
    assert x1 <= text_width(character, 7, 0.9)


def test_widths_add_up() -> None:
    """A word is as long as its letters and the gaps between them, and its ink ends where it says."""
    gap = max(0.9, 0.16 * 6)
    parts = [text_width(character, 6, 0.9) for character in "M5 hex"]
    assert text_width("M5 hex", 6, 0.9) == pytest.approx(sum(parts) + 5 * gap, abs=1e-3)
    assert Glyphs("HH", 6, 0.9).bounds[2] == pytest.approx(text_width("HH", 6, 0.9), abs=1e-4)


@pytest.mark.parametrize(
    ("text", "stroke", "rule"),
    [
        ("€", 1, r"every character can be drawn; found '€' \(euro sign\)"),
        ("a\n", 1, r"every character can be drawn; found '\\n' \(u\+000a\)"),
        ("漢", 1, "cjk unified ideograph"),
        ("A", 2.01, "the pen is fine enough; found 2.01, allowed: at most 2"),
        ("", 1, "text holds something"),
        ("  ", 1, "text holds something"),
    ],
)
def test_what_cannot_be_drawn_is_refused(text: str, stroke: float, rule: str) -> None:
    """Unknown characters by their names, too bold a pen, no ink."""
    with pytest.raises(RecipeError, match=rule):
        Glyphs(text, 10, stroke)


def test_a_letter_and_its_mark_are_the_same_written_apart() -> None:
    """Composed and decomposed text give one region, since Unicode says that they are the same."""
    assert letter("é").chains == (
        *letter("e").chains,
        *(tuple((x + 0.3, y - (1 - 0.7), b) for x, y, b in chain) for chain in MARKS["\N{COMBINING ACUTE ACCENT}"]),
    )
    assert Glyphs("e\N{COMBINING ACUTE ACCENT}", 10, 1).bounds == Glyphs("é", 10, 1).bounds
