"""The whole family: every kind of part at its smallest, a middle and its largest size.

Tests, fuzzing, pictures and the page of the family all begin here, so a kind that is not in this list does not exist.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.parts.cradles import cradle, cradle_examples, leaning_cradle, rib_cradle
from nookwright.parts.lids import deck_lid, lid, nest, nest_lids, sliding_lid
from nookwright.parts.liner import fence, filler, keys, panel
from nookwright.parts.racks import rack
from nookwright.parts.rests import rest_examples
from nookwright.parts.risers import cap, drawer_riser, hollow_riser, riser
from nookwright.parts.shoes import shoe, shoe_corners
from nookwright.parts.trays import bent_tray, divider, name_strip, tray
from nookwright.parts.trials import coupon, gauge, seat_bar

if TYPE_CHECKING:
    from collections.abc import Callable

    from nookwright.module.module import Module
    from nookwright.parts.model import Example

_MODULES = (
    tray,
    bent_tray,
    divider,
    name_strip,
    lid,
    sliding_lid,
    deck_lid,
    cap,
    cradle,
    cradle_examples,
    drawer_riser,
    hollow_riser,
    leaning_cradle,
    nest,
    nest_lids,
    rest_examples,
    rib_cradle,
    riser,
    shoe,
    shoe_corners,
    fence,
    rack,
    filler,
    keys,
    panel,
    coupon,
    gauge,
    seat_bar,
)


@dataclass(frozen=True)
class Variant:
    """The examples of one module of parts.

    Attributes:
        name: of the module, as people write it.
        about: its first sentence.
        examples: from the smallest to the largest, variant by variant.
    """

    name: str
    about: str
    examples: tuple[Example, ...]


def variants(module: Module) -> tuple[Variant, ...]:
    """The family, one entry a module of parts.

    Args:
        module: the household's module.
    """
    return tuple(_variant(each.__name__, each.__doc__ or "", each.examples, module) for each in _MODULES)


def examples(module: Module) -> tuple[Example, ...]:
    """The family, part by part.

    Args:
        module: the household's module.
    """
    return tuple(example for variant in variants(module) for example in variant.examples)


def _variant(name: str, doc: str, make: Callable[[Module], tuple[Example, ...]], module: Module) -> Variant:
    first = " ".join(doc.partition("\n\n")[0].split())
    return Variant(name.rpartition(".")[2].replace("_", " "), first, make(module))
