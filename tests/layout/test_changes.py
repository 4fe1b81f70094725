"""What happened from one layout to the next, told by lots, in millimetres."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from hypothesis import given
from hypothesis import strategies as st

from nookwright.layout.changes import Stand, What, changes, stands_of

if TYPE_CHECKING:
    from nookwright.build import Designed

JARS = Stand("jars", "bench", 10.0, 20.0, 0.6, 107.4, 71.4, 48.0)
STANDS = st.lists(
    st.builds(
        Stand,
        st.sampled_from("abc"),
        st.sampled_from(("left", "right")),
        *([st.sampled_from((0.0, 18.0, 36.0))] * 2),
        st.just(0.6),
        *([st.sampled_from((35.4, 53.4))] * 2),
        st.just(24.0),
    ),
    max_size=6,
    unique=True,
)


def test_nothing_has_changed_where_all_stands_as_it_stood(tiny: Designed) -> None:
    """The plan of a room against itself; noise of rounding is no change."""
    stands = stands_of(tiny.plan.layout, tiny.plan.spaces, tiny.plan.module)
    assert len(stands) == len(tiny.plan.layout.placed)
    assert changes(stands, [replace(one, x=one.x + 1e-9) for one in stands]) == ()


def test_a_stand_is_where_the_part_is_put(tiny: Designed) -> None:
    """The corners of the designed parts, in the same millimetres."""
    stands = {(one.x, one.y, one.z) for one in stands_of(tiny.plan.layout, tiny.plan.spaces, tiny.plan.module)}
    assert stands == {(round(c.x, 6), round(c.y, 6), round(c.z, 6)) for c in tiny.copies if c.lined}


def test_what_moved_is_told_by_how_far_and_where_to() -> None:
    """36 to the right and 18 to the front; turned; and into another space."""
    (one,) = changes([JARS], [replace(JARS, x=46.0, y=2.0)])
    assert (one.what, one.text) == (What.MOVED, "jars: 36 mm to the right and 18 mm to the front.")
    (one,) = changes([JARS], [replace(JARS, width=71.4, depth=107.4)])
    assert (one.what, one.text) == (What.MOVED, "jars: turned.")
    (one,) = changes([JARS], [replace(JARS, space="shelf", x=5.0)])
    assert one.text == "jars: from bench to shelf, 5 mm from the left, 20 from the front."


def test_what_was_resized_says_both_sizes() -> None:
    """A tray that grew, where it stands."""
    (one,) = changes([JARS], [replace(JARS, width=125.4)])
    assert (one.what, one.text) == (What.RESIZED, "jars: 107 x 71 x 48 mm becomes 125 x 71 x 48 mm.")


def test_of_two_with_one_name_the_one_of_its_size_is_it() -> None:
    """Two spare trays change places: both moved, neither was resized."""
    large, small = replace(JARS, name="spare"), replace(JARS, name="spare", x=200.0, width=53.4, depth=35.4)
    found = changes([large, small], [replace(large, x=200.0), replace(small, x=10.0)])
    assert [one.what for one in found] == [What.MOVED, What.MOVED]


def test_what_is_new_or_gone_is_named_with_its_space() -> None:
    """Gone first, then new."""
    lids = replace(JARS, name="lids")
    assert [one.text for one in changes([JARS], [lids])] == [
        "jars: gone in bench, 107 x 71 x 48 mm.",
        "lids: new in bench, 107 x 71 x 48 mm.",
    ]


@given(STANDS, STANDS)
def test_changes_lead_from_one_to_the_other(before: list[Stand], after: list[Stand]) -> None:
    """Taking away what is gone or changed and adding what is new or changed gives the new layout; the way back too."""
    found = changes(before, after)
    kept = [one for one in before if one not in [change.before for change in found]]
    assert sorted([*kept, *(change.after for change in found if change.after)]) == sorted(after)
    assert len(changes(after, before)) == len(found)
    assert changes(before, after) == found
