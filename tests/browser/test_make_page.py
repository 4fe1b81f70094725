"""Making in a browser: the kit is built, stopped, fetched; bedfuls stand in the order in which they are printed."""

from __future__ import annotations

import os
import signal
import zipfile
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from playwright.sync_api import expect
from tests.browser.hands import move, said, tray

from nookwright.exchange.kit_file import read_kit

if TYPE_CHECKING:
    from playwright.sync_api import Page
    from tests.browser.conftest import Served

BUILD_MS = 400_000


@pytest.fixture
def make(page: Page, served: Served) -> Page:
    """The page, with a plan."""
    expect(page.locator("[data-job]")).to_have_text("Nothing to wait for")
    page.goto(f"{served.home}/make")
    expect(page.locator(".bed").first).to_be_visible()
    return page


@pytest.fixture
def built(make: Page) -> Page:
    """The page, with the kit built."""
    if not make.get_by_role("link", name="Download the kit").is_visible():
        make.get_by_role("button", name="Build the kit").click()
    expect(make.locator("[data-build]")).to_have_text("The kit is built.", timeout=BUILD_MS)
    return make


def files(folder: Path) -> dict[str, bytes]:
    """All that lies in a folder."""
    return {str(file.relative_to(folder)): file.read_bytes() for file in folder.rglob("*") if file.is_file()}


def workers(served: Served) -> list[int]:
    """The processes that work for the studio."""
    me = served.process.pid
    return [int(name) for name in Path(f"/proc/{me}/task/{me}/children").read_text(encoding="utf-8").split()]


def test_what_it_costs_and_could_be_left_out_stands_there_before_it_is_built(make: Page) -> None:
    """Grams, time, bedfuls; each saving with what it gives up."""
    expect(make.locator(".facts")).to_contain_text("Printing time")
    table = make.get_by_role("region", name="What you could leave out")
    expect(table).to_contain_text("Sparse liner")
    expect(make.locator("[data-build]")).to_have_text("Not built yet.")
    expect(make.get_by_role("link", name="Download the kit")).to_be_hidden()


def test_the_page_answers_while_a_kit_is_built_and_stop_leaves_nothing_behind(make: Page, served: Served) -> None:
    """The work is held up by a signal, so that it is certainly under way: a part is moved meanwhile all the same."""
    make.get_by_role("button", name="Build the kit").click()
    expect(make.locator("progress")).to_be_visible()
    held = workers(served)
    for process in held:
        os.kill(process, signal.SIGSTOP)
    other = make.context.new_page()
    other.goto(f"{served.home}/layout?pick=dice")
    expect(tray(other, "dice")).to_be_visible()
    move(other, "dice")
    other.locator('[data-do="undo"]').click()
    said(other, "Taken back: Dice moved.")
    other.close()
    expect(make.locator("[data-build]")).to_contain_text("The kit is being built.")
    make.get_by_role("button", name="Stop").click()
    expect(make.locator("[data-build]")).to_have_text("Stopped. The kit that lay there before is as it was.")
    for process in workers(served):
        os.kill(process, signal.SIGCONT)
    expect(make.locator("[data-job]")).to_have_text("Nothing to wait for")
    assert not (served.room_file.parent / "kit").exists()


def test_bedfuls_stand_in_the_order_in_which_they_are_printed(built: Page, served: Served) -> None:
    """Each with its drawing, when it starts, what lies on it, grams and hours; the schedule is a chart above."""
    kit = read_kit(served.room_file.parent / "kit" / "kit.json")
    beds = built.locator("[data-bed]")
    expect(beds).to_have_count(len(kit.printing.slots))
    assert [bed.get_attribute("data-bed") for bed in beds.all()] == [slot.bedful for slot in kit.printing.slots]
    pieces = {bed.id: len(bed.items) for bed in kit.bedfuls}
    for bed in beds.all():
        drawn = pieces.get(str(bed.get_attribute("data-bed")))
        expect(bed.locator("svg rect")).to_have_count(0 if drawn is None else drawn + 1)
        expect(bed).to_contain_text("Starts ")
    expect(built.locator('[data-bed="trial-01"]')).to_contain_text("Tried before the rest is printed: ")
    chart = built.locator("img.chart")
    expect(chart).to_be_visible()
    assert chart.evaluate("(one) => one.naturalWidth") > 0


def test_the_kit_is_fetched_whole(built: Page, served: Served) -> None:
    """What is in the folder is in the file, byte for byte."""
    with built.expect_download() as fetched:
        built.get_by_role("link", name="Download the kit").click()
    assert fetched.value.suggested_filename == "kit.zip"
    with zipfile.ZipFile(fetched.value.path()) as packed:
        found = {name.removeprefix("kit/"): packed.read(name) for name in packed.namelist()}
    assert found == files(served.room_file.parent / "kit")
    assert "kit.json" in found


def test_stop_leaves_the_kit_that_was_there(built: Page, served: Served) -> None:
    """Built anew for a room that was changed and stopped in the middle: the old kit lies there, byte for byte."""
    before = files(served.room_file.parent / "kit")
    text = served.room_file.read_text(encoding="utf-8")
    served.room_file.write_text(text.replace("count = 10", "count = 11"), encoding="utf-8")
    expect(built.locator("[data-build]")).to_have_text("The room was changed since the kit was built: build it again.")
    expect(built.get_by_role("link", name="Download the kit")).to_be_hidden()
    built.get_by_role("button", name="Build the kit").click()
    expect(built.locator("progress")).to_be_visible()
    built.get_by_role("button", name="Stop").click()
    expect(built.locator("[data-build]")).to_have_text("Stopped. The kit that lay there before is as it was.")
    assert files(served.room_file.parent / "kit") == before
