from __future__ import annotations

import math
from typing import Any, TypeVar

import pytest
from pydantic import BaseModel

from nookwright.checks.room_fit.printed import FAR_OUT, Largest, largest_of, tight
from nookwright.exchange import kit as k
from nookwright.module.seat import SCALE_SHARE


def errors(material: str, **known: tuple[float, float]) -> k.KitPrinterErrors:
    """What is known of a printer with a material; names with a blank are written with an underscore."""
    components = tuple(
        k.KitPrinterError(name=name.replace("_", " "), value=value, uncertainty=sd)
        for name, (value, sd) in known.items()
    )
    return k.KitPrinterErrors(material=material, basis="coupon", components=components)


Some = TypeVar("Some", bound=BaseModel)


def some(model: type[Some], **known: Any) -> Some:  # noqa: ANN401 - any key of the model
    """A record of the kit of which only a few keys matter."""
    return model.model_construct(**known)


def kit_of(makers: dict[str, list[str]], **printers: k.KitPrinterErrors) -> k.Kit:
    """A kit of parts of one piece each, and the printers that each is planned for."""
    return some(
        k.Kit,
        parts=tuple(some(k.KitPart, id=part) for part in makers),
        pieces=tuple(some(k.Piece, id=f"{part}-piece", part=part) for part in makers),
        bedfuls=tuple(
            some(k.Bedful, printer=name, material="grey", items=(some(k.BedItem, piece=f"{part}-piece"),))
            for part, names in makers.items()
            for name in names
        ),
        printers=tuple(some(k.KitPrinter, id=name, errors=(known,)) for name, known in printers.items()),
    )


DEFAULTS = {"scale_x": (0.0, 0.0014), "scale_y": (0.0, 0.0014), "outside": (0.05, 0.08), "inside": (-0.15, 0.08)}


def test_an_unmeasured_printer_makes_parts_as_large_as_the_gaps_are_drawn_for() -> None:
    """Its 0.14 % becomes the module's 0.2 %; outsides gain 0.05 + 1.43 x 0.08, insides lose 0.15 + 1.43 x 0.08."""
    found = largest_of(kit_of({"tray": ["one"]}, one=errors("grey", **DEFAULTS)))["tray"]
    assert found.share == pytest.approx(SCALE_SHARE)
    assert found.outside == pytest.approx(0.05 + FAR_OUT * 0.08)
    assert found.inside == pytest.approx(0.15 + FAR_OUT * 0.08)
    assert found.likely == (0.0, 0.05, 0.15)
    assert found.growth(100) == pytest.approx(0.2 + found.outside)


def test_a_part_is_as_large_as_the_worst_of_its_printers_makes_it() -> None:
    """Planned for a printer of 0.5 % and one of 0.1 %: 0.5 %; what is not planned yet, as the worst of all."""
    large = errors("grey", scale_x=(0.001, 0.0), scale_y=(0.005, 0.0))
    small = errors("grey", scale_x=(0.001, 0.0), scale_y=(-0.004, 0.0))
    found = largest_of(kit_of({"both": ["one", "two"], "small": ["two"], "none": []}, one=large, two=small))
    assert (found["both"].share, found["small"].share, found["none"].share) == (0.005, 0.001, 0.005)


def test_a_printer_that_prints_small_is_never_reckoned_below_what_is_drawn() -> None:
    """Scale -0.4 %, outsides -0.1, insides +0.2: nothing gained, nothing lost."""
    shy = errors("grey", scale_x=(-0.004, 0.0), scale_y=(-0.004, 0.0), outside=(-0.1, 0.0), inside=(0.2, 0.0))
    assert largest_of(kit_of({"tray": ["one"]}, one=shy))["tray"] == Largest()


def test_nothing_known_is_as_drawn() -> None:
    """A kit whose printers say nothing of their errors."""
    assert largest_of(kit_of({"tray": []}))["tray"] == Largest()


def test_tightness_adds_what_is_likely_and_the_squares_of_what_may_be() -> None:
    """100 mm of two unmeasured printers: 0.05 + 0.15, and the root of 0.2, 0.2, 0.114, 0.114 squared."""
    one = Largest(0.002, 0.05 + 0.114, 0.15 + 0.114, (0.0, 0.05, 0.15))
    both = tight(one, one, length=100, grows=True, narrows=True)
    assert both == pytest.approx(0.2 + math.hypot(0.2, 0.2, 0.114, 0.114))
    assert tight(one, one, length=100, grows=False, narrows=True) == pytest.approx(0.15 + math.hypot(0.2, 0.114))
    assert tight(one, one, length=100, grows=True, narrows=False) == pytest.approx(0.05 + math.hypot(0.2, 0.114))
    assert tight(one, one, length=100, grows=False, narrows=False) == 0
