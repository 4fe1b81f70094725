"""Every distinct part cut to the beds that may print it: the same part is cut the same way wherever it goes."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import product
from typing import TYPE_CHECKING

from nookwright.cutting.bed_space import beds_of
from nookwright.cutting.claims import Claim, claim_of
from nookwright.cutting.holds import fit_of
from nookwright.cutting.laps import spots_in
from nookwright.cutting.lengths import is_flat, kept_long, longest_in
from nookwright.cutting.model import Bed, CutPart, uncut
from nookwright.cutting.panels import cut_panel
from nookwright.cutting.pieces import cut_part, never_cut, not_lower
from nookwright.cutting.sight import sight_of
from nookwright.cutting.words import joined
from nookwright.ground.findings import Finding, Severity
from nookwright.layout.liner import PanelSpec
from nookwright.sizing.printers.errors import unmeasured

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from nookwright.cutting.holds import Fit
    from nookwright.module.module import Module
    from nookwright.parts.design import Copy
    from nookwright.parts.model import Part
    from nookwright.sizing.printers.errors import PrinterErrors
    from nookwright.survey.models import Printer, Room


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
        largest.append(max(beds, key=_area))
    return min(largest, key=_area, default=None)


def _area(bed: Bed) -> tuple[float, float]:
    return bed.width * bed.depth, bed.height


def _beds(material: str, printers: Sequence[Printer]) -> list[Bed]:
    """The beds that may print a material."""
    return [bed_of(printer) for printer in printers if material in printer.materials]


def longest_strip(material: str, printers: Sequence[Printer], most: float = math.inf) -> float:
    """The longest strip of a material that lies on some bed along a side, mm; 0 where no printer has it.

    Args:
        material: id of the material.
        printers: of the household.
        most: that a flat part of the material may be long, mm.
    """
    return min(most, max((max(bed.width, bed.depth) for bed in _beds(material, printers)), default=0.0))


def longest_strip_in(room: Room, material: str) -> float:
    """The longest strip of a material in a room, by its beds and by how long flat parts of it may be, mm.

    Args:
        room: as surveyed.
        material: id of the material.
    """
    return longest_strip(material, room.printer, longest_in(room)[material])


def whole_footprint(materials: Iterable[str], printers: Sequence[Printer]) -> tuple[float, float]:
    """The largest footprint that is printed in one piece in any of these materials, mm; 0 where one is never loaded.

    Args:
        materials: ids of all materials in use.
        printers: of the household.
    """
    bed = bed_for(materials, printers, height=0.0)
    return (bed.width, bed.depth) if bed else (0.0, 0.0)


def cut_all(
    copies: Sequence[Copy],
    module: Module,
    printers: Sequence[Printer],
    errors: PrinterErrors | None = None,
    *,
    room: Room | None = None,
) -> tuple[dict[str, CutPart], tuple[Finding, ...]]:
    """Every distinct part and its pieces, by the digest of its recipe, in the order of the copies.

    A part that no bed can take is kept whole and named in a finding; one that is cut is named too, with its joints.

    Args:
        copies: all copies of all parts.
        module: the household's module.
        printers: of the household.
        errors: of the household, for the fit of joints; the usual ones when left out.
        room: whose wishes of cutting are followed; there are none when left out.
    """
    alike: dict[str, list[Copy]] = {}
    for copy in copies:
        alike.setdefault(copy.part.recipe.digest, []).append(copy)
    filament = min(printer.profile.filament for printer in printers)
    finest = min(printer.layer for printer in printers)
    fit = fit_of(errors or unmeasured(), layer=module.seat.layer, filament=filament, finest=finest)
    saw = _Saw(copies, module, printers, fit, room)
    cut, findings = {}, []
    for digest, same in alike.items():
        pieces = saw.cut(same)
        cut[digest] = pieces or uncut(same[0].part)
        if pieces is None:
            findings.append(saw.too_large(same))
        elif pieces.joints:
            findings.append(joined(pieces))
        findings += saw.too_long(same, cut[digest])
    return cut, tuple(findings)


@dataclass(frozen=True)
class _Saw:
    """What parts are cut by."""

    copies: Sequence[Copy]
    module: Module
    printers: Sequence[Printer]
    fit: Fit
    room: Room | None

    def cut(self, same: Sequence[Copy]) -> CutPart | None:
        """The pieces of a part: itself, where it fits a bed of each of its claims."""
        part, claims = same[0].part, self.claims(same)
        short = max(part.size[:2]) <= self.longest(same)
        whole = any(claim.whole for claim in claims)
        if (short or whole) and self._all_take(claims, [part.size]):
            return uncut(part)
        return None if whole else self._in_fewest(same, claims)

    def _in_fewest(self, same: Sequence[Copy], claims: tuple[Claim, ...]) -> CutPart | None:
        """A part in the fewest pieces that all of its claims can take; the largest bed first where that is equal."""
        found: dict[Bed, CutPart] = {}
        for bed in self._beds_to_cut_for(same):
            if not any(other.holds(bed.width, bed.depth, bed.height) for other in found):  # that has no more pieces
                one = self._cut(same, bed)
                if one and self._all_take(claims, [piece.size for piece in one.pieces]):
                    found[bed] = one
        return min(found.values(), key=lambda one: len(one.pieces), default=None)

    def claims(self, same: Sequence[Copy]) -> tuple[Claim, ...]:
        """What copies of a part ask for, each once."""
        wishes = self.room.making.printed_on if self.room else ()
        return tuple(sorted({claim_of(copy, wishes, self.printers) for copy in same}))

    def longest(self, same: Sequence[Copy]) -> float:
        """How long a part may be in one piece, mm."""
        longest = longest_in(self.room) if self.room and is_flat(same[0].part) else {}
        return min((longest[copy.material] for copy in same if copy.material in longest), default=math.inf)

    def _all_take(self, claims: Iterable[Claim], sizes: Iterable[tuple[float, float, float]]) -> bool:
        """Whether each size lies on some bed of each claim."""
        beds = [[bed for one in claim.able(self.printers) for bed in beds_of(one)] for claim in claims]
        return all(any(bed.holds(*size) for bed in able) for able, size in product(beds, sizes))

    def _beds_to_cut_for(self, same: Sequence[Copy]) -> tuple[Bed, ...]:
        """The beds that pieces are tried for, the largest first, each drawn in to how long a flat part may be.

        Where claims have no bed in common, what lies on the smallest of them is sure to lie on all.
        """
        most = self.longest(same)
        found = [bed_of(one) for claim in self.claims(same) for one in claim.able(self.printers)]
        drawn = {Bed(min(bed.width, most), min(bed.depth, most), bed.height) for bed in found}
        return tuple(sorted(drawn, key=lambda bed: (*_area(bed), bed.width), reverse=True))

    def _cut(self, same: Sequence[Copy], bed: Bed) -> CutPart | None:
        """The pieces of a part for one bed."""
        spec = same[0].spec
        if isinstance(spec, PanelSpec):
            return cut_panel(self.module, spec, bed)
        sight, spots = sight_of(same, self.copies), spots_in(same)
        return cut_part(same[0].part, bed, self.fit, sight=sight, spots=spots)

    def too_large(self, same: Sequence[Copy]) -> Finding:
        """What is said of a part that no bed takes."""
        part, copy = same[0].part, same[0]
        width, depth, height = part.size
        why = self._why(part, same)
        text = f"{part.name} ({width:.0f} x {depth:.0f} x {height:.0f} mm) fits no bed and cannot be cut to one{why}."
        return Finding(
            "part-too-large", Severity.STOP, copy.label, text, "Add a larger printer, or make the lot smaller."
        )

    def _why(self, part: Part, same: Sequence[Copy]) -> str:
        """The reason, where one is known, after a colon."""
        if any(claim.whole for claim in self.claims(same)):
            return ": the room file says that it is to stay whole"
        tallest = max((bed.height for bed in self._beds_to_cut_for(same)), default=math.inf)
        why = never_cut(part) or ("" if isinstance(same[0].spec, PanelSpec) else not_lower(part, tallest, self.fit))
        return f": {why}" if why else ""

    def too_long(self, same: Sequence[Copy], cut: CutPart) -> Iterator[Finding]:
        """What is said of a flat part that is longer than its plastic stays down."""
        longest = longest_in(self.room) if self.room and is_flat(cut.part) and len(cut.pieces) == 1 else {}
        over = {copy.material: longest[copy.material] for copy in same if copy.material in longest}
        for material, most in sorted(over.items()):
            if max(cut.part.size[:2]) > most:
                yield kept_long(cut.part, material, most)
