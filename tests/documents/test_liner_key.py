"""The small plan of the liner."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from hypothesis import given
from hypothesis import strategies as st

from nookwright.documents import liner_key
from nookwright.documents.plan import plan_svg

if TYPE_CHECKING:
    from collections.abc import Callable

    from tests.documents.conftest import Drawn

    from nookwright.exchange.kit import Kit


def test_pieces_of_a_panel_are_told_apart(kit: Kit, drawn: Callable[[str], Drawn]) -> None:
    """A panel that is cut has a mark for each of its pieces: A1, A2."""
    panel = next(piece for piece in kit.pieces if piece.part == "panel-162x198-h4-slate")
    width, depth, height = panel.size
    halves = [
        panel.model_copy(
            update={
                "id": f"{panel.id}-{n}",
                "size": (width / 2, depth, height),
                "part_from_piece": ((1, 0, 0, n * width / 2), (0, 1, 0, 0), (0, 0, 1, 0), (0, 0, 0, 1)),
            }
        )
        for n in range(2)
    ]
    others = [piece for piece in kit.pieces if piece is not panel]
    read = drawn(plan_svg(kit.model_copy(update={"pieces": (*others, *halves)}), "bench-left"))
    marks = sorted(text.content for text in read.texts if text.group == "liner-key")
    assert marks[:5] == ["A", "B1", "B2", "C", "D"]
    assert [text.content for text in read.texts if text.content == "panel 2, in 2 pieces"]


@given(st.floats(40, 3000), st.floats(40, 1500))
def test_it_fits_its_column(width: float, depth: float) -> None:
    """Whatever the space, the small plan with its rings is at most 46 high and as wide as the column."""
    scale = liner_key.scale_of((width, depth), 86)
    assert width / scale + 2 * liner_key.ROUND <= 86 + 1e-9
    assert liner_key.height_of((width, depth), 86) <= liner_key.HIGHEST + 1e-9


def test_every_liner_part_has_its_letter(kit: Kit, drawn: Callable[[str], Drawn]) -> None:
    """As many rings with a letter as there are liner parts with it."""
    read = drawn(plan_svg(kit, "tea-drawer"))
    letters = Counter(
        text.content for text in read.texts if text.group == "liner-key" and not text.content.startswith("Liner")
    )
    assert letters == {"A": 4, "B": 2, "C": 1}
