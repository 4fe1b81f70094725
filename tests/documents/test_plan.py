"""The plan of a space, read back from its file."""

from __future__ import annotations

import itertools
import math
import re
from typing import TYPE_CHECKING

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from nookwright.documents import plan, style
from nookwright.documents.plan import plan_svg
from nookwright.exchange.kit import BlockedBox

if TYPE_CHECKING:
    from collections.abc import Callable

    from tests.documents.conftest import Drawn

    from nookwright.exchange.kit import Kit
    from nookwright.exchange.svg import Box

    Space = tuple[float, float, list[tuple[int, int, int, int, str]], tuple[BlockedBox, ...]]

LABELS = st.one_of(
    st.sampled_from(("hex keys", "M5", "spare bulbs, small", "Zündkerzenschlüssel", "a/b/c-d", "ペン", "W" * 30)),
    st.text(min_size=0, max_size=40),
)


@st.composite
def layouts(draw: st.DrawFn) -> Space:
    """A space with trays that do not overlap, from a crowd of small ones to one alone, and blocked boxes."""
    width, depth = draw(st.floats(60, 1400)), draw(st.floats(60, 700))
    cols, rows = int(width // 18), int(depth // 18)
    taken: set[tuple[int, int]] = set()
    seats = []
    for _ in range(draw(st.integers(0, 40))):
        col, row = draw(st.integers(0, cols - 1)), draw(st.integers(0, rows - 1))
        wide, deep = draw(st.integers(1, 14)), draw(st.integers(1, 8))
        cells = {(col + i, row + j) for i in range(wide) for j in range(deep)}
        if not cells & taken and col + wide <= cols and row + deep <= rows:
            taken |= cells
            seats.append((col, row, wide, deep, draw(LABELS)))
    blocked: tuple[BlockedBox, ...] = ()
    if draw(st.booleans()):
        high = (width, depth, 80.0)
        low = (width - draw(st.floats(2, width / 2)), depth - draw(st.floats(2, depth / 2)), 0.0)
        blocked = (BlockedBox(reason=draw(LABELS), service=False, low=low, high=high),)
        edge = int((low[0] - 18) // 18), int((low[1] - 18) // 18)
        seats = [seat for seat in seats if seat[0] + seat[2] <= edge[0] or seat[1] + seat[3] <= edge[1]]
    return width, depth, seats, blocked


def check_lettering(drawn: Drawn) -> None:
    """No text on another, on a ring that is not its own, or off the sheet."""
    sheet = drawn.rects["paper"][0]
    for text in drawn.texts:
        assert sheet.inset(style.MARGIN / 2).holds(text.box), f"{text} leaves the sheet"
    for one, other in itertools.combinations(drawn.texts, 2):
        assert not one.box.meets(other.box), f"{one} lies on {other}"
    for ring, other_ring in itertools.combinations(drawn.rings, 2):
        assert apart(ring, other_ring), f"{ring} lies on {other_ring}"
    for ring, text in itertools.product(drawn.rings, drawn.texts):
        inside = ring.inset(-0.05).holds(text.box)
        assert inside or not ring.inset(0.3).meets(text.box), f"a ring lies on {text}"


def apart(one: Box, other: Box) -> bool:
    """Whether two rings do not overlap."""
    (x, y), (u, v) = one.middle, other.middle
    return math.hypot(x - u, y - v) >= (one.width + other.width) / 2 - 0.05  # file rounding


@pytest.mark.parametrize("space_id", ["bench-left", "tea-drawer"])
def test_lettering_never_overlaps_in_a_sample(kit: Kit, drawn: Callable[[str], Drawn], space_id: str) -> None:
    """No text lies on another, is crossed by a ring, or leaves the sheet."""
    check_lettering(drawn(plan_svg(kit, space_id)))


@pytest.mark.parametrize("seed", range(4))
def test_lettering_never_overlaps_in_a_crowd(
    crowded: Callable[..., Kit], drawn: Callable[[str], Drawn], seed: int
) -> None:
    """Sixty trays down to 35 by 35 in a drawer of 860 by 460 are lettered without overlap."""
    check_lettering(drawn(plan_svg(crowded(seed), "wide")))


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(layouts())
def test_lettering_never_overlaps(make_kit: Callable[..., Kit], drawn: Callable[[str], Drawn], layout: Space) -> None:
    """Whatever lies in a space and whatever it is called, no text lies on another or leaves the sheet."""
    width, depth, seats, blocked = layout
    check_lettering(drawn(plan_svg(make_kit(width, depth, seats, blocked=blocked), "some")))


@pytest.mark.parametrize("space_id", ["bench-left", "tea-drawer"])
def test_everything_placed_is_drawn_and_listed(kit: Kit, drawn: Callable[[str], Drawn], space_id: str) -> None:
    """Each placed tray has its rectangle, and each placed part its name in the list."""
    read = drawn(plan_svg(kit, space_id))
    parts = {part.id: part for part in kit.parts}
    here = [one for one in kit.placements if one.space == space_id]
    trays = [one for one in here if parts[one.part].kind in {"tray", "cradle"}]
    assert len(read.rects["part"]) == len(trays)
    listed = " ".join(text.content for text in read.texts if text.group == "list")
    for one in here:
        assert parts[one.part].name in listed
    for one in trays:
        assert one.label in listed


def test_each_mark_on_the_drawing_is_in_the_list(dense: Kit, drawn: Callable[[str], Drawn]) -> None:
    """A number in a ring on the drawing leads to a row of the list, and every tray's row is led to."""
    read = drawn(plan_svg(dense, "wide"))
    on_plan = {text.content for text in read.texts if text.group == "labels" and text.content.isdigit()}
    in_list = {text.content for text in read.texts if text.group == "list" and re.fullmatch(r"\d{2,}", text.content)}
    assert in_list <= on_plan
    assert on_plan == {str(number) for number in range(1, len(read.rects["part"]) + 1)}


@pytest.mark.parametrize(("space_id", "width", "depth"), [("bench-left", 362.4, 288.0), ("tea-drawer", 560.0, 402.0)])
def test_drawing_is_to_scale(
    kit: Kit, drawn: Callable[[str], Drawn], space_id: str, width: float, depth: float
) -> None:
    """The outline measured on paper, times the scale that the title block states, is the space."""
    read = drawn(plan_svg(kit, space_id))
    stated = next(text.content for text in read.texts if text.content.startswith("1 : "))
    scale = float(stated.removeprefix("1 : "))
    outline = read.rects["inside"][0]
    half_digit = 0.005 * scale  # two decimals of paper
    assert outline.width * scale == pytest.approx(width, abs=2 * half_digit)
    assert outline.height * scale == pytest.approx(depth, abs=2 * half_digit)


def test_parts_lie_where_their_matrices_say(kit: Kit, drawn: Callable[[str], Drawn]) -> None:
    """A tray's rectangle on paper, brought back to the space, is its box there, turned ones too."""
    read = drawn(plan_svg(kit, "tea-drawer"))
    scale = float(next(text.content for text in read.texts if text.content.startswith("1 : "))[4:])
    outline = read.rects["inside"][0]
    found = {
        (round((box.x - outline.x) * scale), round((outline.bottom - box.bottom) * scale), round(box.width * scale))
        for box in read.rects["part"]
    }
    parts = {part.id: part for part in kit.parts}
    for one in kit.placements:
        if one.space == "tea-drawer" and parts[one.part].kind in {"tray", "cradle"}:
            (a, b, _, x), (_, _, _, y) = one.space_from_part[0], one.space_from_part[1]
            wide, deep, _ = parts[one.part].size
            left, across = (x, wide) if a else (x - deep, deep)
            assert b in {0, -1}
            assert any(abs(left - u) <= 1 and abs(y - v) <= 1 and abs(across - w) <= 1 for u, v, w in found), one


def test_sheet_is_a4_where_it_can_be(kit: Kit, crowded: Callable[..., Kit], drawn: Callable[[str], Drawn]) -> None:
    """The samples and a drawer of 860 by 460 with 25 trays stay on A4."""
    for one, space_id in ((kit, "bench-left"), (kit, "tea-drawer"), (crowded(1, most=25), "wide")):
        root = drawn(plan_svg(one, space_id)).root
        assert {root.get("width"), root.get("height")} == {"297mm", "210mm"}


def test_same_kit_gives_the_same_bytes(kit: Kit) -> None:
    """Nothing in a drawing changes from run to run."""
    assert plan_svg(kit, "tea-drawer") == plan_svg(kit.model_copy(deep=True), "tea-drawer")


def test_nothing_fetched_and_no_id(kit: Kit) -> None:
    """A drawing refers to nothing and has no id, so many stand in one page."""
    text = plan_svg(kit, "bench-left").replace('xmlns="http://www.w3.org/2000/svg"', "")
    for word in ("http", "href", "url(", " id=", "<script", "<style", "<image"):
        assert word not in text


def test_names_are_escaped(kit: Kit) -> None:
    """Angle brackets and ampersands of names arrive as text."""
    text = plan_svg(kit, "tea-drawer")
    assert "Wide drawer &lt;tea &amp; cake&gt;" in text


def test_has_a_name_for_those_who_listen(kit: Kit, drawn: Callable[[str], Drawn]) -> None:
    """A drawing is one picture with a title and a description for a screen reader."""
    root = drawn(plan_svg(kit, "bench-left")).root
    assert root.get("role") == "img"
    assert root.get("aria-label") == root[0].text == "Plan of Bench drawer, left"
    assert root[1].tag.endswith("desc")


def test_empty_space_says_so(make_kit: Callable[..., Kit], drawn: Callable[[str], Drawn]) -> None:
    """A space without parts is drawn with its size and the words that it is empty."""
    one = make_kit(300, 200, [])
    bare = one.model_copy(update={"placements": ()})
    read = drawn(plan_svg(bare, "some"))
    words = {text.content for text in read.texts}
    assert {"Nothing is placed here", "300", "200"} <= words


def test_rim_that_differs_is_drawn(kit: Kit, drawn: Callable[[str], Drawn]) -> None:
    """A space whose rim is tighter than its floor has a second outline, one alike has none."""
    assert len(drawn(plan_svg(kit, "tea-drawer")).rects["tightest"]) == 1
    assert "tightest" not in drawn(plan_svg(kit, "bench-left")).rects


def test_blocked_box_has_its_reason(kit: Kit, drawn: Callable[[str], Drawn]) -> None:
    """What stays free is drawn, with its reason on it and in the list."""
    read = drawn(plan_svg(kit, "bench-left"))
    assert len(read.rects["blocked"]) == 1
    assert {"labels", "list"} <= {text.group for text in read.texts if "waste pipe" in text.content}


def test_blocked_boxes_end_at_the_wall(make_kit: Callable[..., Kit], drawn: Callable[[str], Drawn]) -> None:
    """A box grown past the wall by the measuring error is drawn up to the wall."""
    pipe = BlockedBox(reason="pipe", service=True, low=(200, 100, 0), high=(304, 203, 80))
    read = drawn(plan_svg(make_kit(300, 200, [], blocked=(pipe,)), "some"))
    assert read.rects["inside"][0].inset(-0.011).holds(read.rects["blocked"][0])


def test_a_stack_of_sheets_is_no_blot(kit: Kit) -> None:
    """Two hundred cards on top of each other and a tenth of a millimetre apart are drawn as a few lines."""
    lot = kit.lots[0]
    place = lot.places[0]
    many = place.model_copy(
        update={"at": tuple((53.0, 20 + 0.1 * (n % 20), 0.3 * n) for n in range(200)), "size": (90.0, 1.0, 50.0)}
    )
    changed = lot.model_copy(update={"places": (many,)})
    before, after = (
        plan_svg(one, "bench-left").count("<rect")
        for one in (
            kit.model_copy(update={"lots": (lot.model_copy(update={"places": ()}), *kit.lots[1:])}),
            kit.model_copy(update={"lots": (changed, *kit.lots[1:])}),
        )
    )
    assert 1 <= after - before <= 3


def test_unknown_space_is_refused(kit: Kit) -> None:
    """The message names what was asked for and what there is."""
    with pytest.raises(KeyError, match=r"no space 'attic'.*bench-left"):
        plan.plan_svg(kit, "attic")
