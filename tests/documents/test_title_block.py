"""The title block."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.documents.plan import plan_svg

if TYPE_CHECKING:
    from collections.abc import Callable

    from tests.documents.conftest import Drawn

    from nookwright.exchange.kit import Kit


def test_it_says_what_the_drawing_is_of(kit: Kit, drawn: Callable[[str], Drawn]) -> None:
    """Room, space, inside, clear height and version stand in it, and no date."""
    texts = [text.content for text in drawn(plan_svg(kit, "bench-left")).texts if text.group == "title"]
    assert {"Sewing room (invented)", "Bench drawer, left", "362.4 × 288", "74", "0.1.0"} <= set(texts)
    assert not [text for text in texts if "date" in text.lower()]


def test_the_bar_is_to_scale(kit: Kit, drawn: Callable[[str], Drawn]) -> None:
    """The bar, measured on paper and times the scale, is as long as it says."""
    read = drawn(plan_svg(kit, "bench-left"))
    texts = [text.content for text in read.texts if text.group == "title"]
    scale = float(next(text for text in texts if text.startswith("1 : "))[4:])
    length = float(next(text for text in texts if text.endswith("0 mm")).split()[0])
    halves = [box.width for box in read.rects[""] if box.height < 1]
    assert len(halves) == 2
    assert abs(sum(halves) * scale - length) < 0.01 * scale


def test_a_long_name_is_cut_with_an_ellipsis(make_kit: Callable[..., Kit], drawn: Callable[[str], Drawn]) -> None:
    """A name that fits at no size ends in an ellipsis inside its field."""
    kit = make_kit(300, 200, [], name="Drawer " * 30)
    texts = [text for text in drawn(plan_svg(kit, "some")).texts if text.group == "title"]
    (name,) = [text for text in texts if text.content.startswith("Drawer")]
    assert name.content.endswith("…")
    assert name.box.width <= 86
