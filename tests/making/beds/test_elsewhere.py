from __future__ import annotations

import pytest

from nookwright.making.beds.elsewhere import others_for
from nookwright.making.beds.model import Item, Load
from nookwright.survey.bed_wishes import KeepOut, OneByOne
from nookwright.survey.models import Printer
from nookwright.survey.printer_profile import PrinterProfile

SIZES = {"a": (100.0, 40.0, 30.0), "b": (20.0, 60.0, 10.0)}
LOAD = Load("one", "white", (Item("a", 5, 5), Item("b", 5, 50, 1)), 10.0, 100.0)  # 100 x 65 in all


def printer(name: str, **more: object) -> Printer:
    """A bed of 130 x 90."""
    sizes = {"bed_width": 130, "bed_depth": 90, "bed_height": 100, "materials": ("white",)}
    return Printer.model_validate({"id": name} | sizes | more)


@pytest.mark.parametrize(
    ("more", "could"),
    [
        ({}, True),
        ({"bed_width": 75, "bed_depth": 110}, True),  # turned as a whole
        ({"bed_width": 109.9}, False),
        ({"bed_depth": 74.9}, False),
        ({"bed_height": 29.9}, False),
        ({"materials": ("grey",)}, False),
        ({"layer": 0.3}, False),
        ({"spacing": 3.5}, False),
        ({"profile": PrinterProfile(brim=1)}, False),
        ({"keep_out": (KeepOut(x=0, y=0, width=1, depth=1),)}, False),
        ({"one_by_one": OneByOne(radius=20, height=20)}, False),
    ],
)
def test_another_printer_could_print_it_as_it_is(more: dict[str, object], could: bool) -> None:  # noqa: FBT001
    """The same pieces as far from each other, inside the margins of the other bed, in the same layers."""
    printers = (printer("one"), printer("two", **more))
    assert [one.id for one in others_for(LOAD, printers, SIZES, ())] == (["two"] if could else [])


def test_pads_must_find_room_too() -> None:
    """They may lie in the margin, but not beside the bed."""
    padded = Load("one", "white", LOAD.items, 10.0, 100.0, pads=(("a", 8.0),))
    narrow, wide = printer("narrow", bed_width=115), printer("wide", bed_width=116)
    assert [one.id for one in others_for(padded, (printer("one"), narrow, wide), SIZES, ())] == ["wide"]
