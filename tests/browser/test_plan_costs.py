"""What a gesture costs on the plan: counted in bytes that are sent and in elements that are drawn anew."""

from __future__ import annotations

import random
from typing import TYPE_CHECKING, Any

import pytest
from playwright.sync_api import expect
from tests.browser.hands import begin_anew, cells, expect_cells, kept, move, revision, tray

from nookwright.studio.patches import Patch

if TYPE_CHECKING:
    from playwright.sync_api import Page, WebSocket
    from tests.browser.conftest import Served

MOST_BYTES = 600  # of a patch and the words beside it; the plan of this small room has 3 000
CASES = 100
PATCHED = """async (cases) => {
  const { patched } = await import("nw-plan");
  return cases.map(([items, changed, gone]) => patched(items, changed, gone));
}"""
COUNT = """() => {
  window.touched = new Set();
  new MutationObserver((all) => { for (const one of all) {
    const part = one.target.closest ? one.target.closest(".tray") : null;
    if (part) window.touched.add(part.dataset.id);
  } }).observe(document.querySelector("svg[data-rev]"), { attributes: true, childList: true, subtree: true });
}"""


class Wire:
    """What came over the page's connection."""

    def __init__(self) -> None:
        """Nothing yet."""
        self.frames: list[str] = []

    def listen(self, socket: WebSocket) -> None:
        """Note what comes over a connection."""
        socket.on("framereceived", lambda frame: self.frames.append(str(frame)))

    def of_plans(self) -> list[str]:
        """Frames that say anything about parts: all of a plan, or what changed in it."""
        return [one for one in self.frames if '"items"' in one or "patch" in one]


@pytest.fixture
def wire(page: Page, served: Served) -> Wire:
    """The connection of the page, opened anew so that all of it is heard."""
    heard = Wire()
    page.on("websocket", heard.listen)
    page.goto(f"{served.home}/layout")
    expect(tray(page, "dice")).to_be_visible()
    begin_anew(page)
    heard.frames.clear()
    return heard


def test_a_move_sends_what_it_changes(page: Page, wire: Wire) -> None:
    """The part by its number and its new place; no other part, and no word that a person typed."""
    move(page, "dice")
    kept(page)
    wire.frames.clear()
    move(page, "dice")
    plan = next(number for number, one in enumerate(wire.frames) if one in wire.of_plans())
    assert "patch" in wire.frames[plan]
    assert "Dice" not in wire.frames[plan]
    assert sum(map(len, wire.frames[: plan + 1])) < MOST_BYTES


@pytest.mark.parametrize("way", ["stays", "undo", "search"])
def test_other_gestures_send_no_more(page: Page, wire: Wire, way: str) -> None:
    """To let a part stay, to take a move back, to find a thing: nothing of the plan is sent that stays the same."""
    move(page, "dice")
    kept(page)
    wire.frames.clear()
    if way == "stays":
        tray(page, "dice").focus()
        page.keyboard.press("s")
        expect(tray(page, "dice")).to_have_class("tray picked stays")
    elif way == "undo":
        page.locator('[data-do="undo"]').click()
        expect(page.locator("[data-said]")).to_have_text("Taken back: Dice moved.")
    else:
        page.locator("[data-find]").fill("cork")
        expect(page.locator('.tray.found[data-id="corks"]')).to_be_visible()
    assert [one for one in wire.frames if '"items"' in one] == []


def test_a_move_draws_one_part_anew(page: Page, wire: Wire) -> None:
    """All others are left as they are, and so are their elements."""
    assert wire.frames == []
    tray(page, "dice").focus()
    page.evaluate(COUNT)
    move(page, "dice")
    assert page.evaluate("[...window.touched]") == ["dice"]


def test_a_page_that_missed_a_change_asks_for_all_of_it(page: Page, wire: Wire) -> None:
    """A patch of something else than it shows changes nothing; it shows the truth afterwards."""
    before = cells(page, "dice")
    patch = {"base": 10**6, "state": 10**6 + 1, "rev": 10**6, "mark": -1, "changed": [[0, {"col": 0}]], "gone": [0]}
    page.evaluate(
        "(patch) => getElement(parseInt(document.querySelector('.plan-sheet').id.slice(1))).patch(patch)", patch
    )
    expect_cells(page, "dice", before)
    rev = revision(page)
    move(page, "dice")
    assert revision(page) == rev + 1
    assert any('"items"' in one for one in wire.frames)


def test_a_patch_is_read_as_it_is_written(page: Page) -> None:
    """In the browser and in Python the same items come of it."""
    dice = random.Random(5)  # noqa: S311 - cases, not secrets
    patches: list[tuple[list[dict[str, Any]], Patch]] = []
    for _ in range(CASES):
        items = [{"id": f"{n}", "col": dice.randint(0, 9), "name": "n"} for n in range(dice.randint(0, 6))]
        some = [n for n in range(len(items)) if dice.random() < 0.5]
        changed = tuple((n, {"col": float(dice.randint(0, 9)), "stays": dice.random() < 0.5}) for n in some)
        patches.append((items, Patch(changed, tuple(n for n in range(len(items)) if dice.random() < 0.2))))
    made = page.evaluate(PATCHED, [[items, patch.sent["changed"], patch.sent["gone"]] for items, patch in patches])
    assert made == [[dict(one) for one in patch.made(items)] for items, patch in patches]
