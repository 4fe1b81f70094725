"""The plan of printing as the page shows it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.documents.page import page_html
from nookwright.documents.printing_view import printing_view, when
from nookwright.exchange.printing_models import (
    KitCost,
    KitLearned,
    KitMixed,
    KitPrinting,
    KitPurchase,
    KitReady,
    KitSlot,
)

if TYPE_CHECKING:
    from nookwright.exchange.kit import Kit

DAY_S = 86_400.0


def printing(kit: Kit, **others: object) -> KitPrinting:
    """A plan of two days; its figures are invented."""
    slot = KitSlot(
        bedful=kit.bedfuls[0].id, printer="small", change_s=3600.0, start_s=4200.0, likely_s=9000.0, end_s=9900.0,
        filament=False, night=False, spool="s1",
    )  # fmt: skip
    cost = KitCost(
        filament=12.0, electricity=1.5, machine=0.0, spoiled=0.5, labour=0.0, margin=0.0, total=14.0,
        energy_kwh=3.0, printing_h=25.0,
    )  # fmt: skip
    fields: dict[str, object] = {
        "begin_s": 3600.0,
        "end_s": 2 * DAY_S,
        "bound_s": 1.9 * DAY_S,
        "gap": 0.042,
        "slots": (slot,),
        "ready": (KitReady(space=kit.spaces[0].id, at_s=DAY_S + 3600.0),),
        "purchases": (
            KitPurchase(material=kit.materials[0].id, spools=2, spool_g=1000.0, spare=1, by_s=0.0, price=44.0),
        ),
        "mixed": (KitMixed(space=kit.spaces[0].id, material=kit.materials[0].id, batches=("a", "b")),),
        "learned": (
            KitLearned(
                printer="small", material=kit.materials[0].id, slowness=1.18, start_s=30.0, heaviness=1.06, timed=8,
                weighed=8, fails=0.04,
            ),
        ),
        "spoilage": 0.05,
        "cost": cost,
        "chart": "schedule.svg",
        "loading_list": "loading_list.csv",
    }  # fmt: skip
    return KitPrinting.model_validate(fields | others)


def test_times_have_dates_where_a_start_was_given(kit: Kit) -> None:
    """The second of March 2026 was a Monday (ISO 8601 weekday 1); without a start a Monday stands for any."""
    assert when(printing(kit, first="2026-03-02"), DAY_S + 27_000.0) == "on Tue 2026-03-03, 7:30"
    assert when(printing(kit), 8 * DAY_S + 300.0) == "on day 9, a Tue, 0:05"


def test_costs_show_what_is_not_nought_and_their_sum(kit: Kit) -> None:
    """Nothing for machines, work and margin here; a lone line needs no sum."""
    shown = printing_view(kit.model_copy(update={"printing": printing(kit)})).costs
    assert shown == (("Filament", 12.0), ("Electricity", 1.5), ("Prints that fail", 0.5), ("Together", 14.0))
    alone = printing(kit).cost
    assert alone is not None
    lone = alone.model_copy(update={"electricity": 0.0, "spoiled": 0.0, "total": 12.0})
    assert printing_view(kit.model_copy(update={"printing": printing(kit, cost=lone)})).costs == (("Filament", 12.0),)


@pytest.mark.parametrize(
    "said",
    [
        "1 bedful in 2 days",
        "shorter by more than 4.2 %",
        "comes from a and b: its colour may differ",
        '<td class="n">1.18</td><td class="n">1.06</td>',
        'href="loading_list.csv"',
        'src="schedule.svg"',
    ],
)
def test_the_page_says_when_and_from_what(kit: Kit, said: str) -> None:
    """Length, gap, batches, what was learned, and the files."""
    assert said in page_html(kit.model_copy(update={"printing": printing(kit)}))


def test_a_kit_without_a_plan_of_printing_has_no_such_section(kit: Kit) -> None:
    """A first sketch, or a kit of which all is printed."""
    assert "When to print" not in page_html(kit)
