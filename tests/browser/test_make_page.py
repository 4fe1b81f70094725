"""Making in a browser: the kit is built, stopped, fetched; bedfuls stand in the order in which they are printed."""

from __future__ import annotations

import os
import signal
import tomllib
import zipfile
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from playwright.sync_api import expect
from tests.browser.hands import kept, move, said, tray
from tests.browser.rules import broken_anywhere

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


def test_what_is_left_out_is_written_and_comes_back(make: Page, served: Served) -> None:
    """One button a saving: its lines stand in the room file, the plan is made without; one gesture takes it back."""
    begun = served.room_file.read_text(encoding="utf-8")
    table = make.get_by_role("region", name="What you could leave out")
    row = table.locator("tr", has_text="Sparse liner")
    row.get_by_role("button", name="Leave it out: Sparse liner").click()
    said(make, "Left out: Sparse liner. The plan is being made without; Take back brings it back.")
    expect(table.locator("tr", has_text="Sparse liner")).to_have_count(0)
    kept(make)
    assert tomllib.loads(served.room_file.read_text(encoding="utf-8"))["choices"]["liner"] == "sparse"
    make.locator('[data-do="undo"]').click()
    expect(table.locator("tr", has_text="Sparse liner")).to_have_count(1)
    kept(make)
    assert served.room_file.read_text(encoding="utf-8") == begun


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
    expect(built.locator('[data-bed="trial-01"]')).to_contain_text("For the trials, print ")
    named = {one.id: one.name for one in kit.materials}
    expect(beds.last).to_contain_text(named[kit.bedfuls[-1].material])
    chart = built.locator("img.chart")
    expect(chart).to_be_visible()
    assert chart.evaluate("(one) => one.naturalWidth") > 0


def test_the_schedule_is_a_table_too(built: Page, served: Served) -> None:
    """For who cannot see a chart: a row a bedful, in order of time."""
    kit = read_kit(served.room_file.parent / "kit" / "kit.json")
    built.locator("[data-schedule]").click()
    rows = built.get_by_role("region", name="The schedule as a table").locator("tbody tr")
    expect(rows).to_have_count(len(kit.printing.slots))
    for row, slot in zip(rows.all(), kit.printing.slots, strict=True):
        expect(row.locator("th")).to_have_text(slot.bedful)
        expect(row.locator("td").nth(5 if slot.night or slot.filament else 4)).not_to_have_text("")


def test_every_load_has_its_line_in_the_record(built: Page, served: Served) -> None:
    """Where it will be recorded; nothing is yet, and that is said."""
    kit = read_kit(served.room_file.parent / "kit" / "kit.json")
    expect(built.locator("[data-proven]")).to_contain_text("Proven from its files: nothing to settle")
    built.get_by_role("link", name="See what was found").click()
    expect(built.locator("[data-recorded]")).to_have_text("Nothing is recorded yet.")
    rows = built.get_by_role("region", name="Record of prints").locator("tbody tr")
    expect(rows).to_have_count(len(kit.printing.slots))
    expect(rows.first).to_contain_text("not yet")


def test_no_rule_is_broken_once_a_kit_is_built(built: Page, served: Served) -> None:
    """With the loading list, the chart, the download and the record; and when the survey is wrong after that."""
    built.locator("[data-schedule]").click()
    assert broken_anywhere(built) == []
    built.goto(f"{served.home}/prove")
    expect(built.locator("[data-recorded]")).to_be_visible()
    assert broken_anywhere(built) == []
    good = served.room_file.read_text(encoding="utf-8")
    served.room_file.write_text(good.replace("width = 260", 'width = "26 paces"'), encoding="utf-8")
    built.goto(f"{served.home}/make")
    expect(built.locator("[data-old]")).to_contain_text("Something in the survey is wrong")
    assert broken_anywhere(built) == []
    served.room_file.write_text(good, encoding="utf-8")
    expect(built.locator("[data-build]")).to_have_text("The kit is built.")


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
