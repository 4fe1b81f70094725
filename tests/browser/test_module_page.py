"""The module in a browser: another pitch is taken, the plan follows, and the choice is given back to the tool."""

from __future__ import annotations

import re
import tomllib
from typing import TYPE_CHECKING

from playwright.sync_api import expect

if TYPE_CHECKING:
    from playwright.sync_api import Page
    from tests.browser.conftest import Served


def test_another_pitch_is_taken_and_given_back(page: Page, served: Served) -> None:
    """By keyboard; the chart and the table say the same, the plan follows, the file is at the end as it was."""
    page.goto(f"{served.home}/module")
    title = page.locator("[data-module]")
    expect(title).to_contain_text("Cells of")
    chosen, begun = title.inner_text(), served.room_file.read_text(encoding="utf-8")
    expect(page.locator("img.chart")).to_have_js_property("complete", value=True)
    assert page.locator("img.chart").evaluate("(image) => image.naturalWidth") > 0
    expect(page.locator('[data-do="free"]')).to_have_count(0)
    other = page.locator("[data-take]").first
    pitch, rise = (other.get_attribute("data-take") or "").split()
    other.focus()
    page.keyboard.press("Enter")
    expect(title).to_have_text(f"Cells of {pitch} mm, heights in steps of {rise} mm")
    assert tomllib.loads(served.room_file.read_text(encoding="utf-8"))["module"] == {
        "pitch": float(pitch), "rise": float(rise),
    }  # fmt: skip
    page.goto(f"{served.home}/parts?lot=dice")
    expect(page.locator('[data-dim="width"]')).to_have_attribute("aria-label", re.compile("outer width"))
    page.goto(f"{served.home}/module")
    page.locator('[data-do="free"]').click()
    expect(title).to_have_text(chosen)
    expect(page.locator("[data-kept]")).to_have_text("All of it is in room.toml")
    assert "pitch" not in tomllib.loads(served.room_file.read_text(encoding="utf-8")).get("module", {})
    for _ in range(2):
        page.locator('[data-do="undo"]').click()
    expect(page.locator("[data-said]")).to_contain_text("Taken back: pitch")
    expect(page.locator("[data-kept]")).to_have_text("All of it is in room.toml")
    assert served.room_file.read_text(encoding="utf-8") == begun
