"""What may go where is decided twice, under the hand and in the studio: both say the same, word for word."""

from __future__ import annotations

import random
from typing import TYPE_CHECKING

from playwright.sync_api import expect

from nookwright.studio.arrangement import Arrangement, RefusedError
from nookwright.studio.sheets import Footprint, Item, Sheet, Sheets, Wanted

if TYPE_CHECKING:
    from playwright.sync_api import Page

CASES = 300
KINDS_OF_ANSWERS = (
    "", "overlaps", "out of", "is blocked", "of height", "may not go", "at least", "another tray", "fills",
)  # fmt: skip
RULES = """async (cases) => {
  const { refusal } = await import("nw-plan");
  return cases.map((one) => refusal(one.sheet, one.items, one.item, one.wanted, one.module));
}"""


def invented(dice: random.Random) -> tuple[Sheets, Item]:
    """A space with a few parts, and one of them as a hand would have it."""
    cols, rows = dice.randint(4, 9), dice.randint(4, 9)
    sheet = Sheet(
        id="drawer",
        name="The drawer",
        kind="drawer",
        cols=cols,
        rows=rows,
        blocked=tuple((dice.randrange(cols), dice.randrange(rows)) for _ in range(dice.randint(0, 3))),
        origin=(1.5, 2.0),
        size=(cols * 21.0 + 3, rows * 21.0 + 4, 80.0),
        height=dice.choice((28.5, 40.0, 66.5)),
        load_g=5000.0,
    )
    items = tuple(_part(dice, number, cols, rows) for number in range(dice.randint(2, 6)))
    lots = tuple(_wanted(dice, one) for one in items if one.lot)
    sheets = Sheets(pitch=21.0, rise=7.0, gap=0.5, spaces=(sheet,), items=items, lots=lots, left_out=(), cost=())
    one = dice.choice(items)
    if dice.random() < 0.5:
        return sheets, one.model_copy(update={"col": dice.randint(-2, cols), "row": dice.randint(-2, rows)})
    return sheets, one.model_copy(update={"cols": dice.randint(0, 4), "rows": dice.randint(0, 4)})


def _part(dice: random.Random, number: int, cols: int, rows: int) -> Item:
    lot = f"lot-{number}" if dice.random() < 0.85 else ""
    return Item(
        id=lot or f"drawer-{number}",
        lot=lot,
        name=f"Thing {number}",
        kind="tray",
        space="drawer",
        col=dice.randrange(cols),
        row=dice.randrange(rows),
        cols=dice.randint(1, 3),
        rows=dice.randint(1, 3),
        height=dice.choice((14.0, 21.0, 35.0)),
        tall=dice.choice((14.5, 28.5, 35.5, 52.0)),
        mass_g=10.0,
        level=int(dice.random() < 0.08),
    )


def _wanted(dice: random.Random, item: Item) -> Wanted:
    sizes = tuple(
        Footprint(
            cols=dice.randint(1, 2),
            rows=dice.randint(1, 3),
            height=dice.choice((14.0, 21.0)),
            tall=14.5,
            may_turn=dice.random() < 0.5,
        )
        for _ in range(dice.randint(1, 4))
    )
    return Wanted(
        lot=item.lot,
        name=item.name,
        sizes=sizes,
        refused={"drawer": "it gets warm there"} if dice.random() < 0.1 else {},
    )


def answer(sheets: Sheets, wish: Item) -> str:
    """Why the studio refuses it; nothing where it does not."""
    now = Arrangement.of(sheets)
    was = now.item(wish.id)
    try:
        if (was.cols, was.rows) != (wish.cols, wish.rows):
            now.resized(wish.id, wish.cols, wish.rows)
        else:
            now.moved(wish.id, "drawer", wish.col, wish.row)
    except RefusedError as error:
        return str(error)
    return ""


def test_both_say_the_same_of_300_gestures(page: Page) -> None:
    """Every kind of answer comes up among them, so no rule is left out."""
    dice = random.Random(8)  # noqa: S311 - cases, not keys
    cases = [case for case in (invented(dice) for _ in range(2 * CASES)) if case[1] not in case[0].items][:CASES]
    expected = [answer(*case) for case in cases]
    expect(page.locator(".tray").first).to_be_visible()
    found = page.evaluate(RULES, [_plain(*case) for case in cases])
    assert found == expected
    assert len(found) == CASES
    for words in KINDS_OF_ANSWERS:
        assert any(words in said if words else not said for said in found), words


def _plain(sheets: Sheets, wish: Item) -> dict[str, object]:
    wanted = next((one.model_dump() for one in sheets.lots if one.lot == wish.lot), None)
    return {
        "sheet": sheets.spaces[0].model_dump(),
        "items": [one.model_dump() for one in sheets.items],
        "item": wish.model_dump(),
        "wanted": wanted,
        "module": {"pitch": sheets.pitch, "gap": sheets.gap, "rise": sheets.rise},
    }
