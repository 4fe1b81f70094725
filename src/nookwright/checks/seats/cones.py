"""Cones of panels, deck lids and risers, as found in their pieces, against what the module and the pattern ask for.

Which cells of a panel carry a cone follows from where it lies in its space and from the space's pattern; those of a
deck from its own chessboard. A cone more than asked for, in the middle of a cell, harms nothing. What it does not know:
panels of a room without a record of its liners are only asked for cones in the middles of cells.
"""

from __future__ import annotations

from collections import defaultdict
from itertools import product
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.bodies import matrix_of
from nookwright.checks.in_words import OURS, some
from nookwright.checks.seats.drawn import footprint_of
from nookwright.checks.seats.members import in_space
from nookwright.checks.seats.sockets import EXACT, SAME_DRAW, matched
from nookwright.checks.seats.words import are, at, stop
from nookwright.ground.findings import Against
from nookwright.module.pattern import Pattern, has_cone

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from nookwright.checks.boxes import Floats
    from nookwright.checks.seats.drawn import Drawn
    from nookwright.checks.seats.members import Member
    from nookwright.exchange.kit import Kit, KitSpace
    from nookwright.ground.findings import Finding

_DECKS = frozenset({"lid", "riser"})


def check_cones(kit: Kit, members: Mapping[str, Member], drawn: Drawn) -> Iterator[Finding]:
    """Faults of all cones, at most one of a kind for each part.

    Args:
        kit: the kit, its references sound.
        members: parts by id.
        drawn: the seat that they should have.
    """
    spaces = {space.id: space for space in kit.spaces}
    lacking: dict[str, set[tuple[float, float]]] = defaultdict(set)
    astray: dict[str, list[tuple[float, tuple[float, float]]]] = defaultdict(list)
    for placement in kit.placements:
        member = members.get(placement.part)
        if member and member.part.kind == "panel":
            matrix, space = matrix_of(placement.space_from_part), spaces[placement.space]
            lacking[placement.part] |= _lacking(member, space, matrix, drawn)
            astray[placement.part] += _astray(member, space, matrix, drawn)
    for name, member in members.items():
        if member.part.kind in _DECKS and "first_has_cone" in member.part.parameters:
            places = _deck_places(member, drawn)
            nearest, away = matched(member.cones, places, drawn.pitch / 2)
            lacking[name] |= _rounded(places[nearest < 0])
            astray[name] += [
                (float(off), tuple(place)) for off, place in zip(away[nearest >= 0], places[nearest >= 0], strict=True)
            ]
    for name, member in members.items():
        yield from _missing(name, sorted(lacking[name]))
        yield from _shifted(name, astray[name])
        yield from _shapes(member, drawn)


def pattern_of(space: KitSpace) -> Pattern | None:
    """Where the cones of a space stand; ``None`` where the kit does not say."""
    return next((Pattern(offer.pattern) for offer in space.liners if offer.chosen), None)


def level_of(space: KitSpace) -> str:
    """How much liner a space has, as in the room file; empty where the kit does not say."""
    return next((offer.level for offer in space.liners if offer.chosen), "")


def cell_middles(space: KitSpace, cells: Floats, pitch: float) -> Floats:
    """Middles of cells of a space, (n, 2), mm."""
    middles: Floats = np.array(space.cell_origin) + (cells + 0.5) * pitch
    return middles


def _lacking(member: Member, space: KitSpace, matrix: Floats, drawn: Drawn) -> set[tuple[float, float]]:
    """Middles of the cells of a placed panel that lack their cone, in the panel's axes."""
    cells = _asked_cells(member, space, matrix, drawn.pitch)
    if not len(cells):
        return set()
    local = cell_middles(space, cells, drawn.pitch) - matrix[:2, 3]
    nearest, _ = matched(member.cones, local, drawn.pitch / 2)
    return _rounded(local[nearest < 0])


def _rounded(places: Floats) -> set[tuple[float, float]]:
    """Places, (n, 2), such that the same one of several copies is the same."""
    return {(x, y) for x, y in np.round(places, 2).tolist()}


def _asked_cells(member: Member, space: KitSpace, matrix: Floats, pitch: float) -> Floats:
    """Cells of the space in which a panel should carry a cone, (n, 2)."""
    given, pattern = member.part.parameters, pattern_of(space)
    cols, rows = given.get("cols"), given.get("rows")
    if pattern is None or not isinstance(cols, int) or not isinstance(rows, int):
        return np.empty((0, 2))
    first = np.floor((matrix[:2, 3] - np.array(space.cell_origin)) / pitch).astype(int)  # its edge is set back a little
    gone = _cells(given.get("missing"))
    chosen = _cells(given.get("cones")) if pattern is Pattern.UNDER_LAYOUT else set()
    asked = [
        (first[0] + col, first[1] + row)
        for col, row in product(range(cols), range(rows))
        if (col, row) not in gone
        and (first[0] + col, first[1] + row) not in set(space.blocked_cells)
        and (
            (col, row) in chosen
            if pattern is Pattern.UNDER_LAYOUT
            else has_cone(int(first[0] + col), int(first[1] + row), pattern)
        )
    ]
    return np.array(asked, dtype=np.float64).reshape(-1, 2)


def _cells(value: object) -> set[tuple[int, int]]:
    """Cells of a part's parameter."""
    return {(int(col), int(row)) for col, row in value} if isinstance(value, tuple) else set()


def _astray(member: Member, space: KitSpace, matrix: Floats, drawn: Drawn) -> list[tuple[float, tuple[float, float]]]:
    """How far each cone of a placed panel is off the middle of its cell, and where it is in the panel."""
    if not len(member.cones):
        return []
    places = in_space(member.cones, matrix)[:, :2]
    cells = np.floor((places - np.array(space.cell_origin)) / drawn.pitch)
    off = np.hypot(*(places - cell_middles(space, cells, drawn.pitch)).T)
    return [(float(by), (x, y)) for by, (x, y) in zip(off, member.cones.places.tolist(), strict=True)]


def _deck_places(member: Member, drawn: Drawn) -> Floats:
    """Where a deck should carry its cones, in its own axes; none where its top is smooth."""
    given, footprint = member.part.parameters, footprint_of(member.part, drawn.pitch)
    if given.get("top", "deck") != "deck":
        return np.empty((0, 2))
    col, row = np.divmod(np.arange(footprint.cols * footprint.rows), footprint.cols)[::-1]
    asked = np.array([has_cone(int(c), int(r)) == given["first_has_cone"] for c, r in zip(col, row, strict=True)])
    places: Floats = footprint.places[asked]
    return places


def _missing(part: str, lacking: list[tuple[float, float]]) -> Iterator[Finding]:
    """Cells without the cone that the pattern puts there."""
    if lacking:
        text = (
            f"{some(len(lacking), 'cell lacks', 'cells lack')} the cone that the pattern puts there, the first "
            f"{at(lacking[0])}."
        )
        yield stop("cone-missing", part, text, against=Against(float(len(lacking)), 0.0, "1"))


def _shifted(part: str, astray: list[tuple[float, tuple[float, float]]]) -> Iterator[Finding]:
    """Cones off the middle of their cell."""
    off, where = max(astray, default=(0.0, (0.0, 0.0)))
    if off > EXACT:
        count = sum(by > EXACT for by, _ in astray)
        text = (
            f"{are(count, 'cone')} off the middle of its cell, the worst by {off:.2f} mm, {at(where)}; allowed "
            f"{EXACT:g} mm."
        )
        yield stop("cone-shifted", part, text, against=Against(off, float(EXACT), "mm"))


def _shapes(member: Member, drawn: Drawn) -> Iterator[Finding]:
    """Cones of another height, width or slope than the seat's."""
    cones, seat = member.cones, drawn.seat
    high = drawn.deck_cone if member.part.kind == "lid" else seat.cone_height
    for code, what, found, asked, exact, unit in (
        ("cone-height", "not {} mm high", cones.height, high, float(EXACT), "mm"),
        ("cone-width", "not {} mm in radius at the foot", cones.wide, seat.cone_base, float(EXACT), "mm"),
        ("cone-slope", "not drawn in by {} mm a mm of height", cones.draw, drawn.draw, float(SAME_DRAW), "mm/mm"),
    ):
        off = np.abs(found - asked)
        if len(off) and off.max() > exact:
            worst = int(off.argmax())
            text = (
                f"{are(int((off > exact).sum()), 'cone')} {what.format(f'{asked:.3g}')}: {at(cones.places[worst])} it "
                f"is {found[worst]:.3g} mm."
            )
            yield stop(code, member.part.id, text, OURS, Against(float(found[worst]), float(asked), unit))
