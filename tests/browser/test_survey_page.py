"""The survey in a browser: typed, refused beside the field, dragged, pasted, taken back; and a beginner's first way."""

from __future__ import annotations

import re
import tomllib
from typing import TYPE_CHECKING, Any

import pytest
from playwright.sync_api import expect
from tests.browser.conftest import start, stop

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Locator, Page
    from tests.browser.conftest import Served

LINES = """\
Hex keys, 80 x 12 x 12, 5
Glue sticks, 22 round x 9.5 cm, 6
Pens, 14 round x 140, 8
Cells, LR6, 8
Dice, 16 x 16 x 16, 5
"""


@pytest.fixture
def survey(page: Page, served: Served) -> Page:
    """The form of the drawer."""
    page.goto(f"{served.home}/survey?at=space.drawer")
    expect(page.locator("[data-form]")).to_have_text("The drawer")
    return page


def field(page: Page, name: str) -> Locator:
    """A field by the keys that lead to it."""
    return page.locator(f"#{name}")


def fill(page: Page, name: str, typed: str) -> None:
    """Type into a field, and go on to the next as people do."""
    field(page, name).fill(typed)
    page.keyboard.press("Tab")


def kept(page: Page, served: Served) -> dict[str, Any]:
    """The room file, once all is in it."""
    expect(page.locator("[data-kept]")).to_have_text("All of it is in room.toml")
    return tomllib.loads(served.room_file.read_text(encoding="utf-8"))


def test_readings_are_echoed_as_they_are_read_and_kept_as_typed(survey: Page, served: Served) -> None:
    """In mm, cm and inches with fractions, several at once; one gesture takes it back."""
    begun = served.room_file.read_text(encoding="utf-8")
    fill(survey, "space-drawer-width", "26.2 cm; 10 1/4 in; 261,5")
    expect(field(survey, "space-drawer-width-said")).to_have_text("read as 262, 260.35 and 261.5 mm")
    expect(field(survey, "space-drawer-depth")).to_be_focused()
    assert kept(survey, served)["space"][0]["width"] == ["26.2 cm", "10 1/4 in", 261.5]
    survey.locator('[data-do="undo"]').click()
    expect(field(survey, "space-drawer-width")).to_have_value("260")
    kept(survey, served)
    assert served.room_file.read_text(encoding="utf-8") == begun


def test_a_wrong_value_is_named_beside_its_field_with_what_to_do(survey: Page) -> None:
    """For the eye and for a screen reader; the list of what is wrong leads to the field; mended, all is well."""
    width = field(survey, "space-drawer-width")
    fill(survey, "space-drawer-width", "26 paces")
    expect(width).to_have_attribute("aria-invalid", "true")
    said = field(survey, "space-drawer-width-said")
    expect(said).to_contain_text('Found "26 paces"; allowed: a length')
    expect(said).to_contain_text("units mm, cm, m, in, ft.")
    assert "space-drawer-width-said" in (width.get_attribute("aria-describedby") or "").split()
    expect(survey.locator("[data-verdict]")).to_have_text("What is still wrong")
    expect(survey.locator("[data-next]")).to_contain_text("The drawer")
    survey.locator('[data-at="lot.dice"]').click()
    expect(survey.locator("[data-form]")).to_have_text("Dice")
    survey.locator('[data-fault="space.drawer.width"]').click()
    expect(field(survey, "space-drawer-width")).to_be_focused()
    fill(survey, "space-drawer-width", "260")
    expect(survey.locator("[data-verdict]")).to_have_text("Nothing is wrong")
    expect(field(survey, "space-drawer-width")).not_to_have_attribute("aria-invalid", "true")


def test_what_is_being_typed_is_not_lost_to_what_happens_elsewhere(survey: Page, served: Served) -> None:
    """An edit in another tab redraws the page round the field in hand."""
    load = field(survey, "space-drawer-load_kg")
    load.click()
    load.fill("1")
    survey.keyboard.type("2")
    other = survey.context.new_page()
    other.goto(f"{served.home}/survey?at=lot.dice")
    fill(other, "lot-dice-count", "11")
    other.close()
    survey.bring_to_front()
    expect(survey.locator("[data-do=undo]")).to_have_attribute("title", "Take back: Count of Dice")
    expect(load).to_have_value("12")
    expect(load).to_be_focused()
    survey.keyboard.type("3")
    expect(load).to_have_value("123")


def test_a_hand_that_goes_on_typing_stays_in_its_field(survey: Page, served: Served) -> None:
    """The mass is assumed while it is being typed: what is typed is kept, in the field it is typed into."""
    begun = served.room_file.read_text(encoding="utf-8")
    survey.locator('[data-add="lot"]').click()
    expect(field(survey, "lot-thing-1-name")).to_be_focused()
    field(survey, "lot-thing-1-shape").select_option("round")
    expect(field(survey, "lot-thing-1-diameter")).to_be_visible()
    fill(survey, "lot-thing-1-diameter", "4 cm")
    expect(field(survey, "lot-thing-1-height")).to_be_focused()
    survey.keyboard.type("19")
    survey.keyboard.press("Tab")
    survey.keyboard.type("3")
    mass = field(survey, "lot-thing-1-mass_g")
    expect(survey.locator("[data-said]")).to_contain_text("Its mass is assumed from its size")
    expect(field(survey, "lot-thing-1-mass_g-said")).to_have_text("assumed from its size")
    expect(mass).to_be_focused()
    survey.keyboard.type("1")
    expect(mass).to_have_value("31")
    survey.keyboard.press("Tab")
    assert kept(survey, served)["lot"][-1]["mass_g"] == 31
    for _ in ("add", "shape", "diameter", "height", "mass"):
        survey.locator('[data-do="undo"]').click()
    expect(survey.locator('[data-at="lot.thing-1"]')).to_have_count(0)
    kept(survey, served)
    assert served.room_file.read_text(encoding="utf-8") == begun


def test_the_focus_does_not_leave_a_field_that_was_gone_into_first(survey: Page) -> None:
    """A space is added and a field of it is typed into at once: the name is left alone."""
    width = field(survey, "space-space-1-width")
    survey.evaluate(
        """() => new MutationObserver((_, watch) => {
            const width = document.getElementById("space-space-1-width");
            if (width) { watch.disconnect(); width.focus(); }
        }).observe(document.body, { childList: true, subtree: true })"""
    )
    survey.locator('[data-add="space"]').click()
    expect(survey.locator('[data-at="space.space-1"]')).to_have_attribute("aria-pressed", "true")
    expect(survey).to_have_url(re.compile(r"/survey\?at=space\.space-1$"))
    expect(width).to_be_focused()
    survey.locator('[data-do="undo"]').click()
    expect(survey.locator('[data-at="space.space-1"]')).to_have_count(0)


def test_a_thing_is_added_without_weighing_it(survey: Page, served: Served) -> None:
    """Only the sides of its shape are asked for; its mass is assumed, said so, and follows until one is typed."""
    begun = served.room_file.read_text(encoding="utf-8")
    survey.locator('[data-add="lot"]').dblclick()
    expect(field(survey, "lot-thing-1-name")).to_be_focused()
    survey.keyboard.type("Reels")
    survey.keyboard.press("Tab")
    expect(survey.locator("[data-form]")).to_have_text("Reels")
    expect(field(survey, "lot-thing-1-diameter")).to_be_hidden()
    field(survey, "lot-thing-1-shape").select_option("round")
    expect(field(survey, "lot-thing-1-diameter")).to_be_visible()
    expect(field(survey, "lot-thing-1-width")).to_be_hidden()
    fill(survey, "lot-thing-1-diameter", "4 cm")
    fill(survey, "lot-thing-1-height", "19")
    expect(field(survey, "lot-thing-1-mass_g")).to_have_value("23.88")
    expect(field(survey, "lot-thing-1-mass_g-said")).to_have_text("assumed from its size")
    expect(survey.locator("[data-said]")).to_have_text(
        "Its mass is assumed from its size, 23.88 g: weigh one when you can."
    )
    expect(survey.locator("[data-verdict]")).to_have_text("Nothing is wrong")
    fill(survey, "lot-thing-1-mass_g", "31")
    fill(survey, "lot-thing-1-height", "20")
    lots = kept(survey, served)["lot"]
    assert [lot["id"] for lot in lots if lot["id"].startswith("thing")] == ["thing-1"]  # one, of a double click
    assert lots[-1] == {
        "id": "thing-1", "name": "Reels", "count": 1, "shape": "round", "diameter": "4 cm", "height": 20, "mass_g": 31,
    }  # fmt: skip
    fill(survey, "lot-thing-1-standard", "LR6")
    expect(survey.locator("[data-said]")).to_have_text("Taken out with it: shape, height, diameter.")
    expect(survey.locator("[data-verdict]")).to_have_text("Nothing is wrong")
    for _ in ("add", "name", "shape", "diameter", "height", "mass", "height again", "standard"):
        survey.locator('[data-do="undo"]').click()
    expect(survey.locator('[data-at="lot.thing-1"]')).to_have_count(0)
    kept(survey, served)
    assert served.room_file.read_text(encoding="utf-8") == begun


def test_a_file_that_cannot_be_read_leaves_the_form_as_it_is(survey: Page, served: Served) -> None:
    """Somebody edits it and is not done: the line is named, nothing is written, and mended, all goes on."""
    good = served.room_file.read_text(encoding="utf-8")
    broken = good.replace('name = "The drawer"', 'name = "The drawer')
    served.room_file.write_text(broken, encoding="utf-8")
    expect(survey.locator("[data-next]")).to_contain_text("of the room file cannot be read")
    expect(survey.locator("[data-form]")).to_have_text("The drawer")
    fill(survey, "space-drawer-load_kg", "7")
    expect(survey.locator("[data-said]")).to_contain_text("That could not be written into the room file")
    assert served.room_file.read_text(encoding="utf-8") == broken
    served.room_file.write_text(good, encoding="utf-8")
    expect(survey.locator("[data-verdict]")).to_have_text("Nothing is wrong")
    expect(survey.locator("[data-form]")).to_have_text("The drawer")


def test_a_reload_shows_the_same_form(survey: Page) -> None:
    """The address says which it is."""
    survey.locator('[data-at="lot.dice"]').click()
    expect(survey.locator("[data-form]")).to_have_text("Dice")
    expect(survey).to_have_url(re.compile(r"/survey\?at=lot\.dice$"))
    survey.reload()
    expect(survey.locator("[data-form]")).to_have_text("Dice")


def test_a_space_that_cannot_be_drawn_is_not_drawn(survey: Page) -> None:
    """Less than nothing is no width, and no error of a script either."""
    fill(survey, "space-drawer-width", "-5")
    expect(field(survey, "space-drawer-width-said")).to_contain_text("Found -5; allowed: a length of at least")
    expect(survey.locator(".space-sheet")).to_contain_text("Type in width and depth")
    survey.locator('[data-do="undo"]').click()
    expect(survey.locator(".space-sheet svg")).to_be_visible()


def test_what_is_in_the_way_is_added_and_put_where_it_is(survey: Page, served: Served) -> None:
    """By mouse, then by keys, whose focus stays; the numbers beside follow."""
    survey.locator('[data-add="blocked"]').click()
    expect(field(survey, "space-drawer-blocked-0-reason")).to_be_focused()
    fill(survey, "space-drawer-blocked-0-reason", "waste pipe")
    expect(survey.locator("legend")).to_have_text("waste pipe")
    expect(field(survey, "space-drawer-blocked-0-x")).to_be_focused()
    box = survey.locator('[data-box="0"]')
    expect(box).to_have_attribute("aria-label", "waste pipe: 0 from the left, 0 from the front, 40 x 40 mm")
    box.scroll_into_view_if_needed()
    drawn = box.locator("rect").bounding_box()
    assert drawn is not None
    x, y, scale = drawn["x"] + drawn["width"] / 2, drawn["y"] + drawn["height"] / 2, drawn["width"] / 40
    survey.mouse.move(x, y)
    survey.mouse.down()
    survey.mouse.move(x + 20 * scale, y - 10 * scale, steps=3)
    survey.mouse.move(x + 60 * scale, y - 50 * scale, steps=3)
    survey.mouse.up()
    expect(field(survey, "space-drawer-blocked-0-x")).not_to_have_value("0")
    moved = kept(survey, served)["space"][0]["blocked"][0]
    assert moved["x"] == pytest.approx(60, abs=1)
    assert moved["y"] == pytest.approx(50, abs=1)
    expect(field(survey, "space-drawer-blocked-0-x")).to_have_value(str(moved["x"]))
    box.focus()
    for step in (1, 2):
        survey.keyboard.press("ArrowRight")
        expect(field(survey, "space-drawer-blocked-0-x")).to_have_value(str(moved["x"] + step))
        expect(box).to_be_focused()
    survey.locator('[data-unblock="0"]').click()
    expect(box).to_have_count(0)
    assert "blocked" not in kept(survey, served)["space"][0]


def test_a_thing_is_added_by_a_published_size(survey: Page, served: Served) -> None:
    """Nothing but the designation is typed; what is next is said until then."""
    survey.locator('[data-add="lot"]').click()
    expect(survey.locator("[data-form]")).to_have_text("Thing 1")
    expect(field(survey, "lot-thing-1-name")).to_be_focused()
    expect(survey.locator("[data-next]")).to_contain_text("Choose the shape of Thing 1")
    fill(survey, "lot-thing-1-name", "Cells")
    expect(survey.locator('[data-at="lot.thing-1"]')).to_contain_text("Cells")
    fill(survey, "lot-thing-1-standard", "LR6")
    expect(survey.locator("[data-verdict]")).to_have_text("Nothing is wrong")
    assert kept(survey, served)["lot"][-1] == {"id": "thing-1", "name": "Cells", "count": 1, "standard": "LR6"}
    survey.locator('[data-do="remove"]').click()
    expect(survey.locator('[data-at="lot.thing-1"]')).to_have_count(0)


def test_rows_of_a_spreadsheet_become_things(survey: Page, served: Served) -> None:
    """A column that is not known is refused in words, and nothing typed is lost; then all come at once."""
    survey.locator("summary", has_text="Several things at once").click()
    area, said = survey.locator("[data-several]"), survey.locator("[data-several-said]")
    area.fill("name\tcolour\nCups\tblue\n")
    survey.locator('[data-do="several"]').click()
    expect(said).to_contain_text("Columns may be called name, count")
    expect(area).to_have_value("name\tcolour\nCups\tblue\n")
    area.fill("name\tshape\tdiameter\theight\tmass_g\tcount\nCups\tround\t60\t5 cm\t20\t2\nLids\tround\t64\t6\t5\t2\n")
    survey.locator('[data-do="several"]').click()
    expect(survey.locator("[data-said]")).to_have_text("2 things added.")
    expect(area).to_have_value("")
    cups = {"id": "cups", "name": "Cups", "shape": "round", "diameter": 60, "height": "5 cm", "mass_g": 20, "count": 2}
    assert kept(survey, served)["lot"][-2] == cups
    survey.locator('[data-do="undo"]').click()
    expect(survey.locator('[data-at="lot.cups"]')).to_have_count(0)


def test_a_space_is_added_and_its_taking_back_leaves_a_form_that_is_there(survey: Page) -> None:
    """The form goes with the space."""
    survey.locator('[data-add="space"]').click()
    expect(survey.locator("[data-form]")).to_have_text("Space 1")
    expect(survey.locator("[data-next]")).to_contain_text("Measure Space 1 inside and type its width, depth and height")
    expect(field(survey, "space-space-1-width-said")).to_have_text("Still to fill in.")
    survey.locator('[data-do="undo"]').click()
    expect(survey.locator('[data-at="space.space-1"]')).to_have_count(0)
    expect(field(survey, "room-name")).to_be_visible()


def test_a_beginner_comes_from_nothing_to_a_layout_by_what_is_said_to_do_next(
    browser: Browser, tmp_path_factory: pytest.TempPathFactory
) -> None:
    """One drawer, five things: three readings, five lines and four clicks, at a file that was not there."""
    studio = start(tmp_path_factory.mktemp("beginner") / "room.toml")
    context = browser.new_context()
    try:
        page = context.new_page()
        page.goto(studio.address)
        following = page.locator("[data-next]")
        expect(following).to_contain_text("First a space")
        page.locator('[data-do="next"]').click()
        expect(following).to_contain_text("Measure Space 1 inside")
        for side, typed in (("width", "36.2 cm; 14 1/4 in"), ("depth", "42 cm"), ("height", "62")):
            fill(page, f"space-space-1-{side}", typed)
        expect(following).to_contain_text("Now what is kept in it")
        page.locator("[data-several]").fill(LINES)
        page.locator('[data-do="several"]').click()
        expect(following).to_have_text(
            "Nothing is missing: the layout is made by itself. Still assumed: Printer and PLA."
        )
        page.locator('[data-do="layout"]').click()
        expect(page.locator(".tray:not(.filler)")).to_have_count(5)
    finally:
        context.close()
        stop(studio)
