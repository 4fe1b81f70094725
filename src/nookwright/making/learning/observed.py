"""Finished prints beside their estimates: what is learned from."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.making.records import Outcome
from nookwright.module.estimates import MM3_PER_CM3

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from nookwright.making.estimate.together import BedfulEstimate
    from nookwright.making.records import PrintRecord


@dataclass(frozen=True, kw_only=True)
class Observed:
    """One print that came to its end, or failed.

    Attributes:
        printer, material: ids.
        moving_s: estimated: all that grows with a printer's slowness.
        fixed_s: estimated: the rest, heating, layer changes, waiting.
        estimate_g: estimated mass.
        time_s, mass_g: as it was; ``None`` where nobody looked.
        failed: whether it failed; then its time and mass say nothing.
    """

    printer: str
    material: str
    moving_s: float
    fixed_s: float
    estimate_g: float
    time_s: float | None = None
    mass_g: float | None = None
    failed: bool = False


def observed(
    records: Iterable[PrintRecord], bedfuls: Mapping[str, BedfulEstimate], density_g_cm3: Mapping[str, float]
) -> tuple[tuple[Observed, ...], tuple[PrintRecord, ...]]:
    """Records beside their estimates, and the records that none is known for.

    A failed print needs no estimate: it only counts.

    Args:
        records: of prints.
        bedfuls: estimates by what records call a bedful.
        density_g_cm3: by material.
    """
    found, strange = [], []
    for record in records:
        known = bedfuls.get(record.bedful)
        failed = record.outcome is Outcome.FAILED
        if not failed and (known is None or record.material not in density_g_cm3):
            strange.append(record)
            continue
        moving = known.moving_s if known else 0.0
        mass = known.plastic_mm3 / MM3_PER_CM3 * density_g_cm3.get(record.material, 0.0) if known else 0.0
        found.append(
            Observed(
                printer=record.printer,
                material=record.material,
                moving_s=moving,
                fixed_s=known.time_s - moving if known else 0.0,
                estimate_g=mass,
                time_s=None if failed else record.time_s,
                mass_g=None if failed else record.mass_g,
                failed=failed,
            )
        )
    return tuple(found), tuple(strange)
