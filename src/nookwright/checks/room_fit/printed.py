"""How large a part may come out: what its printers do to sizes, as the kit says it, at the worst that is reckoned with.

A printer that nobody has measured makes a part larger by ``SCALE_SHARE`` at most: gaps between parts are drawn for
that. Every other error is taken as far out, so many of its standard uncertainties from its likeliest value.
"""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.module.seat import SCALE_SHARE
from nookwright.sizing.printers.errors import SCALE_SD, Error

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from nookwright.exchange.kit import Kit, KitPrinterErrors

FAR_OUT = Fact(
    SCALE_SHARE / SCALE_SD,
    unit="1",
    kind=Kind.CALCULATED,
    source="Standard uncertainties to one side: an unmeasured printer's 0.14 % then makes the 0.2 % of the module's "
    "gaps, which 92 of 100 such printers keep to.",
)


@dataclass(frozen=True)
class Largest:
    """How large a part may be printed, at the worst that is reckoned with, and as it is likeliest to come out.

    Attributes:
        share: by which it may be larger along x and y, about its middle.
        outside: by which an outer width may be larger besides, mm.
        inside: by which an inner width may be smaller, mm.
        likely: the same three as they are likeliest.
    """

    share: float = 0.0
    outside: float = 0.0
    inside: float = 0.0
    likely: tuple[float, float, float] = (0.0, 0.0, 0.0)

    def growth(self, length: float) -> float:
        """By how much an outer length may come out larger, mm."""
        return self.share * length + self.outside


def tight(own: Largest, holder: Largest, *, length: float, grows: bool, narrows: bool) -> float:
    """By how much a length may be too large for what it stands in, mm.

    The likeliest errors add up; what they may be beyond that is independent, so its squares do.

    Args:
        own: of the part that stands in the other.
        holder: of the other.
        length: of the part, mm.
        grows: whether the part comes out larger that way: not along its layers.
        narrows: whether the other comes out narrower that way: not upwards.
    """
    shares = (own.likely[0] * grows - holder.likely[0] * narrows) * length
    usual = own.likely[1] * grows + holder.likely[2] * narrows
    spread = math.hypot(
        (own.share - own.likely[0]) * length * grows,
        (holder.share - holder.likely[0]) * length * narrows,
        (own.outside - own.likely[1]) * grows,
        (holder.inside - holder.likely[2]) * narrows,
    )
    return max(0.0, shares + usual + spread)


def largest_of(kit: Kit) -> Mapping[str, Largest]:
    """How large each part may be printed, by its id: by the printers that its pieces are planned for.

    Args:
        kit: with its bedfuls and its printers.
    """
    pieces = {piece.id: piece for piece in kit.pieces}
    makers: dict[str, set[tuple[str, str]]] = defaultdict(set)
    for bedful in kit.bedfuls:
        for item in bedful.items:
            makers[pieces[item.piece].part].add((bedful.printer, bedful.material))
    known = {(printer.id, errors.material): errors for printer in kit.printers for errors in printer.errors}
    everyone = _worst(known.values())
    return {
        part.id: _worst(known[maker] for maker in sorted(makers[part.id]) if maker in known)
        if makers[part.id]
        else everyone
        for part in kit.parts
    }


def _worst(printers: Iterable[KitPrinterErrors]) -> Largest:
    """The largest that any of some printers may make a part; as drawn where nothing is known of them."""
    found = [_largest(one) for one in printers]
    if not found:
        return Largest()
    share, outside, inside = (max(getattr(one, name) for one in found) for name in ("share", "outside", "inside"))
    return Largest(share, outside, inside, max(one.likely for one in found))


def _largest(errors: KitPrinterErrors) -> Largest:
    """By one printer; never smaller than drawn."""
    known = {one.name: (one.value, one.uncertainty) for one in errors.components}
    x, y, outside, inside = (
        known.get(name, (0.0, 0.0)) for name in (Error.SCALE_X, Error.SCALE_Y, Error.OUTSIDE, Error.INSIDE)
    )
    scale = max(x, y, key=lambda one: one[0] + FAR_OUT * one[1])
    return Largest(
        max(0.0, scale[0] + FAR_OUT * scale[1]),
        max(0.0, outside[0] + FAR_OUT * outside[1]),
        max(0.0, FAR_OUT * inside[1] - inside[0]),
        (max(0.0, scale[0]), max(0.0, outside[0]), max(0.0, -inside[0])),
    )
