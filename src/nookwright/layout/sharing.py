"""Lots that share a tray, as the solver sees them: one ask with the wishes of all, under the id of the tray's lot."""

from __future__ import annotations

from dataclasses import replace
from functools import reduce
from typing import TYPE_CHECKING

from nookwright.layout.model import LeftOut

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from nookwright.layout.model import Ask, Layout
    from nookwright.survey.models import Lot

_NOWHERE = ""  # the id of no space: lots of one tray whose homes have none in common


def merged(asks: Sequence[Ask], tray_of: Mapping[str, str]) -> Ask:
    """One ask for all lots of a tray.

    Args:
        asks: of its lots, the tray's own first, all with the same candidates.
        tray_of: by id of a lot that has no tray of its own, the lot whose tray it shares.
    """
    return _without_itself(replace(reduce(_both, asks), lot=asks[0].lot), tray_of)


def _both(one: Ask, other: Ask) -> Ask:
    """The wishes of two lots together: hard ones of either, reach and leaning of both."""
    return replace(
        one,
        use=one.use + other.use,
        bonds=(*one.bonds, *other.bonds),
        out_of_reach=one.out_of_reach or other.out_of_reach,
        spaces=_common(one.spaces, other.spaces),
        leaning=_summed((*one.leaning, *other.leaning)),
        cool=one.cool or other.cool,
        dry=one.dry or other.dry,
    )


def _common(one: tuple[str, ...], other: tuple[str, ...]) -> tuple[str, ...]:
    """Spaces that both may go to; none named means any."""
    if not (one and other):
        return one or other
    return tuple(space for space in one if space in other) or (_NOWHERE,)


def _summed(pairs: Iterable[tuple[str, float]]) -> tuple[tuple[str, float], ...]:
    found: dict[str, float] = {}
    for name, cost in pairs:
        found[name] = found.get(name, 0.0) + cost
    return tuple((name, round(cost, 6)) for name, cost in found.items())


def _without_itself(ask: Ask, tray_of: Mapping[str, str]) -> Ask:
    """An ask whose bonds go to trays, and none to its own."""
    found: dict[str, float] = {}
    for name, cost in ask.bonds:
        tray = tray_of.get(name, name)
        if tray != ask.lot:
            found[tray] = max(cost, found.get(tray, 0.0))
    return replace(ask, bonds=tuple(found.items()))


def with_guests(layout: Layout, hosts: Mapping[str, Sequence[Lot]]) -> Layout:
    """The layout, in which lots whose shared tray was left out are left out too.

    Args:
        layout: with the lots that have a tray of their own.
        hosts: the lots of every shared tray, by the lot whose tray it is.
    """
    more = []
    for left in layout.left_out:
        for guest in hosts.get(left.lot, ())[1:]:
            reason = f"It shares the tray of {hosts[left.lot][0].name or left.lot}, which has no place."
            more.append(LeftOut(guest.id, reason, "Give it a tray of its own: delete `shares`."))
    everyone = sorted((*layout.left_out, *more), key=lambda one: one.lot)
    return replace(layout, left_out=tuple(everyone)) if more else layout
