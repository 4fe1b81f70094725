"""Whether all parts and pieces are only turned by right angles and moved: the ground that other checks stand on.

What is mirrored, stretched or turned askew in kit.json is another part than the one in its file, and a seat, a gap or
a way out that is measured for it says nothing. So a kit that has such a thing is told so, and nothing else. What this
does not know: copies on beds, which may be turned by any angle.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.bodies import matrix_of
from nookwright.checks.in_words import called
from nookwright.ground.findings import Finding, Severity
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.exchange.kit import Kit, Matrix

EXACT = Fact(1e-6, unit="1", kind=Kind.CALCULATED, source="Of a sine: what kit.json rounds its numbers to.")
_REMEDY = "Build the kit again; do not change kit.json by hand."


def check_turned(kit: Kit) -> Iterator[Finding]:
    """Placements and pieces that are not just turned by right angles and moved.

    Args:
        kit: the kit, its references sound.
    """
    for placement in kit.placements:
        if fault := fault_of(placement.space_from_part):
            text = f"{called(placement)} is {fault} where it stands; a part is turned by right angles, and moved."
            yield Finding("part-askew", Severity.STOP, placement.id, text, _REMEDY)
    for piece in kit.pieces:
        if fault := fault_of(piece.part_from_piece):
            text = f"It is {fault} in its part; a piece is turned by right angles, and moved."
            yield Finding("part-askew", Severity.STOP, piece.id, text, _REMEDY)


def fault_of(matrix: Matrix) -> str:
    """What a matrix does besides turning by right angles and moving, in words; empty where nothing.

    Args:
        matrix: 4 x 4.

    >>> fault_of(((0, -1, 0, 5), (1, 0, 0, 7), (0, 0, 1, 0.6), (0, 0, 0, 1)))
    ''
    >>> fault_of(((-1, 0, 0, 5), (0, 1, 0, 7), (0, 0, 1, 0.6), (0, 0, 0, 1)))
    'mirrored'
    """
    at = matrix_of(matrix)
    turn = at[:3, :3]
    if not np.isfinite(at).all() or np.abs(turn @ turn.T - np.eye(3)).max() > EXACT or (at[3] != (0, 0, 0, 1)).any():
        return "stretched or sheared"
    if np.linalg.det(turn) < 0:
        return "mirrored"
    if np.abs(turn - np.round(turn)).max() > EXACT:
        return "turned askew"
    return ""
