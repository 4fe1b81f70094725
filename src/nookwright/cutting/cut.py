"""Every distinct part cut to the beds that may print it: the same part is cut the same way wherever it goes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.cutting.model import Bed, CutPart
from nookwright.cutting.panels import cut_panel
from nookwright.cutting.trays import cut_tray, uncut
from nookwright.ground.findings import Finding, Severity
from nookwright.layout.liner import PanelSpec
from nookwright.parts.design import TraySpec

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from nookwright.module.module import Module
    from nookwright.parts.design import Copy
    from nookwright.survey.models import Printer


def bed_of(printer: Printer) -> Bed:
    """Room on a printer's bed for pieces, margins taken off."""
    return Bed(
        printer.bed_width - 2 * printer.margin, printer.bed_depth - 2 * printer.margin, printer.bed_height
    )


def bed_for(materials: Iterable[str], printers: Sequence[Printer]) -> Bed | None:
    """The bed to cut for: for each material the largest bed that may print it, and of those the smallest.

    Args:
        materials: ids of all materials that the part is needed in.
        printers: of the household.
    """
    largest = []
    for material in sorted(set(materials)):
        beds = [bed_of(printer) for printer in printers if material in printer.materials]
        if not beds:
            return None
        largest.append(max(beds, key=lambda bed: (bed.width * bed.depth, bed.height)))
    return min(largest, key=lambda bed: (bed.width * bed.depth, bed.height), default=None)


def longest_strip(printers: Sequence[Printer]) -> float:
    """The longest strip that lies on some bed along a side, mm."""
    return max(max(bed_of(printer).width, bed_of(printer).depth) for printer in printers)


def cut_all(
    copies: Sequence[Copy], module: Module, printers: Sequence[Printer]
) -> tuple[dict[str, CutPart], tuple[Finding, ...]]:
    """Every distinct part and its pieces, by the digest of its recipe, in the order of the copies.

    A part that no bed can take is kept whole and named in a finding.

    Args:
        copies: all copies of all parts.
        module: the household's module.
        printers: of the household.
    """
    materials: dict[str, set[str]] = {}
    first: dict[str, Copy] = {}
    for copy in copies:
        materials.setdefault(copy.part.recipe.digest, set()).add(copy.material)
        first.setdefault(copy.part.recipe.digest, copy)
    cut, findings = {}, []
    for digest, copy in first.items():
        bed = bed_for(materials[digest], printers)
        pieces = None if bed is None else _cut(copy, module, bed)
        cut[digest] = pieces or uncut(copy.part)
        if pieces is None:
            findings.append(_too_large(copy))
    return cut, tuple(findings)


def _cut(copy: Copy, module: Module, bed: Bed) -> CutPart | None:
    if isinstance(copy.spec, PanelSpec):
        return cut_panel(module, copy.spec, bed)
    if isinstance(copy.spec, TraySpec):
        return cut_tray(module, copy.part, copy.spec.cols, copy.spec.rows, bed)
    width, depth, height = copy.part.size
    return uncut(copy.part) if bed.holds(width, depth, height) else None


def _too_large(copy: Copy) -> Finding:
    width, depth, height = copy.part.size
    text = f"{copy.part.name} ({width:.0f} x {depth:.0f} x {height:.0f} mm) fits no bed and cannot be cut to one"
    return Finding("part-too-large", Severity.STOP, copy.label, text, "add a larger printer, or a lower or smaller lot")
