from __future__ import annotations

import csv
import io
import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from datetime import date

import pytest

from nookwright.documents.loading_list import HEAD, loading_list_csv
from nookwright.documents.schedule_chart import NIGHT, Look, schedule_svg, summary
from nookwright.exchange.calendar_file import Names
from nookwright.making.schedule.effort import INSTANT
from nookwright.making.schedule.hours import Beginning, Hours
from nookwright.making.schedule.model import Bedful, Rules, Schedule, Way
from nookwright.making.schedule.plan import schedule_of
from nookwright.making.spools import SpoolPlan, Use

THERE = tuple((day * 1440 + 1050, day * 1440 + 1350) for day in range(9))
NIGHTS = tuple((day * 1440 + 1350, day * 1440 + 1800) for day in range(9))
HOURS = (
    Hours("one", THERE, ((0, 20_000),), NIGHTS, name="Large <printer>", loaded="grey"),
    Hours("two", THERE, ((0, 20_000),), NIGHTS, name="Small printer"),
)
BEDFULS = {
    f"b{n}": Bedful(
        id=f"b{n}",
        material=("grey", "blue")[n % 2],
        ways=(Way(("one", "two")[n % 2], 3600.0 * n, 1.0, 4200.0 * n),),
        mass_g=9.0,
        high_g=9.0,
        spaces=("left",),
        also_on=("two",) if n == 4 else (),
    )
    for n in range(1, 9)
}
NAMES = Names("A room", {}, {"grey": "PLA, grey"}, {"left": "Left & right drawer"})
LOOK = Look(NAMES, {"grey": "#888888", "blue": "#2f5d9b"}, HOURS)


def schedule(**others: object) -> Schedule:
    begins = Beginning(date(2026, 3, 2), dated=True, minute=1000)
    made = schedule_of(tuple(BEDFULS.values()), HOURS, Rules(spaces=("left",)), beginning=begins, effort=INSTANT)
    return replace(made, **others)  # type: ignore[arg-type]


def drawn(plan: Schedule) -> ET.Element:
    return ET.fromstring(schedule_svg(plan, BEDFULS, LOOK))  # noqa: S314 - our own text


def boxes(root: ET.Element, name: str) -> list[tuple[float, float, float, float]]:
    return [
        (float(one.get("x", 0)), float(one.get("y", 0)), float(one.get("width", 0)), float(one.get("height", 0)))
        for one in root.iter("{http://www.w3.org/2000/svg}rect")
        if one.get("class") == name
    ]


def test_every_bedful_has_a_bar_on_each_day_that_it_runs_and_none_overlap() -> None:
    """Inside the sheet, each as long as its minutes."""
    plan = schedule()
    bars = boxes(drawn(plan), "bedful")
    days = sum((slot.end - 1) // 1440 - slot.work // 1440 + 1 for slot in plan.slots)
    assert len(bars) == days > len(plan.slots)
    assert sum(width for _, _, width, _ in bars) == pytest.approx(
        sum(slot.end - slot.work for slot in plan.slots) * 9.5 / 60, abs=0.01 * days
    )
    for number, (x, y, width, height) in enumerate(bars):
        for x2, y2, width2, height2 in bars[:number]:
            apart = x + width <= x2 + 0.02 or x2 + width2 <= x + 0.02 or y + height <= y2 or y2 + height2 <= y
            assert apart


def test_the_sheet_says_what_is_ready_when_and_what_is_proven() -> None:
    """Names are text, whatever signs they hold."""
    plan = schedule()
    texts = [one.text for one in drawn(plan).iter("{http://www.w3.org/2000/svg}text")]
    assert "Left & right drawer" in texts
    assert "Large <printer>" in texts
    assert summary(plan) in texts
    assert "2026-03-02" in texts


def test_a_schedule_without_dates_counts_its_days() -> None:
    """And never names a day of the calendar."""
    root = drawn(schedule(first=date(2001, 1, 1), dated=False))
    texts = " ".join(one.text or "" for one in root.iter("{http://www.w3.org/2000/svg}text"))
    assert "day 1" in texts
    assert "2001" not in texts


@pytest.mark.parametrize(
    ("others", "words"),
    [
        ({"bound": 10**6}, "no schedule under these hours ends earlier"),
        ({"bound": 1000, "end": 1000 + 2 * 1440}, "none can end more than 2 days earlier (100.0%)"),
        ({"slots": ()}, "Nothing is left to print."),
    ],
)
def test_the_summary_says_how_good_it_is(others: dict[str, object], words: str) -> None:
    """Proven, or the gap."""
    assert words in summary(schedule(**others))


def test_the_loading_list_has_a_row_a_bedful_in_order_of_time() -> None:
    """With the spool, and what comes next on the printer."""
    plan = schedule()
    text = loading_list_csv(plan, BEDFULS, NAMES, spools=SpoolPlan((Use("b2", "s1", "x"),), (), (), ()))
    rows = list(csv.DictReader(io.StringIO(text)))
    assert tuple(rows[0]) == HEAD
    assert [row["bedful"] for row in rows] == [slot.bedful for slot in plan.slots]
    assert next(row for row in rows if row["bedful"] == "b2")["spool"] == "s1"
    assert sum(not row["next_on_printer"] for row in rows) == 2
    assert {row["bedful"]: row["could_run_on"] for row in rows if row["could_run_on"]} == {"b4": "two"}
    assert all(re.fullmatch(r"\d{1,2}:\d\d", row["change_from"]) for row in rows)


def test_nights_with_nobody_there_are_shaded_inside_their_lanes() -> None:
    """Each as wide as its hours, in the colour that the key names."""
    root = drawn(schedule())
    rects = list(root.iter("{http://www.w3.org/2000/svg}rect"))
    shaded = [one for one in rects if one.get("fill") == NIGHT and one.get("height") != "3.4"]
    hours = sorted({round(float(one.get("width", 0)) / 9.5, 2) for one in shaded})
    assert hours == [1.5, 6.0]  # 22:30 to midnight, and on to 6:00
