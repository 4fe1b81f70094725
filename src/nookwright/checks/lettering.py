"""Whether lettering can be read once it is printed: strokes as wide as a line, gaps that stay open.

Looked at is the uppermost layer of the mesh: raised letters are all that is there, sunk ones are holes in it. What this
does not know: letters on upright faces, and whether somebody can read them.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.checks.closing import closed_in
from nookwright.checks.thin_walls import SEAM, holds_a_disc, length_of, opened
from nookwright.ground.sources import Fact, Kind
from nookwright.ground.tolerances import MESH
from nookwright.module.lines import NARROWEST_SHARE

if TYPE_CHECKING:
    from collections.abc import Iterator

    from manifold3d import CrossSection

    from nookwright.checks.closing import Losses
    from nookwright.checks.sections import Sections

STROKE_LENGTH = Fact(
    1.5, unit="lines", kind=Kind.CHOICE, source="What is left out of a letter may be as long as this: its tips."
)


def thin_strokes(sections: Sections, line: float) -> Iterator[CrossSection]:
    """What is too thin in the uppermost layer to be laid as a line.

    Args:
        sections: of the mesh, its lettering on top.
        line: width of a line, mm.
    """
    top = sections.at(sections.count - 1)
    thin = top - opened(top, NARROWEST_SHARE * line / 2 - MESH, more=SEAM)
    apart = [] if thin.is_empty() else thin.decompose()
    yield from (each for each in apart if length_of(each) > STROKE_LENGTH * line and holds_a_disc(each, MESH))


def filled_gaps(sections: Sections, losses: Losses, line: float) -> Iterator[CrossSection]:
    """What fills up in the uppermost layer: insides of letters, gaps between strokes, strokes that are sunk.

    Args:
        sections: of the mesh, its lettering on top.
        losses: of the printer.
        line: width of a line, mm.
    """
    yield from closed_in(sections.at(sections.count - 1), losses, line)
