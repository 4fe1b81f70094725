"""Proving in a browser: what was found leads to what it is about."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import pytest
from playwright.sync_api import expect
from tests.browser.conftest import ROOM
from tests.browser.test_layout_hands import MORE

if TYPE_CHECKING:
    from playwright.sync_api import Page
    from tests.browser.conftest import Served


@pytest.fixture(scope="module")
def room_text() -> str:
    """With a thing that goes in nowhere."""
    return ROOM.replace("[[printer]]", MORE)


@pytest.fixture
def prove(page: Page, served: Served) -> Page:
    """The page, with a plan."""
    expect(page.locator("[data-job]")).to_have_text("Nothing to wait for")
    page.goto(f"{served.home}/prove")
    expect(page.locator("[data-verdict]")).to_be_visible()
    return page


def test_the_verdict_counts_what_stands_below(prove: Page) -> None:
    """And says that files are proven only when they are written."""
    said = prove.locator("[data-verdict]").inner_text()
    counts = [int(number) for number in re.findall(r"(\d+) (?:to settle|to think|good)", said)]
    assert sum(counts) == prove.locator("[data-code]").count() > 0
    assert "when the kit is built" in said


def test_a_finding_on_a_space_leads_to_its_plan(prove: Page) -> None:
    """With that space shown."""
    link = prove.locator('[data-code="space-read-once"] a', has_text="shelf")
    link.click()
    expect(prove.locator('svg[data-space="shelf"]')).to_be_visible()


def test_a_finding_on_a_thing_without_a_place_leads_to_its_form(prove: Page) -> None:
    """There is nothing of it on the plan."""
    link = prove.locator(".findings a", has_text=re.compile("^Broom$")).first
    link.click()
    expect(prove).to_have_url(re.compile(r"/survey\?at=lot\.broom$"))
    expect(prove.get_by_role("heading", level=1)).to_be_visible()


def test_a_finding_on_a_printer_leads_to_its_form(prove: Page) -> None:
    """Where its nozzle, layer and bed are."""
    prove.locator('[data-code="printer-not-measured"] a').click()
    expect(prove).to_have_url(re.compile(r"/survey\?at=printer\.one$"))
    expect(prove.locator("[data-form]")).to_be_visible()


def test_what_a_finding_says_to_write_can_be_typed_in_its_form(prove: Page) -> None:
    """Beside the remedy of a finding on a space."""
    prove.locator('[data-code="space-read-once"]', has_text="The shelf").get_by_role("link", name="The form of").click()
    expect(prove.locator("[data-form]")).to_have_text("The shelf")


def test_the_record_says_that_it_waits_for_a_kit(prove: Page) -> None:
    """And what recording will do; there is no button that does nothing."""
    record = prove.get_by_role("region", name="What is printed")
    expect(record).to_contain_text("nothing to record before the kit is built")
    expect(record).to_contain_text("is not planned again")
    expect(record.locator("button, input")).to_have_count(0)


def test_every_link_of_a_finding_leads_somewhere(prove: Page, served: Served) -> None:
    """To a page of the studio that is there."""
    addresses = {str(link.get_attribute("href")) for link in prove.locator(".findings a").all()}
    assert addresses
    for address in sorted(addresses):
        answer = prove.request.get(f"{served.home}{address}")
        assert answer.status == 200
