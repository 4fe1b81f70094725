"""Rules of accessibility, looked at by axe: shared by the tests of pages in their various states."""

from __future__ import annotations

from typing import TYPE_CHECKING

from axe_playwright_python.sync_playwright import Axe  # type: ignore[import-untyped]
from playwright.sync_api import expect

if TYPE_CHECKING:
    from playwright.sync_api import Page

RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
SCHEMES = ("light", "dark")
WIDTHS = 1440, 390


def broken(page: Page) -> list[str]:
    """The rules that a page breaks, with where."""
    found = Axe().run(page, options={"runOnly": {"type": "tag", "values": RULES}}).response["violations"]
    return [f"{one['id']}: {node['html'][:200]}" for one in found for node in one["nodes"]]


def sideways(page: Page) -> int:
    """By how much a page is wider than its window, in CSS pixels."""
    return int(page.evaluate("document.documentElement.scrollWidth - window.innerWidth"))


def lit(page: Page, scheme: str) -> None:
    """Have the page in light or in dark, and wait until it is."""
    page.emulate_media(color_scheme="dark" if scheme == "dark" else "light")
    expect(page.locator("body.body--dark")).to_have_count(int(scheme == "dark"))


def broken_anywhere(page: Page) -> list[str]:
    """The rules that a page breaks as it stands, in light and dark, wide and on a phone; and whether it is too wide."""
    found = []
    for width in WIDTHS:
        page.set_viewport_size({"width": width, "height": 900})
        for scheme in SCHEMES:
            lit(page, scheme)
            found += [f"{width} {scheme}: {one}" for one in broken(page)]
        if sideways(page) > 0:
            found.append(f"{width}: {sideways(page)} wider than the window")
    return found
