"""What a hand does with parts: resized, swapped, moved to other spaces, improved; and what is forged."""

from __future__ import annotations

import re
import tomllib
from typing import TYPE_CHECKING

import pytest
from playwright.sync_api import expect
from tests.browser.conftest import ROOM
from tests.browser.hands import (
    begin_anew,
    carry,
    cells,
    expect_cells,
    free_spot,
    kept,
    middle,
    move,
    revision,
    said,
    tray,
)

if TYPE_CHECKING:
    from playwright.sync_api import Page
    from tests.browser.conftest import Served

PRICE = re.compile(r"[\d.]+ (dm\u00b2|g) (more|less) (floor|plastic).* than the tightest|costs nothing here")
GAIN = re.compile(r"It would cost [\d.]+ points instead of [\d.]+: [\d.]+ (less|more)")
MORE = """\
[[lot]]
id = "beads"
name = "Beads <b>red</b>"
shape = "box"
width = 16
depth = 16
height = 16
count = 10
mass_g = 5

[[lot]]
id = "broom"
name = "Broom"
shape = "box"
width = 900
depth = 40
height = 40
count = 1
mass_g = 300

[[printer]]"""


@pytest.fixture(scope="module")
def room_text() -> str:
    """A thing more of the size of the dice, and one that goes in nowhere."""
    return ROOM.replace("[[printer]]", MORE)


@pytest.fixture
def plan(page: Page) -> Page:
    """The page with the plan as the tool made it, nothing to take back."""
    expect(page.locator(".tray").first).to_be_visible()
    begin_anew(page)
    page.goto(page.url.split("?")[0] + "?pick=dice")
    expect(page.locator("[data-part]")).to_have_text("Dice")
    return page


def test_the_grip_resizes_and_too_small_is_refused(plan: Page) -> None:
    """A column more is drawn; less than the things need is not, with the size that they need."""
    move(plan, "dice")
    before = cells(plan, "dice")
    x, y = middle(plan.locator(".grip"))
    box = tray(plan, "dice").locator("rect").first.bounding_box()
    assert box is not None
    cell = box["width"] / before[2]
    carry(plan, (x, y), (x - (before[2] - 1) * cell, y + (before[3] - 1) * cell))
    expect(plan.locator("[data-words]")).to_contain_text("Dice needs more: at least")
    expect_cells(plan, "dice", before)
    tray(plan, "dice").focus()
    turned = revision(plan)
    plan.keyboard.press("Shift+ArrowUp")
    expect(plan.locator(f'svg[data-rev="{turned + 1}"]')).to_be_visible()
    expect_cells(plan, "dice", (*before[:3], before[3] + 1))
    x, y = middle(plan.locator(".grip"))
    carry(plan, (x, y), (x, y + cell))
    said(plan, "Dice resized.")
    expect_cells(plan, "dice", before)


def test_equal_parts_are_swapped_by_the_list_and_by_letting_go_with_alt(plan: Page) -> None:
    """Corner for corner, both ways; the list is back at nothing afterwards. A name with markup is shown as it is."""
    dice, beads = cells(plan, "dice"), cells(plan, "beads")
    swap = plan.locator('[data-do="swap"]')
    swap.select_option(label="Beads <b>red</b>")
    said(plan, "Dice swapped.")
    expect_cells(plan, "dice", (*beads[:2], *dice[2:]))
    expect_cells(plan, "beads", (*dice[:2], *beads[2:]))
    expect(swap).to_have_value("")
    kept(plan)
    plan.keyboard.down("Alt")
    carry(plan, middle(tray(plan, "dice").locator("rect").first), middle(tray(plan, "beads").locator("rect").first))
    plan.keyboard.up("Alt")
    expect_cells(plan, "dice", dice)
    expect_cells(plan, "beads", beads)


def test_a_part_goes_to_another_space_by_the_list_and_by_its_button(plan: Page, served: Served) -> None:
    """The space that it went to is shown, with the part chosen; what stands in the file is that space."""
    plan.locator('[data-do="to"]').select_option(label="The shelf")
    said(plan, "Dice moved to The shelf.")
    expect(plan.locator('svg[data-space="shelf"] .tray.picked[data-id="dice"]')).to_be_visible()
    expect(plan.locator('button[data-space="shelf"]')).to_have_attribute("aria-pressed", "true")
    kept(plan)
    places = tomllib.loads(served.room_file.read_text(encoding="utf-8"))["place"]
    assert {place["lot"]: place["space"] for place in places}["dice"] == "shelf"
    start, end = middle(tray(plan, "dice").locator("rect").first), middle(plan.locator('button[data-space="drawer"]'))
    plan.mouse.move(*start)
    plan.mouse.down()
    plan.mouse.move(*end, steps=4)
    expect(plan.locator("[data-words]")).to_have_text("Letting go here moves Dice to The drawer.")
    plan.mouse.up()
    said(plan, "Dice moved to The drawer.")
    expect(plan.locator('svg[data-space="drawer"] .tray[data-id="dice"]')).to_be_visible()


def test_what_stays_is_left_and_the_rest_is_improved_when_taken(plan: Page, served: Served) -> None:
    """What it gains is said before; left, nothing has changed; taken, only what stays has a place in the file."""
    _, put = move(plan, "beads")
    tray(plan, "beads").focus()
    plan.keyboard.press("s")
    said(plan, "Beads <b>red</b> stays.")
    _, there = move(plan, "dice")
    kept(plan)
    plan.locator('[data-do="improve"]').click()
    expect(plan.locator("[data-offer]")).to_have_text(GAIN)
    plan.locator('[data-do="leave"]').click()
    expect(plan.locator('[data-do="improve"]')).to_be_visible()
    expect_cells(plan, "dice", there)
    plan.locator('[data-do="improve"]').click()
    plan.locator('[data-do="take"]').click()
    said(plan, "Layout improved.")
    kept(plan)
    expect_cells(plan, "beads", put)
    places = tomllib.loads(served.room_file.read_text(encoding="utf-8"))["place"]
    assert [place["lot"] for place in places] == ["beads"]


def test_what_has_no_place_says_why_and_what_to_do(plan: Page) -> None:
    """Asked to go here all the same, it is refused with the reason, and nothing changes."""
    left = plan.locator('[data-left="broom"]')
    expect(left).to_contain_text("Broom: ")
    rev = revision(plan)
    plan.get_by_role("button", name="Put Broom here").click()
    expect(plan.locator("[data-words]")).not_to_be_empty()
    assert revision(plan) == rev


def test_a_search_marks_what_it_finds_and_shows_its_space(plan: Page) -> None:
    """The count is said for those who do not see it; what is nowhere is said too."""
    field = plan.locator("[data-find]")
    field.fill("cork")
    expect(plan.locator("[data-hits]")).to_have_text("1 found.")
    expect(plan.locator('.tray.found[data-id="corks"]')).to_be_visible()
    expect(plan.locator(".tray.found")).to_have_count(1)
    field.fill("no such thing")
    expect(plan.locator("[data-hits]")).to_have_text("Nothing found.")
    field.fill("")
    expect(plan.locator(".tray.found")).to_have_count(0)


def test_undo_and_redo_by_button_and_by_key(plan: Page) -> None:
    """Both ways lead there and back; the buttons say of which gesture."""
    before, after = move(plan, "dice")
    undo, redo = plan.locator('[data-do="undo"]'), plan.locator('[data-do="redo"]')
    expect(undo).to_have_attribute("title", "Take back: Dice moved")
    undo.click()
    expect_cells(plan, "dice", before)
    expect(redo).to_have_attribute("title", "Make again: Dice moved")
    redo.click()
    expect_cells(plan, "dice", after)
    tray(plan, "dice").focus()
    plan.keyboard.press("Control+z")
    expect_cells(plan, "dice", before)
    tray(plan, "dice").focus()
    plan.keyboard.press("Control+Shift+z")
    expect_cells(plan, "dice", after)


def test_quick_keys_follow_one_another(plan: Page) -> None:
    """What is done before the last gesture is drawn waits for it: none is refused, none is lost."""
    tray(plan, "dice").focus()
    rev = revision(plan)
    for key in "ssss":
        tray(plan, "dice").dispatch_event("keydown", {"key": key})
    expect(plan.locator(f'svg[data-rev="{rev + 4}"][data-busy="no"]')).to_be_visible()
    expect(plan.locator("[data-words]")).to_be_empty()


FORGED: tuple[object, ...] = (
    None, 7, "move", [], ["move"], {}, {"kind": "move"},
    {"kind": "move", "id": "dice", "col": 0, "row": 0},
    {"kind": "move", "id": "dice", "col": 0, "row": 0, "rev": True},
    {"kind": "move", "id": "dice", "col": 0, "row": 0, "rev": "REV"},
    {"kind": "move", "id": "dice", "col": 0, "row": 0, "rev": -1},
    {"kind": "move", "id": "dice", "col": "0", "row": 0, "rev": 0},
    {"kind": "move", "id": "dice", "col": 0.5, "row": 0, "rev": 0},
    {"kind": "move", "id": "dice", "col": True, "row": 0, "rev": 0},
    {"kind": "move", "id": "dice", "rev": 0},
    {"kind": "move", "id": "dice", "col": -1, "row": 0, "rev": 0},
    {"kind": "move", "id": "dice", "col": 2**53, "row": 2**53, "rev": 0},
    {"kind": "move", "id": "nobody", "col": 0, "row": 0, "rev": 0},
    {"kind": "move", "id": {"a": 1}, "col": 0, "row": 0, "rev": 0},
    {"kind": "resize", "id": "dice", "cols": 0, "rows": 0, "rev": 0},
    {"kind": "resize", "id": "dice", "cols": -4, "rows": -4, "rev": 0},
    {"kind": "swap", "id": "dice", "other": "nobody", "rev": 0},
    {"kind": "swap", "id": "dice", "other": "dice", "rev": 0},
    {"kind": "to", "id": "dice", "other": "nowhere", "rev": 0},
    {"kind": "to", "id": "dice", "other": 3, "rev": 0},
    {"kind": "__class__", "id": "dice", "rev": 0},
)  # fmt: skip
EMIT = """([forged, rev]) => {
  const sheet = getElement(parseInt(document.querySelector(".plan-sheet").id.slice(1)));
  for (const one of forged) {
    const real = one && typeof one === "object" && one.rev === 0 ? { ...one, rev } : one;
    sheet.$emit("gesture", real);
  }
}"""


def test_forged_gestures_change_nothing(plan: Page, served: Served) -> None:
    """Of wrong types, about other plans, unknown parts, sizes that are none: refused, and the studio goes on."""
    text, rev = served.room_file.read_text(encoding="utf-8"), revision(plan)
    plan.evaluate(EMIT, [list(FORGED), rev])
    expect(plan.locator("[data-words]")).to_have_text("That gesture was not understood.")
    assert revision(plan) == rev
    move(plan, "dice")
    expect(plan.locator(f'svg[data-rev="{rev + 1}"]')).to_be_visible()
    plan.locator('[data-do="undo"]').click()
    kept(plan)
    assert served.room_file.read_text(encoding="utf-8") == text


NEXT_FRAME = "() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))"
MARK = """() => {
  const kept = document.querySelectorAll("[data-do], [data-space], [data-left], option, .rows tr");
  for (const one of kept) one.untouched = true;
  return kept.length;
}"""
COUNT = """() => [...document.querySelectorAll("[data-do], [data-space], [data-left], option")]
  .filter((one) => !one.untouched).length"""


def test_a_drop_draws_nothing_anew_beside_the_plan(plan: Page) -> None:
    """Buttons, lists and their rows are the same elements after it, so a drop costs what it changes."""
    assert plan.evaluate(MARK) > 10
    move(plan, "dice")
    assert plan.evaluate(COUNT) == 0
    kept(plan)
    assert plan.evaluate(COUNT) == 0


def test_a_part_on_the_way_to_nowhere_is_put_back(plan: Page) -> None:
    """Escape lets go: nothing was changed."""
    before, rev = cells(plan, "dice"), revision(plan)
    cols, rows = free_spot(plan, "dice")
    start = middle(tray(plan, "dice").locator("rect").first)
    plan.mouse.move(*start)
    plan.mouse.down()
    plan.mouse.move(start[0] + 20 * cols, start[1] - 20 * rows, steps=3)
    plan.keyboard.press("Escape")
    plan.mouse.up()
    expect(plan.locator('svg[data-busy="no"]')).to_be_visible()
    assert (cells(plan, "dice"), revision(plan)) == (before, rev)


def test_a_space_is_seen_in_the_round_and_follows_a_move(plan: Page) -> None:
    """Solids appear, and others for the plan that a move leads to; keys turn the view."""
    plan.get_by_role("button", name="See it in the round").click()
    view = plan.locator(".stage")
    expect(view).to_have_attribute("data-state", "ready")
    assert int(view.get_attribute("data-meshes") or 0) >= 3
    plan.evaluate(NEXT_FRAME)
    before = view.screenshot()
    view.focus()
    plan.keyboard.press("ArrowLeft")
    plan.evaluate(NEXT_FRAME)
    assert view.screenshot() != before
    with plan.expect_response(lambda answer: "/solids/drawer.glb" in answer.url) as fetched:
        move(plan, "dice")
    assert fetched.value.status == 200
    expect(view).to_have_attribute("data-state", "ready")


def test_the_tightest_layout_is_taken_and_given_back(plan: Page, served: Served) -> None:
    """With the price of calm beside it; it stands in the room file, and undo brings the calm one back."""
    begun = served.room_file.read_text(encoding="utf-8")
    expect(plan.locator("[data-style]")).to_contain_text("This is the calm layout.")
    expect(plan.locator("[data-style]")).to_contain_text(PRICE)
    plan.locator('[data-do="style"]').click()
    expect(plan.locator("[data-style]")).to_contain_text("This is the tightest layout.")
    assert tomllib.loads(served.room_file.read_text(encoding="utf-8"))["choices"]["layout"] == "tightest"
    plan.locator('[data-do="undo"]').click()
    expect(plan.locator("[data-style]")).to_contain_text("This is the calm layout.")
    expect(plan.locator("[data-kept]")).to_have_text("All of it is in room.toml")
    assert served.room_file.read_text(encoding="utf-8") == begun
