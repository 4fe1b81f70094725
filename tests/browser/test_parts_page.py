"""The parts in a browser: a dimension is clicked and typed, snaps or is refused in words, and the solid is seen."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import pytest
from playwright.sync_api import expect
from tests.browser.conftest import ROOM

if TYPE_CHECKING:
    from playwright.sync_api import Page
    from tests.browser.conftest import Served


@pytest.fixture(scope="module")
def room_text() -> str:
    """The room with corks in pockets."""
    return ROOM.replace("diameter = 22", 'keep = "cradle"\ndiameter = 22')


@pytest.fixture
def parts(page: Page, served: Served) -> Page:
    """The page with the part of the dice, nothing awaited."""
    page.goto(f"{served.home}/parts?lot=dice")
    expect(page.locator("[data-part]")).to_contain_text("Dice: tray")
    expect(page.locator("[data-job]")).to_have_text("Nothing to wait for")
    return page


def size(page: Page, key: str) -> float:
    """What the drawing says of a dimension."""
    found = re.search(r", ([0-9.]+) millimetres", page.locator(f'[data-dim="{key}"]').get_attribute("aria-label") or "")
    assert found is not None
    return float(found[1])


def test_a_dimension_that_is_typed_snaps_and_says_so(parts: Page, served: Served) -> None:
    """By mouse one step higher and a bit, with a comma; the drawing follows the plan, and it can be taken back."""
    parts.goto(f"{served.home}/module")
    found = re.search(r"in steps of ([0-9.]+) mm", parts.locator("[data-module]").inner_text())
    assert found is not None
    rise = float(found[1])
    parts.goto(f"{served.home}/parts?lot=dice")
    expect(parts.locator("[data-part]")).to_contain_text("Dice: tray")
    before = size(parts, "height")
    parts.locator('[data-dim="height"]').click()
    field = parts.locator("[data-dim-field]")
    expect(field).to_be_focused()
    field.fill(f"{before + rise + 1:.1f}".replace(".", ","))
    parts.keyboard.press("Enter")
    expect(parts.locator("[data-part-said]")).to_have_text(f"Heights go in steps of {rise:g} mm: {before + rise:g}.")
    expect(parts.locator('[data-dim="height"]')).to_have_attribute(
        "aria-label", f"outer height, {before + rise:g} millimetres, type another"
    )
    parts.locator('[data-do="undo"]').click()
    expect(parts.locator('[data-dim="height"]')).to_have_attribute(
        "aria-label", f"outer height, {before:g} millimetres, type another"
    )


def test_a_dimension_is_typed_by_keyboard_alone(parts: Page) -> None:
    """Enter opens it, Escape leaves it as it was."""
    parts.locator('[data-dim="height"]').focus()
    parts.keyboard.press("Enter")
    expect(parts.locator("[data-dim-field]")).to_be_focused()
    parts.keyboard.press("Escape")
    expect(parts.locator("[data-dim-field]")).to_have_count(0)
    expect(parts.locator('[data-dim="height"]')).to_be_focused()


@pytest.mark.parametrize(
    ("key", "typed", "said"),
    [
        ("width", "wide", "'wide' is not one number with one unit"),
        ("width", "3 m", "Dice would stand out of The drawer. Nothing was changed"),
        ("height", "5 m", "mm are clear in The drawer"),
        ("depth", "1", "at least"),
    ],
)
def test_a_dimension_that_cannot_be_is_refused_in_words(
    parts: Page, served: Served, key: str, typed: str, said: str
) -> None:
    """And the room file is as it was."""
    before = served.room_file.read_bytes()
    parts.locator(f'[data-dim="{key}"]').click()
    parts.locator("[data-dim-field]").fill(typed)
    parts.keyboard.press("Enter")
    expect(parts.locator("[data-part-said]")).to_contain_text(said)
    assert served.room_file.read_bytes() == before


def test_the_solid_of_a_part_is_seen(parts: Page) -> None:
    """One mesh, once it is asked for; another part's follows it."""
    parts.locator('[data-do="solid"]').click()
    stage = parts.locator('.solid-view [data-state="ready"]')
    expect(stage).to_have_attribute("data-meshes", "1")
    parts.locator('[data-lot="corks"]').click()
    expect(parts.locator("[data-part]")).to_contain_text("Corks")
    expect(parts.locator('[data-lot="corks"]')).to_be_focused()
    expect(parts.locator('.solid-view [data-state="ready"]')).to_be_visible()


def test_pockets_say_how_they_got_their_diameter(parts: Page) -> None:
    """What was measured, and everything that was added to it."""
    parts.locator('[data-lot="corks"]').click()
    row = parts.get_by_role("region", name="Pockets").locator("tbody tr")
    expect(row).to_have_count(1)
    name, measured, *added, pocket = [cell.strip() for cell in row.locator("th, td").all_inner_texts()]
    assert (name, measured) == ("diameter", "22.00")
    assert float(measured) + sum(map(float, added)) == pytest.approx(float(pocket), abs=0.03)
