"""Every distinct part cut to the beds that may print it: the same part is cut the same way wherever it goes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.cutting.bed_space import beds_of
from nookwright.cutting.holds import fit_of
from nookwright.cutting.model import CutPart, uncut
from nookwright.cutting.panels import cut_panel
from nookwright.cutting.pieces import cut_part, never_cut
from nookwright.cutting.words import joined
from nookwright.ground.findings import Finding, Severity
from nookwright.layout.liner import PanelSpec
from nookwright.sizing.printers.errors import unmeasured

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from nookwright.cutting.holds import Fit
    from nookwright.cutting.model import Bed
    from nookwright.module.module import Module
    from nookwright.parts.design import Copy
    from nookwright.sizing.printers.errors import PrinterErrors
    from nookwright.survey.models import Printer


def bed_of(printer: Printer) -> Bed:
    """Room on a printer's bed for one piece: its largest free rectangle, in the whole tenths of a mm of nesting."""
    return beds_of(printer)[0]


def bed_for(materials: Iterable[str], printers: Sequence[Printer], height: float = 0.0) -> Bed | None:
    """The bed to cut for: for each material the largest bed that may print it, and of those the smallest.

    Args:
        materials: ids of all materials that the part is needed in.
        printers: of the household.
        height: of the part, mm; lower printers are passed over.
    """
    largest = []
    for material in sorted(set(materials)):
        beds = [bed for bed in _beds(material, printers) if bed.holds(0.0, 0.0, height)]
        if not beds:
            return None
        largest.append(max(beds, key=lambda bed: (bed.width * bed.depth, bed.height)))
    return min(largest, key=lambda bed: (bed.width * bed.depth, bed.height), default=None)


def _beds(material: str, printers: Sequence[Printer]) -> list[Bed]:
    """The beds that may print a material."""
    return [bed_of(printer) for printer in printers if material in printer.materials]


def longest_strip(material: str, printers: Sequence[Printer]) -> float:
    """The longest strip of a material that lies on some bed along a side, mm; 0 where no printer has it.

    Args:
        material: id of the material.
        printers: of the household.
    """
    return max((max(bed.width, bed.depth) for bed in _beds(material, printers)), default=0.0)


def whole_footprint(materials: Iterable[str], printers: Sequence[Printer]) -> tuple[float, float]:
    """The largest footprint that is printed in one piece in any of these materials, mm; 0 where one is never loaded.

    Args:
        materials: ids of all materials in use.
        printers: of the household.
    """
    bed = bed_for(materials, printers, height=0.0)
    return (bed.width, bed.depth) if bed else (0.0, 0.0)


def cut_all(
    copies: Sequence[Copy], module: Module, printers: Sequence[Printer], errors: PrinterErrors | None = None
) -> tuple[dict[str, CutPart], tuple[Finding, ...]]:
    """Every distinct part and its pieces, by the digest of its recipe, in the order of the copies.

    A part that no bed can take is kept whole and named in a finding; one that is cut is named too, with its joints.

    Args:
        copies: all copies of all parts.
        module: the household's module.
        printers: of the household.
        errors: of the household, for the fit of joints; the usual ones when left out.
    """
    materials: dict[str, set[str]] = {}
    first: dict[str, Copy] = {}
    for copy in copies:
        materials.setdefault(copy.part.recipe.digest, set()).add(copy.material)
        first.setdefault(copy.part.recipe.digest, copy)
    filament = min(printer.profile.filament for printer in printers)
    fit = fit_of(errors or unmeasured(), layer=module.seat.layer, filament=filament)
    cut, findings = {}, []
    for digest, copy in first.items():
        pieces = _cut(copy, module, materials[digest], printers, fit)
        cut[digest] = pieces or uncut(copy.part)
        if pieces is None:
            findings.append(_too_large(copy))
        elif pieces.joints:
            findings.append(joined(pieces))
    return cut, tuple(findings)


def _cut(copy: Copy, module: Module, materials: set[str], printers: Sequence[Printer], fit: Fit) -> CutPart | None:
    """The pieces of a part: itself, where it fits a bed in each of its materials."""
    width, depth, height = copy.part.size
    if all(any(bed.holds(width, depth, height) for bed in _beds(one, printers)) for one in materials):
        return uncut(copy.part)
    bed = bed_for(materials, printers, height)
    if bed is None:
        return None
    if isinstance(copy.spec, PanelSpec):
        return cut_panel(module, copy.spec, bed)
    return cut_part(copy.part, bed, fit)


def _too_large(copy: Copy) -> Finding:
    width, depth, height = copy.part.size
    why = f": {never_cut(copy.part)}" if never_cut(copy.part) else ""
    text = f"{copy.part.name} ({width:.0f} x {depth:.0f} x {height:.0f} mm) fits no bed and cannot be cut to one{why}."
    return Finding("part-too-large", Severity.STOP, copy.label, text, "Add a larger printer, or make the lot smaller.")
