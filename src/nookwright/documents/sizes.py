"""sizes.csv: how large every thing may be and how every pocket got its size, one row a dimension of a lot."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.exchange import csv_table

if TYPE_CHECKING:
    from nookwright.exchange.csv_table import Cell
    from nookwright.exchange.kit import Kit, KitLot, KitPocket, KitSize

HEAD = (
    "lot",
    "dimension",
    "things",
    "readings",
    "measured_mm",
    "made",
    "tolerance_mm",
    "source",
    "limit_mm",
    "confidence",
    "samples_alone_mm",
    "fit",
    "pocket_measured_mm",
    "pocket_limit_mm",
    "pocket_printer_mm",
    "pocket_clearance_mm",
    "pocket_found_mm",
    "pocket_mm",
)


@dataclass(frozen=True)
class PocketRow:
    """One row of the page's table: a lot and the sum that its pockets are."""

    lot: str
    samples: str
    known: str
    pocket: KitPocket


def sizes_csv(kit: Kit) -> str:
    """The table of sizes of a kit, with the line ends of RFC 4180.

    Args:
        kit: the whole kit.
    """
    return csv_table.table(HEAD, (_row(lot, size) for lot in kit.lots for size in lot.sizes))


def _row(lot: KitLot, size: KitSize) -> tuple[Cell, ...]:
    pocket = size.pocket
    parts: tuple[Cell, ...] = (
        (pocket.fit, pocket.measured, pocket.limit, pocket.printer, pocket.clearance, pocket.found, pocket.size)
        if pocket
        else ("",) * 7
    )
    return (
        lot.name,
        size.dimension,
        lot.count,
        0 if size.published else len(size.readings),
        max(size.readings),
        size.process,
        size.tolerance,
        size.source,
        size.limit,
        size.confidence,
        size.samples_alone or "",
        *parts,
    )


def pocket_rows(kit: Kit) -> tuple[PocketRow, ...]:
    """The pockets of a kit, in the order of its lots.

    Args:
        kit: the whole kit.
    """
    return tuple(
        PocketRow(lot.name, _samples(lot, size), _known(size), size.pocket)
        for lot in kit.lots
        for size in lot.sizes
        if size.pocket
    )


def _samples(lot: KitLot, size: KitSize) -> str:
    """How many things were measured, in words."""
    if size.published:
        return "published"
    return f"{min(len(size.readings), lot.count)} of {lot.count}" if size.tolerance else f"all {lot.count}"


def _known(size: KitSize) -> str:
    """Where the limit comes from, in words."""
    if not size.tolerance:
        return size.source
    return f"{size.process}: ±{size.tolerance:.2f} ({size.source})"
