"""Pages in states that are seldom seen: no rule of accessibility broken, and each says what to do next."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import pytest
from playwright.sync_api import expect
from tests.browser.conftest import ROOM, WAIT_MS, start, stop
from tests.browser.rules import broken, broken_anywhere, lit

if TYPE_CHECKING:
    from collections.abc import Iterator

    from playwright.sync_api import Browser, Page
    from tests.browser.conftest import Served

ORDER = """
[[part]]
id = "pots"
kind = "cradle"

[part.keys]
outer_width = 50
outer_depth = 50
height = 24
pockets = [ { x = 26, y = 26, pocket = { shape = "round", diameter = 99 } } ]
"""
PAGES = ("survey", "module", "layout", "parts", "make", "prove")


@pytest.fixture(scope="module")
def room_text() -> str:
    """A room that is sound, but for a part whose pocket is larger than the part: only planning finds that."""
    return ROOM + ORDER


@pytest.fixture
def unplanned(page: Page) -> Page:
    """The studio when it knows."""
    expect(page.locator("[data-job]")).to_have_text("It cannot be planned as it stands: the page Survey says why")
    return page


@pytest.fixture
def overfull(browser: Browser, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Page]:
    """The layout of a room with more things than go into it."""
    room_file = tmp_path_factory.mktemp("overfull") / "room.toml"
    text = ROOM.replace("count = 10\n", "count = 4000\n")
    room_file.write_text(text, encoding="utf-8")
    studio = start(room_file)
    context = browser.new_context()
    context.set_default_timeout(WAIT_MS)
    page = context.new_page()
    page.goto(studio.address)
    yield page
    context.close()
    stop(studio)


def test_a_room_that_cannot_be_planned_says_so_on_every_page(unplanned: Page, served: Served) -> None:
    """In words, with the page that says why; nobody waits for a plan that does not come."""
    for path in PAGES:
        unplanned.goto(f"{served.home}/{path}")
        expect(unplanned.locator("[data-job]")).to_contain_text("the page Survey says why")
        for scheme in ("light", "dark"):
            lit(unplanned, scheme)
            assert broken(unplanned) == [], (path, scheme)
    unplanned.goto(f"{served.home}/survey")
    expect(unplanned.locator("[data-verdict]")).to_have_text("What is still wrong")
    fault = unplanned.get_by_role("button", name=re.compile("^pots, made to order"))
    expect(fault).to_contain_text("pocket 1 leaves a wall to the inside of the cradle")
    expect(unplanned.locator("[data-waits]")).to_be_hidden()
    for path in PAGES[1:]:
        unplanned.goto(f"{served.home}/{path}")
        expect(unplanned.locator("[data-waits]")).to_have_text(
            "It cannot be planned as it stands: the page Survey says why."
        )
    unplanned.get_by_role("link", name="To the survey").click()
    expect(unplanned.locator("[data-verdict]")).to_be_visible()


def test_a_build_that_finds_faults_lists_them(unplanned: Page, served: Served) -> None:
    """Each with its line and what to do, and no rule broken, in light and dark, wide and on a phone."""
    unplanned.goto(f"{served.home}/make")
    unplanned.locator('[data-do="build"]').click()
    expect(unplanned.locator("[data-build]")).to_contain_text(
        "The room file cannot be used; what is wrong stands below"
    )
    rows = unplanned.get_by_role("region", name="What is wrong").locator("tbody tr")
    expect(rows).to_have_count(1)
    expect(rows).to_contain_text("part.pots.keys")
    expect(rows).to_contain_text("Change its sizes.")
    assert broken_anywhere(unplanned) == []


def test_what_has_no_place_is_said_with_a_remedy(overfull: Page) -> None:
    """On the layout, wide and on a phone, light and dark."""
    left = overfull.locator('[data-left="dice"]')
    expect(left).to_be_visible()
    expect(left).to_contain_text("Dice: ")
    expect(overfull.locator('[data-place="dice"]')).to_be_visible()
    assert broken_anywhere(overfull) == []


def test_light_or_dark_is_the_other_one_on_every_page(page: Page, served: Served) -> None:
    """At the first click, whatever the machine has; another page, and a reload, keep to it."""
    page.emulate_media(color_scheme="dark")
    page.reload()
    expect(page.locator("body.body--dark")).to_have_count(1)
    for was in (1, 0):
        page.goto(f"{served.home}/survey")
        expect(page.locator("body.body--dark")).to_have_count(was)
        page.locator('[data-do="dark"]').click()
        expect(page.locator("body.body--dark")).to_have_count(1 - was)
        page.goto(f"{served.home}/make")
        expect(page.locator("body.body--dark")).to_have_count(1 - was)
