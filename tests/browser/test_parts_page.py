"""The parts in a browser: a dimension is clicked and typed, snaps or is refused in words, and the solid is seen."""

from __future__ import annotations

import re
import tomllib
from typing import TYPE_CHECKING

import pytest
from playwright.sync_api import expect
from tests.browser.conftest import ROOM

BOX = "(one) => { const { x, y, width, height } = one.getBBox(); return { x, y, width, height }; }"

if TYPE_CHECKING:
    from playwright.sync_api import Page
    from tests.browser.conftest import Served


ORDERED = """
[[part]]
id = "pots"
kind = "cradle"
count = 2

[part.keys]
outer_width = 50
outer_depth = 50
height = 24
pockets = [ { x = 26, y = 26, pocket = { shape = "round", diameter = 20 } } ]
"""


@pytest.fixture(scope="module")
def room_text() -> str:
    """The room with corks in pockets, and a part that is made to order."""
    return ROOM.replace("diameter = 22", 'keep = "cradle"\ndiameter = 22') + ORDERED


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


def test_what_cannot_be_typed_says_why(parts: Page) -> None:
    """Clicked, or reached by keyboard: no field opens, and a sentence says what to do instead."""
    parts.locator('[data-lot="corks"]').click()
    why = parts.locator("[data-why]")
    expect(why).to_have_attribute("role", "status")
    parts.locator('[data-dim="pocket"]').click()
    expect(why).to_contain_text(re.compile(r"^Diameter of a pocket, [0-9.]+ mm: It follows from what was measured"))
    parts.locator('[data-dim="floor"]').focus()
    parts.keyboard.press("Enter")
    expect(why).to_contain_text("Things stand at")
    expect(parts.locator('[data-dim="floor"]')).to_be_focused()
    expect(parts.locator("[data-dim-field]")).to_have_count(0)
    parts.locator('[data-dim="height"]').click()
    expect(why).to_be_empty()
    expect(parts.locator("[data-dim-field]")).to_be_focused()


def test_a_cradle_is_made_higher_by_the_depth_of_its_pockets(parts: Page, served: Served) -> None:
    """In steps, and no further than its things can be taken; it stands in the room file, and can be taken back."""
    parts.locator('[data-lot="corks"]').click()
    before, deep = size(parts, "height"), size(parts, "deep")
    parts.locator('[data-dim="deep"]').click()
    parts.locator("[data-dim-field]").fill("200")
    parts.keyboard.press("Enter")
    expect(parts.locator("[data-part-said]")).to_contain_text("higher, nothing could be taken out of it. Nothing was")
    parts.locator('[data-dim="deep"]').click()
    parts.locator("[data-dim-field]").fill(f"{deep + 1 + 4:g}")
    parts.keyboard.press("Enter")
    expect(parts.locator("[data-part-said]")).to_contain_text("Heights go in steps of")
    expect(parts.locator('[data-dim="height"]')).not_to_have_attribute("aria-label", re.compile(f", {before:g} mill"))
    expect(parts.locator("[data-kept]")).to_have_text("All of it is in room.toml")
    expect(parts.locator("[data-job]")).to_have_text("Nothing to wait for")
    after = size(parts, "height")
    assert after > before
    assert size(parts, "deep") == pytest.approx(deep + after - before, abs=0.11)
    places = tomllib.loads(served.room_file.read_text(encoding="utf-8"))["place"]
    assert next(one["height"] for one in places if one["lot"] == "corks") == after
    parts.locator('[data-do="undo"]').click()
    expect(parts.locator('[data-dim="height"]')).to_have_attribute("aria-label", re.compile(f", {before:g} mill"))


def test_a_part_made_to_order_is_typed_in_its_order(parts: Page, served: Served) -> None:
    """Rounded up along the floor, as it is in height and in a list below the drawing; what cannot be made is said."""
    button = parts.locator('[data-lot="order:pots/1"]')
    expect(button).to_contain_text(": 2")
    button.click()
    expect(parts.locator("[data-part]")).to_contain_text("pots: cradle")
    for key, typed, said in (
        ("height", "3 cm", "outer height 30 mm. The layout"),
        ("width", "60", "The part gets the next size that the module has."),
        ("keys.pockets.0.pocket.diameter", "22", "pocket 1, diameter 22 mm"),
        ("keys.pockets.0.pocket.diameter", "99", "It cannot be planned so. Found"),
    ):
        parts.locator(f'[data-dim="{key}"]').click()
        parts.locator("[data-dim-field]").fill(typed)
        parts.keyboard.press("Enter")
        expect(parts.locator("[data-part-said]")).to_contain_text(said)
        expect(parts.locator("[data-job]")).to_have_text(re.compile("^(Nothing to wait for|It cannot be planned)"))
    order = tomllib.loads(served.room_file.read_text(encoding="utf-8"))["part"][0]["keys"]
    assert (order["height"], order["outer_width"], order["pockets"][0]["pocket"]["diameter"]) == (30, 60, 99)
    parts.goto(f"{served.home}/survey")
    fault = parts.get_by_role("button", name=re.compile("^pots, made to order"))
    fault.click()
    expect(parts).to_have_url(re.compile(r"/parts\?lot=order%3Apots%2F1$"))
    expect(parts.locator("[data-part]")).to_contain_text("pots: cradle")
    expect(parts.locator("[data-part-said]")).to_contain_text("It cannot be planned so. Found")
    parts.locator('[data-dim="keys.pockets.0.pocket.diameter"]').click()
    parts.locator("[data-dim-field]").fill("21")
    parts.keyboard.press("Enter")
    expect(parts.locator("[data-job]")).to_have_text("Nothing to wait for")
    for _ in range(5):
        parts.locator('[data-do="undo"]').click()
    expect(parts.locator('[data-dim="height"]')).to_have_attribute("aria-label", re.compile(", 24 mill"))


def test_the_solid_of_a_part_is_seen(parts: Page) -> None:
    """One mesh, without being asked for; another part's follows it."""
    stage = parts.locator('.solid-view [data-state="ready"]')
    expect(stage).to_have_attribute("data-meshes", "1")
    parts.locator('[data-lot="corks"]').click()
    expect(parts.locator("[data-part]")).to_contain_text("Corks")
    expect(parts.locator('[data-lot="corks"]')).to_be_focused()
    expect(parts.locator('.solid-view [data-state="ready"]')).to_be_visible()


def test_every_part_is_drawn_as_it_is_cut(parts: Page) -> None:
    """Whatever its kind: two sections through its own solid, hatched, inside its outer sizes."""
    rows = parts.locator("[data-lot]")
    kinds = set()
    for number in range(rows.count()):
        rows.nth(number).click()
        expect(rows.nth(number)).to_have_attribute("aria-pressed", "true")
        shown = parts.locator("[data-part]").inner_text().rpartition(": ")[2]
        expect(parts.locator(f'[data-cut="ready"][data-shown="{shown}"]')).to_be_visible()
        kinds.add(shown.split()[0])
        for view, key in enumerate(("width", "depth")):
            box = parts.locator(".section-sheet .cut").nth(view).evaluate(BOX)
            wide, high = size(parts, key), size(parts, "height")
            assert -0.06 <= box["x"] < box["x"] + box["width"] <= wide + 0.06
            assert -0.06 <= box["y"] < box["y"] + box["height"] <= high + 0.06
    assert {"tray", "cradle", "panel"} <= kinds


def test_a_cut_is_hollow_where_the_part_is(parts: Page) -> None:
    """A tray is walls and a floor: less of its section is filled than is empty, and the floor lies low."""
    expect(parts.locator('[data-cut="ready"]')).to_be_visible()
    middle = """(one) => {
        const box = one.getBBox(), svg = one.ownerSVGElement;
        const at = (x, y) => Object.assign(svg.createSVGPoint(), { x, y });
        const across = Array.from({ length: 40 }, (_, n) => box.x + (box.width * (n + 0.5)) / 40);
        const filled = (y) => across.filter((x) => one.isPointInFill(at(x, y))).length / across.length;
        return [filled(box.y + box.height / 2), filled(box.y + box.height - 1.2)];
    }"""
    half, low = parts.locator(".section-sheet .cut").first.evaluate(middle)
    assert half < 0.2
    assert low > half


def test_what_was_measured_is_typed_in_the_drawing(parts: Page, served: Served) -> None:
    """In centimetres with a comma; the plan follows, the survey has it, and one gesture takes it back."""
    parts.locator('[data-lot="corks"]').click()
    parts.locator('[data-dim="lot.diameter"]').click()
    expect(parts.locator("[data-dim-field]")).to_have_value("22")
    parts.locator("[data-dim-field]").fill("2,4 cm")
    parts.keyboard.press("Enter")
    expect(parts.locator("[data-part-said]")).to_contain_text("Written down: diameter of one, as measured 24 mm.")
    expect(parts.locator('[data-dim="lot.diameter"]')).to_have_attribute("aria-label", re.compile(", 24 millimetres"))
    expect(parts.get_by_role("region", name="Pockets").locator("tbody td").first).to_have_text("24.00")
    parts.locator('[data-do="undo"]').click()
    expect(parts.locator('[data-dim="lot.diameter"]')).to_have_attribute("aria-label", re.compile(", 22 millimetres"))
    expect(parts.locator("[data-kept]")).to_have_text("All of it is in room.toml")
    assert "diameter = 22\n" in served.room_file.read_text(encoding="utf-8")


def test_several_readings_are_typed_as_several(parts: Page, served: Served) -> None:
    """They stand there all when one is clicked, so that none is lost to a number typed over the largest."""
    several = "16; 15.8; 16.2"
    for shown, typed, drawn, kept in (("16", "16; 15,8 ; 16.2", 16.2, [16, 15.8, 16.2]), (several, "16", 16, 16)):
        parts.locator('[data-dim="lot.width"]').click()
        expect(parts.locator("[data-dim-field]")).to_have_value(shown)
        parts.locator("[data-dim-field]").fill(typed)
        parts.keyboard.press("Enter")
        expect(parts.locator("[data-part-said]")).to_contain_text("Written down: width of one, as measured 16")
        largest = re.compile(f", {drawn:g} millimetres")
        expect(parts.locator('[data-dim="lot.width"]')).to_have_attribute("aria-label", largest)
        expect(parts.locator("[data-kept]")).to_have_text("All of it is in room.toml")
        expect(parts.locator("[data-job]")).to_have_text("Nothing to wait for")
        found = tomllib.loads(served.room_file.read_text(encoding="utf-8"))["lot"]
        assert next(one for one in found if one["id"] == "dice")["width"] == kept
    for _ in range(2):
        parts.locator('[data-do="undo"]').click()


def test_pockets_that_are_to_spare_are_said(parts: Page) -> None:
    """Three corks stand in two full rows of two."""
    parts.locator('[data-lot="corks"]').click()
    expect(parts.locator(".parts-grid .facts")).to_contain_text("4, of which 1 is to spare: pockets stand in full rows")


def test_a_tray_gets_dividers_and_they_are_moved_by_typing(parts: Page, served: Served) -> None:
    """Asked for in the form beside, then each is a dimension; what cannot be is said beside its field."""
    columns = parts.locator("#lot-dice-tray-columns")
    columns.fill("1")
    columns.press("Tab")
    expect(parts.locator("#lot-dice-tray-columns-said")).to_contain_text("Found 1; allowed:")
    columns.fill("2")
    columns.press("Tab")
    divider = parts.locator('[data-dim="columns_at.0"]')
    expect(divider).to_be_visible()
    at = size(parts, "columns_at.0")
    divider.click()
    parts.locator("[data-dim-field]").fill(f"{at + 3:g}")
    parts.keyboard.press("Enter")
    expect(divider).to_have_attribute("aria-label", re.compile(f", {at + 3:g} millimetres"))
    expect(parts.locator("[data-kept]")).to_have_text("All of it is in room.toml")
    tray = next(
        one for one in tomllib.loads(served.room_file.read_text(encoding="utf-8"))["lot"] if one["id"] == "dice"
    )
    assert tray["tray"] == {"columns_at": [at + 3]}
    for _ in range(3):
        parts.locator('[data-do="undo"]').click()
    expect(divider).to_have_count(0)


def test_what_is_being_typed_is_not_lost_to_what_happens_elsewhere(parts: Page, served: Served) -> None:
    """Another tab changes the room: the field stays open, with what was typed."""
    parts.locator('[data-dim="height"]').click()
    parts.locator("[data-dim-field]").fill("4")
    other = parts.context.new_page()
    other.goto(f"{served.home}/parts?lot=corks")
    other.locator('[data-dim="lot.height"]').click()
    other.locator("[data-dim-field]").fill("41")
    other.keyboard.press("Enter")
    expect(other.locator('[data-dim="lot.height"]')).to_have_attribute("aria-label", re.compile(", 41 millimetres"))
    expect(other.locator("[data-job]")).to_have_text("Nothing to wait for")
    other.locator('[data-do="undo"]').click()
    other.close()
    parts.bring_to_front()
    expect(parts.locator("[data-dim-field]")).to_have_value("4")


def test_a_reload_shows_the_same_part(parts: Page) -> None:
    """The address says which it is."""
    parts.locator('[data-lot="corks"]').click()
    expect(parts.locator("[data-part]")).to_contain_text("Corks")
    expect(parts).to_have_url(re.compile(r"/parts\?lot=corks$"))
    parts.reload()
    expect(parts.locator("[data-part]")).to_contain_text("Corks")


def test_pockets_say_how_they_got_their_diameter(parts: Page) -> None:
    """What was measured, and everything that was added to it."""
    parts.locator('[data-lot="corks"]').click()
    row = parts.get_by_role("region", name="Pockets").locator("tbody tr")
    expect(row).to_have_count(1)
    name, measured, *added, pocket = [cell.strip() for cell in row.locator("th, td").all_inner_texts()]
    assert (name, measured) == ("diameter", "22.00")
    assert float(measured) + sum(map(float, added)) == pytest.approx(float(pocket), abs=0.03)
