"""What hands do on the plan: shared by the tests of the layout."""

from __future__ import annotations

from typing import TYPE_CHECKING

from playwright.sync_api import expect

if TYPE_CHECKING:
    from playwright.sync_api import Locator, Page

Cells = tuple[int, ...]


def tray(page: Page, name: str) -> Locator:
    """A part on the plan."""
    return page.locator(f'.tray[data-id="{name}"]')


def cells(page: Page, name: str) -> Cells:
    """Where a part lies: column, row, columns, rows."""
    return tuple(int(number) for number in (tray(page, name).get_attribute("data-cells") or "").split())


def expect_cells(page: Page, name: str, wanted: Cells) -> None:
    """Wait until a part lies there."""
    expect(tray(page, name)).to_have_attribute("data-cells", " ".join(map(str, wanted)))


def revision(page: Page) -> int:
    """Of what is drawn."""
    return int(page.locator("svg[data-rev]").get_attribute("data-rev") or -1)


def said(page: Page, words: str) -> None:
    """Wait until the studio says it."""
    expect(page.locator("[data-said]")).to_have_text(words)


def kept(page: Page) -> None:
    """Wait until all that was done is in the room file, and nothing is awaited."""
    expect(page.locator("[data-kept]")).to_have_text("All of it is in room.toml")
    expect(page.locator("[data-job]")).to_have_text("Nothing to wait for")


def free_spot(page: Page, name: str) -> tuple[int, int]:
    """A place where a part could lie, away from where it lies, counted in cells from there."""
    wide, deep = (int(n) for n in (page.locator("svg[data-rev]").get_attribute("data-size") or "").split())
    own = cells(page, name)
    others = [cells(page, str(one.get_attribute("data-id"))) for one in page.locator(".tray:not(.filler)").all()]
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


def middle(place: Locator) -> tuple[float, float]:
    """The middle of something, in the window."""
    box = place.bounding_box()
    assert box is not None
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def carry(page: Page, start: tuple[float, float], end: tuple[float, float]) -> None:
    """Drag with the mouse."""
    page.mouse.move(*start)
    page.mouse.down()
    page.mouse.move((start[0] + end[0]) / 2, (start[1] + end[1]) / 2, steps=3)
    page.mouse.move(*end, steps=3)
    page.mouse.up()


def drag(page: Page, name: str, cols: int, rows: int) -> None:
    """Drag a part by so many cells, to the right and to the back."""
    place = tray(page, name).locator("rect").first
    place.scroll_into_view_if_needed()
    box = place.bounding_box()
    assert box is not None
    cell = box["width"] / cells(page, name)[2]
    x, y = middle(place)
    carry(page, (x, y), (x + cols * cell, y - rows * cell))


def move(page: Page, name: str) -> tuple[Cells, Cells]:
    """Drag a part to where room is, and wait until it lies there: its cells before and after."""
    before = cells(page, name)
    cols, rows = free_spot(page, name)
    drag(page, name, cols, rows)
    after = before[0] + cols, before[1] + rows, *before[2:]
    expect_cells(page, name, after)
    expect(page.locator('svg[data-busy="no"]')).to_be_visible()
    return before, after


def begin_anew(page: Page) -> None:
    """Take everything back, and wait for the plan."""
    expect(page.locator("[data-job]")).to_have_text("Nothing to wait for")
    undo = page.locator('[data-do="undo"]')
    while undo.is_enabled():
        rev = revision(page)
        undo.click()
        expect(page.locator(f'svg[data-rev="{rev + 1}"]')).to_be_visible()
    kept(page)
