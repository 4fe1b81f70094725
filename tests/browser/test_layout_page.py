"""The layout in a browser: moved by mouse and keyboard, refused in words, taken back, kept in the room file."""

from __future__ import annotations

import re
import tomllib
from typing import TYPE_CHECKING

import pytest
from playwright.sync_api import expect

if TYPE_CHECKING:
    from playwright.sync_api import Page
    from tests.browser.conftest import Served


@pytest.fixture
def plan(page: Page) -> Page:
    """The page with a plan on it, nothing awaited."""
    expect(page.locator(".tray").first).to_be_visible()
    expect(page.locator("[data-job]")).to_have_text("Nothing to wait for")
    return page


def cells(page: Page, name: str) -> tuple[int, ...]:
    """Where a part lies: column, row, columns, rows."""
    found = page.locator(f'.tray[data-id="{name}"]').get_attribute("data-cells")
    return tuple(int(number) for number in (found or "").split())


def free_spot(page: Page, name: str) -> tuple[int, int]:
    """A place where a part could lie, away from where it lies, counted in cells from there."""
    wide, deep = (int(n) for n in (page.locator("svg[data-rev]").get_attribute("data-size") or "").split())
    own = cells(page, name)
    others = [cells(page, str(tray.get_attribute("data-id"))) for tray in page.locator(".tray:not(.filler)").all()]
    for row in range(deep - own[3] + 1):
        for col in range(wide - own[2] + 1):
            clear = all(
                col >= x + w or x >= col + own[2] or row >= y + d or y >= row + own[3]
                for x, y, w, d in others
                if (x, y, w, d) != own
            )
            if clear and (col, row) != own[:2]:
                return col - own[0], row - own[1]
    raise AssertionError("the drawer is full")


def drag(page: Page, name: str, cols: int, rows: int) -> None:
    """Drag a part by so many cells, to the right and to the back, with the mouse."""
    box = page.locator(f'.tray[data-id="{name}"] rect').first.bounding_box()
    assert box is not None
    cell = box["width"] / cells(page, name)[2]
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + cols * cell / 2, y - rows * cell / 2, steps=3)
    page.mouse.move(x + cols * cell, y - rows * cell, steps=3)
    page.mouse.up()


def revision(page: Page) -> int:
    """Of what is drawn."""
    return int(page.locator("svg[data-rev]").get_attribute("data-rev") or -1)


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
