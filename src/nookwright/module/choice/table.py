"""The table that a module is chosen from, as headings and cells of text: for the terminal, the page and the docs."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.module.choice.judging import S_PER_H
from nookwright.module.choice.keeping import Dimension

if TYPE_CHECKING:
    from nookwright.module.choice.deciding import ModuleChoice
    from nookwright.module.choice.judging import ModuleRow


@dataclass(frozen=True)
class Table:
    """Headings, and below them rows of as many cells; ``chosen`` is the number of the row that was taken."""

    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    chosen: int


HEADINGS = (
    "lost at edges, dm2",
    "of it without filler, dm2",
    "lost inside trays, dm2",
    "liner + trays, g",
    "hours",
    "kinds of part (footprints)",
    "heights of rims",
    "dead height a tray, mm",
    "rises in all spaces",
    "lots without room",
    "judged, g",
)


def pitch_table(choice: ModuleChoice) -> Table:
    """Every pitch that was judged.

    Args:
        choice: of a module.
    """
    kept = next((one.kept for one in choice.changes if one.dimension is Dimension.PITCH), None)
    cells = tuple((f"{row.pitch:g}", *_cells(row), _again(row, kept)) for row in choice.pitches)
    chosen = next(at for at, row in enumerate(choice.pitches) if row.pitch == choice.module.pitch)
    return Table(("pitch, mm", *HEADINGS, "to print again, g"), cells, chosen)


def rise_table(choice: ModuleChoice) -> Table:
    """Every rise that was judged; whatever the rise, all parts of a pitch swap.

    Args:
        choice: of a module.
    """
    cells = tuple((f"{row.rise:g}", *_cells(row)) for row in choice.rises)
    chosen = next(at for at, row in enumerate(choice.rises) if row.rise == choice.module.rise)
    return Table(("rise, mm", *HEADINGS), cells, chosen)


def _cells(row: ModuleRow) -> tuple[str, ...]:
    return (
        f"{row.edge_dm2:.1f}",
        f"{row.open_dm2:.1f}",
        f"{row.inside_dm2:.1f}",
        f"{row.liner_g:.0f} + {row.trays_g:.0f}",
        f"{row.time_s / S_PER_H:.0f}",
        f"{row.parts} ({row.footprints})",
        f"{row.rims}",
        f"{row.dead:.1f}",
        f"{row.levels}",
        f"{row.homeless}",
        f"{row.price_g:.0f}",
    )


def _again(row: ModuleRow, kept: ModuleRow | None) -> str:
    """What would have to be printed again; a dash where nothing is kept."""
    if kept is None:
        return "-"
    return "0" if row is kept else f"{kept.mass_g:.0f}"
