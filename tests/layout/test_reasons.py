"""Why a lot stays out: each rule has its own words, with the figure, the limit and a remedy, in millimetres."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from nookwright.layout.place import Effort, lay_out
from nookwright.layout.search.easing import Less

if TYPE_CHECKING:
    from tests.layout.conftest import Make

    from nookwright.layout.model import Ask, Grid

QUICK = Effort(tries=100, moves=200, rounds=1)


def reason(grids: tuple[Grid, ...], *asks: Ask) -> str:
    """The reason of the only lot that is left out."""
    (left,) = lay_out(grids, asks, pitch=18.0, effort=QUICK).left_out
    return left.reason


def test_too_tall(make: Make) -> None:
    """The height that it needs, and the tallest space that is to be filled."""
    ask = replace(make.ask("jar"), candidates=(make.candidate("jar", 2, 2, tall=210.0),))
    grids = (make.grid("low", 5, 5, height=60.0), make.grid("high", 5, 5, height=90.0))
    under = make.grid("under", 5, 5, height=300.0, fill=False)
    text = reason((*grids, under), ask)
    assert "210 mm" in text
    assert "high, has 90 mm" in text


def test_homes_that_are_too_low(make: Make) -> None:
    """Only the homes of its group are looked at and named; a taller space elsewhere does not count."""
    ask = replace(make.ask("jar"), candidates=(make.candidate("jar", 2, 2, tall=210.0),), spaces=("low",))
    text = reason((make.grid("low", 5, 5, height=60.0), make.grid("high", 5, 5, height=300.0)), ask)
    assert "every home of its group (the tallest, low, has 60 mm)" in text


def test_homes_without_a_floor(make: Make) -> None:
    """A home that is the underside of a shelf takes no trays."""
    ask = replace(make.ask("jar", (2, 2)), spaces=("under",))
    text = reason((make.grid("drawer", 5, 5), make.grid("under", 5, 5, fill=False)), ask)
    assert "the homes of its group (under) have no floor" in text


def test_too_large(make: Make) -> None:
    """The smallest footprint in millimetres, and the largest space."""
    text = reason((make.grid("small", 4, 6), make.grid("long", 2, 20)), make.ask("pan", (12, 4), (7, 7)))
    assert "needs 216 x 72 mm in one piece" in text
    assert "long, has 36 x 360 mm" in text


def test_too_heavy(make: Make) -> None:
    """What it weighs, and what the strongest space has left."""
    ask = replace(make.ask("vice"), candidates=(make.candidate("vice", 2, 2, mass_g=5000.0),))
    text = reason((make.grid("a", 4, 4, load_g=900.0), make.grid("b", 4, 4, load_g=1200.0)), ask)
    assert "weighs 5000 g" in text
    assert "b, has 1200 g" in text


def test_in_the_reach_of_children(make: Make) -> None:
    """All spaces that it fits are named."""
    ask = replace(make.ask("bleach", (2, 2)), out_of_reach=True)
    text = reason((make.grid("a", 4, 4, children=True), make.grid("b", 1, 1)), ask)
    assert "children can reach every space that it fits (a)" in text


def test_no_room_left(make: Make) -> None:
    """The free floor of the spaces that could take it, and what it needs in one piece."""
    text = reason((make.grid("s", 5, 5),), make.ask("a", (4, 4)), make.ask("b", (4, 4)))
    assert "(s) have 29 cm² free" in text
    assert "52 cm² in one piece of 72 x 72 mm" in text


def test_no_load_left(make: Make) -> None:
    """There is floor, but what is already there uses up the load."""
    text = reason((make.grid("s", 5, 5, load_g=150.0),), make.ask("a", (2, 2)), make.ask("b", (2, 2)))
    assert "weighs 100 g" in text
    assert "carry only 50 g more" in text


def test_nothing_to_fill(make: Make) -> None:
    """A room whose only space has no floor."""
    assert "no space of the room can be filled" in reason((make.grid("u", 5, 5, fill=False),), make.ask("a", (2, 2)))


def test_no_part(make: Make) -> None:
    """A lot without any candidate."""
    assert "no kind of part can hold it" in reason((make.grid("s", 5, 5),), make.ask("a"))


def test_too_small_for_the_cones(make: Make) -> None:
    """The liner holds 2 x 2 cells and more; the remedy names the pattern that would hold it."""
    said = reason((make.grid("a", 6, 6, smallest=(2, 2)),), make.ask("pens", (1, 4)))
    assert "less than the 36 x 36 mm that the liner holds" in said


def test_what_would_let_it_in_was_tried(make: Make) -> None:
    """The least used lot whose going is enough, and the fewest columns more; both then really work."""
    often, rarely, other = (
        make.ask("often", (4, 2), use=9.0),
        make.ask("rarely", (4, 2), use=0.2),
        make.ask("pan", (4, 2)),
    )
    grid = make.grid("s", 4, 5)
    (left,) = lay_out((grid,), (often, rarely, other), pitch=18.0, effort=QUICK).left_out
    names = {"often", "rarely", "pan"} - {left.lot}
    gone = "rarely" if "rarely" in names else "pan"
    assert f"take {gone} out of s (then it fits)" in left.remedy
    assert "make s 36 mm wider (then it fits)" in left.remedy
    assert lay_out((replace(grid, cols=6),), (often, rarely, other), pitch=18.0, effort=QUICK).left_out == ()
    assert lay_out((replace(grid, cols=5),), (often, rarely, other), pitch=18.0, effort=QUICK).left_out != ()


def test_how_much_is_missing(make: Make) -> None:
    """In mm of height and of length, and in g."""
    grids = (make.grid("s", 10, 4, height=90.0, load_g=900.0),)
    tall = replace(make.ask("jar"), candidates=(make.candidate("jar", 2, 2, tall=107.5),))
    heavy = replace(make.ask("vice"), candidates=(make.candidate("vice", 2, 2, mass_g=930.0),))
    assert "18 mm more than the clear height" in reason(grids, tall)
    assert "36 mm longer than every space" in reason(grids, make.ask("knife", (12, 2)))
    assert "30 g more than any space" in reason(grids, heavy)


def test_the_room_to_grow_that_would_be_little_enough_was_tried(make: Make) -> None:
    """The most of those that let it in, beside what is there; where none does, growth is not spoken of."""
    grid, there, out = make.grid("s", 5, 5), make.ask("there", (4, 4), use=9.0), make.ask("out", (3, 3))
    most = (10.0, (make.candidate("out", 2, 4),))
    less = {
        "few": Less(15.0, (most, (5.0, (make.candidate("out", 1, 5),)))),
        "enough": Less(15.0, (most, (5.0, (make.candidate("out", 2, 4), make.candidate("out", 1, 4))), (0.0, ()))),
        "tall": Less(15.0, ((5.0, (make.candidate("out", 2, 2, tall=500.0),)),)),
        "fixed": Less(0.0, ()),
        "unknown": None,
    }

    def remedy(kind: str) -> str:
        (left,) = lay_out(
            (grid,), (there, out), pitch=18.0, effort=QUICK, lessen=lambda lot: less[kind] if lot == "out" else None
        ).left_out
        assert left.lot == "out"
        return left.remedy

    assert "leave 5 % room to grow instead of 15 % (then it fits)" in remedy("enough")
    assert "leave 5 % room to grow instead of 15 % (then it fits)" in remedy("few")
    assert "room to grow" not in remedy("tall") + remedy("fixed")
    assert "leave less room to grow" in remedy("unknown")
