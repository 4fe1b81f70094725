"""Every page for everybody: no rule of accessibility broken in light, dark and with errors, none wider than a phone."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from playwright.sync_api import expect
from tests.browser.conftest import ROOM, start, stop
from tests.browser.rules import WIDTHS, broken, broken_anywhere, sideways

from nookwright.documents.titles import TITLES
from nookwright.exchange.kit import KitAgainst, KitFinding
from nookwright.exchange.kit_file import read_kit, write_kit
from nookwright.ground.findings import Severity
from nookwright.ground.progress import Silent
from nookwright.studio import work

if TYPE_CHECKING:
    from collections.abc import Iterator

    from playwright.sync_api import Browser, Page
    from tests.browser.conftest import Served

PAGES = (
    "survey?at=space.drawer", "survey?at=lot.dice", "module", "layout?pick=dice", "parts?lot=corks", "make", "prove",
)  # fmt: skip
WRONG = ("width = 260", 'width = "26 paces"')


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
        expect(page.locator('[data-cut="ready"]')).to_be_visible()


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
            expect(page.locator("[data-job]")).to_have_text(
                "Not planned yet: the page Survey says what is still to fill in"
            )
            expect(page.get_by_role("heading", level=1)).to_have_text(studio.room_file.parent.name.capitalize())
            assert broken(page) == [], path
    finally:
        context.close()
        stop(studio)


def test_no_rule_is_broken_in_the_round(settled: Page, served: Served) -> None:
    """With the solids of a space to be seen, and with costs and forms unfolded."""
    visit(settled, served, "layout?pick=dice")
    settled.locator('[data-do="solid"]').click()
    expect(settled.locator('.solid-view [data-state="ready"]')).to_be_visible()
    for fold in settled.locator("summary").all():
        fold.click()
    assert broken_anywhere(settled) == []


def test_no_rule_is_broken_with_everything_unfolded(settled: Page, served: Served) -> None:
    """The form of a thing with all that may be said of it, and a dimension that is being typed."""
    visit(settled, served, "survey?at=lot.dice")
    for fold in settled.locator("summary").all():
        fold.click()
    assert broken_anywhere(settled) == []
    visit(settled, served, "parts?lot=corks")
    settled.locator('[data-dim="lot.diameter"]').click()
    expect(settled.locator("[data-dim-field]")).to_be_focused()
    assert broken_anywhere(settled) == []


def test_no_rule_is_broken_by_findings_of_any_severity(
    browser: Browser, tmp_path_factory: pytest.TempPathFactory, room_text: str
) -> None:
    """A kit that must not be printed yet says so, in words and not by colour alone."""
    room_file = tmp_path_factory.mktemp("found") / "room.toml"
    room_file.write_text(room_text, encoding="utf-8")
    planned = work.plan(room=room_file, out=room_file.parent / "planned", progress=Silent())
    kit = read_kit(Path(planned["kit"]))
    against = KitAgainst(computed=31.2, limit=20.0, unit="N")
    findings = tuple(
        KitFinding(
            code=f"made-{one}", severity=one, subject="drawer", text="Too much.", remedy="Less.", against=against
        )
        for one in Severity
    )
    (room_file.parent / "kit").mkdir()
    write_kit(room_file.parent / "kit" / "kit.json", kit.model_copy(update={"findings": findings}))
    studio = start(room_file)
    context = browser.new_context()
    try:
        page = context.new_page()
        page.goto(studio.address)
        page.goto(f"{studio.home}/prove")
        for severity, title in TITLES.items():
            expect(page.locator(f'[data-code="made-{severity}"]')).to_contain_text("31.2 N against 20 N")
            expect(page.get_by_role("heading", name=f"{title} (1)")).to_be_visible()
        assert broken_anywhere(page) == []
        page.goto(f"{studio.home}/make")
        expect(page.locator("[data-proven]")).to_have_text("Do not print it yet: 1 finding must be settled first.")
        assert broken_anywhere(page) == []
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
