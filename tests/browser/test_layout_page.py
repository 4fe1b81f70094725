"""The layout in a browser: moved by mouse and keyboard, refused in words, taken back, kept in the room file."""

from __future__ import annotations

import re
import tomllib
from typing import TYPE_CHECKING

import pytest
from playwright.sync_api import expect
from tests.browser.conftest import start, stop
from tests.browser.hands import begin_anew, cells, drag, expect_cells, free_spot, kept, move, revision, tray

if TYPE_CHECKING:
    from pathlib import Path

    from playwright.sync_api import Page
    from tests.browser.conftest import Served


@pytest.fixture
def plan(page: Page) -> Page:
    """The page with a plan on it, nothing awaited."""
    expect(page.locator(".tray").first).to_be_visible()
    begin_anew(page)
    return page


def places(served: Served) -> dict[str, dict[str, object]]:
    """The places that stand in the room file."""
    listed = tomllib.loads(served.room_file.read_text(encoding="utf-8")).get("place", [])
    return {str(place["lot"]): place for place in listed}


def test_a_part_is_dragged_and_its_place_comes_to_stand_in_the_file(plan: Page, served: Served) -> None:
    """To the back of the drawer, where nothing is; what was done is said, and taken back with the keyboard."""
    before = cells(plan, "dice")
    begun = served.room_file.read_text(encoding="utf-8")
    cols, rows = free_spot(plan, "dice")
    drag(plan, "dice", cols, rows)
    expect(plan.locator("[data-said]")).to_have_text("Dice moved.")
    moved = before[0] + cols, before[1] + rows, *before[2:]
    expect(plan.locator('.tray[data-id="dice"]')).to_have_attribute("data-cells", " ".join(map(str, moved)))
    expect(plan.locator("[data-kept]")).to_have_text("All of it is in room.toml")
    assert places(served)["dice"]["space"] == "drawer"
    assert "# a drawer, invented" in served.room_file.read_text(encoding="utf-8")
    plan.locator('.tray[data-id="dice"]').focus()
    plan.keyboard.press("Control+z")
    expect(plan.locator('.tray[data-id="dice"]')).to_have_attribute("data-cells", " ".join(map(str, before)))
    expect(plan.locator("[data-kept]")).to_have_text("All of it is in room.toml")
    assert served.room_file.read_text(encoding="utf-8") == begun


def test_a_part_on_another_is_put_back_in_words(plan: Page) -> None:
    """Nothing is changed; what is in the way is named."""
    names = [tray.get_attribute("data-id") or "" for tray in plan.locator(".tray:not(.filler)").all()]
    one, other = names[0], names[1]
    here, there, rev = cells(plan, one), cells(plan, other), revision(plan)
    drag(plan, one, there[0] - here[0], there[1] - here[1])
    expect(plan.locator("[data-words]")).to_contain_text("letting go here puts it back")
    assert cells(plan, one) == here
    assert revision(plan) == rev


def test_keys_do_what_a_mouse_does(plan: Page) -> None:
    """T turns, S lets it stay; focus stays on the part."""
    tray = plan.locator('.tray[data-id="dice"]')
    drag(plan, "dice", *free_spot(plan, "dice"))
    expect(plan.locator("[data-said]")).to_have_text("Dice moved.")
    tray.focus()
    rev = revision(plan)
    for key in ("t", "t", "s"):
        plan.keyboard.press(key)
        expect(plan.locator(f'svg[data-rev="{rev + 1}"]')).to_be_visible()
        rev += 1
        expect(tray).to_be_focused()
    expect(tray).to_have_class(r"tray picked stays")
    for _ in range(4):
        plan.keyboard.press("Control+z")
    expect(plan.locator(f'svg[data-rev="{rev + 4}"]')).to_be_visible()


def test_two_tabs_stay_in_step(plan: Page, served: Served) -> None:
    """What is moved in one is moved in the other."""
    other = plan.context.new_page()
    other.goto(f"{served.home}/layout")
    expect(other.locator('.tray[data-id="dice"]')).to_be_visible()
    drag(plan, "dice", *free_spot(plan, "dice"))
    moved = plan.locator("[data-said]")
    expect(moved).to_have_text("Dice moved.")
    expect(other.locator('.tray[data-id="dice"]')).to_have_attribute(
        "data-cells", plan.locator('.tray[data-id="dice"]').get_attribute("data-cells") or ""
    )
    other.locator('[data-do="undo"]').click()
    expect(plan.locator("[data-said]")).to_have_text("Taken back: Dice moved.")


def test_an_edit_in_an_editor_is_noticed(plan: Page, served: Served) -> None:
    """And the plan follows it."""
    text = served.room_file.read_text(encoding="utf-8")
    served.room_file.write_text(text.replace('name = "Dice"', 'name = "Cubes"'), encoding="utf-8")
    expect(plan.locator("[data-said]")).to_have_text("The room file was edited outside the studio.")
    expect(plan.locator('.tray[data-id="dice"]')).to_have_attribute("aria-label", re.compile("^Cubes,"))


def test_killed_after_a_gesture_it_goes_on_from_there(plan: Page, tmp_path: Path, room_text: str) -> None:
    """What was moved is moved after the restart, and can be taken back, folded or not."""
    room_file = tmp_path / "room.toml"
    room_file.write_text(room_text, encoding="utf-8")
    own = start(room_file)
    page = plan.context.new_page()
    try:
        page.goto(own.address)
        expect(tray(page, "dice")).to_be_visible()
        kept(page)
        before, after = move(page, "dice")
        expect(page.locator("[data-kept]")).not_to_have_text("Being written down")
    finally:
        own.process.kill()
        own.process.communicate(timeout=20)
    page.close()
    again = start(room_file)
    page = plan.context.new_page()
    try:
        page.goto(again.address)
        expect_cells(page, "dice", after)
        expect(page.locator('[data-do="undo"]')).to_have_attribute("title", "Take back: Dice moved")
        page.locator('[data-do="undo"]').click()
        expect_cells(page, "dice", before)
        kept(page)
    finally:
        stop(again)
    assert room_file.read_text(encoding="utf-8") == room_text
