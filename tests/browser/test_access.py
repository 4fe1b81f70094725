"""Every page for everybody: no rule of accessibility broken in light, dark and with errors, none wider than a phone."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

import pytest
from axe_playwright_python.sync_playwright import Axe  # type: ignore[import-untyped]
from playwright.sync_api import expect
from tests.browser.conftest import ROOM, start, stop

if TYPE_CHECKING:
    from collections.abc import Iterator

    from playwright.sync_api import Browser, Page
    from tests.browser.conftest import Served

RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
PAGES = (
    "survey?at=space.drawer", "survey?at=lot.dice", "module", "layout?pick=dice", "parts?lot=corks", "make", "prove",
)  # fmt: skip
WIDTHS = 1440, 390
WRONG = ("width = 260", 'width = "26 paces"')


def broken(page: Page) -> list[str]:
    """The rules that a page breaks, with where."""
    found = Axe().run(page, options={"runOnly": {"type": "tag", "values": RULES}}).response["violations"]
    return [f"{one['id']}: {node['html'][:200]}" for one in found for node in one["nodes"]]


def sideways(page: Page) -> int:
    """By how much a page is wider than its window, in CSS pixels."""
    return int(page.evaluate("document.documentElement.scrollWidth - window.innerWidth"))


def outline(page: Page) -> list[int]:
    """The levels of its headings in order."""
    return [int(name[1]) for name in page.locator("h1, h2, h3, h4").evaluate_all("(all) => all.map((h) => h.tagName)")]


def visit(page: Page, served: Served, path: str) -> None:
    """Go to a page, and wait until its body is there."""
    page.goto(f"{served.home}/{path}")
    expect(page.locator(f'.stages a[aria-current="page"][href="/{path.partition("?")[0]}"]')).to_be_visible()
    expect(page.locator("[data-said]")).to_be_attached()
    if path.startswith("layout"):
        expect(page.locator(".tray").first).to_be_visible()
    if path.startswith("parts"):
        expect(page.locator('[data-dim="width"]')).to_be_visible()


@pytest.fixture(scope="module")
def room_text() -> str:
    """The room with corks in pockets, whose table is the widest."""
    return ROOM.replace("diameter = 22", 'keep = "cradle"\ndiameter = 22')


@pytest.fixture
def settled(page: Page) -> Page:
    """The studio with a plan."""
    expect(page.locator(".tray").first).to_be_visible()
    expect(page.locator("[data-job]")).to_have_text("Nothing to wait for")
    return page


@pytest.fixture
def faulty(settled: Page, served: Served) -> Iterator[Page]:
    """The studio with a room that cannot be planned."""
    good = served.room_file.read_text(encoding="utf-8")
    served.room_file.write_text(good.replace(*WRONG), encoding="utf-8")
    expect(settled.locator("[data-job]")).to_contain_text("something is wrong")
    yield settled
    settled.goto(f"{served.home}/survey")
    served.room_file.write_text(good, encoding="utf-8")
    expect(settled.locator("[data-job]")).to_have_text("Nothing to wait for")


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("path", PAGES)
def test_no_rule_is_broken(settled: Page, served: Served, path: str, scheme: str) -> None:
    """At both widths; headings come in order below one first; nothing scrolls the page sideways."""
    settled.emulate_media(color_scheme="dark" if scheme == "dark" else "light")
    for width in WIDTHS:
        settled.set_viewport_size({"width": width, "height": 900})
        visit(settled, served, path)
        expect(settled.locator("body.body--dark")).to_have_count(int(scheme == "dark"))
        assert broken(settled) == []
        assert sideways(settled) <= 0
        levels = outline(settled)
        assert levels[0] == 1
        assert levels.count(1) == 1
        assert all(later - earlier <= 1 for earlier, later in pairwise(levels))


def test_no_rule_is_broken_where_something_is_wrong(faulty: Page, served: Served) -> None:
    """On every page, light and dark."""
    for scheme in ("light", "dark"):
        faulty.emulate_media(color_scheme="dark" if scheme == "dark" else "light")
        for path in PAGES:
            visit(faulty, served, path)
            assert broken(faulty) == [], path
    faulty.goto(f"{served.home}/survey?at=space.drawer")
    expect(faulty.locator("#space-drawer-width")).to_have_attribute("aria-invalid", "true")


def test_no_rule_is_broken_before_there_is_anything(browser: Browser, tmp_path_factory: pytest.TempPathFactory) -> None:
    """A room file that was just begun, on every page."""
    studio = start(tmp_path_factory.mktemp("begun") / "room.toml")
    context = browser.new_context()
    try:
        page = context.new_page()
        page.goto(studio.address)
        for path in ("survey", "module", "layout", "parts", "make", "prove"):
            page.goto(f"{studio.home}/{path}")
            expect(page.locator("[data-job]")).to_contain_text("the page Survey says what")
            assert broken(page) == [], path
    finally:
        context.close()
        stop(studio)


def test_every_control_can_be_reached_by_tab(settled: Page, served: Served) -> None:
    """The first tab leads past the head; every button of the survey comes up in turn."""
    visit(settled, served, "survey?at=lot.dice")
    settled.keyboard.press("Tab")
    assert settled.evaluate("document.activeElement.getAttribute('href')") == "#content"
    waited = settled.locator("button:visible:not(:disabled), input:visible, select:visible, textarea:visible").count()
    seen = set()
    for _ in range(2 * waited):
        settled.keyboard.press("Tab")
        seen.add(
            settled.evaluate(
                "document.activeElement.matches('button, input, select, textarea') && document.activeElement.id"
            )
        )
    assert len(seen - {False}) == waited
