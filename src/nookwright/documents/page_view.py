"""What the page shows, worked out of the kit so that the template only has to lay it out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.checks.cautions.words import DEFERENCE, words_for
from nookwright.documents import style, words
from nookwright.documents.cautions_view import CautionRow, caution_rows
from nookwright.documents.places import LINER_KINDS
from nookwright.documents.plan import plan_svg
from nookwright.documents.printing_view import PrintingView, printing_view
from nookwright.documents.sizes import PocketRow, pocket_rows
from nookwright.documents.titles import TITLES
from nookwright.ground.findings import Severity
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Mapping

    from nookwright.exchange.kit import Bedful, Kit, KitFinding, KitPart, KitPrinter, KitSpace, Value
    from nookwright.exchange.layout_models import KitLayout, KitSpaceLayout

OPEN_AT_MOST = Fact(6, unit="1", kind=Kind.CHOICE, source="More warnings or notes than a screen holds start folded up.")

COSTS = {
    "footprint": "floor that parts take beyond the handiest way to keep each lot",
    "reach": "how far one reaches for what is used often",
    "split": "things that should be near each other but are not",
    "open": "spaces that are in use",
    "stacks": "lifting one tray off to get at another",
    "grown": "trays made larger than their things need, to line up",
    "widths": "different widths along the rows of a space",
    "rows": "rows in a space",
    "edges": "edges of trays that do not line up",
    "rims": "rims of different height in a row",
    "crumbs": "free floor in small pieces",
    "handy": "how far back things of frequent use lie",
    "backed": "tall trays in drawers with nothing behind or before them",
    "beside": "things that should be near each other but are not side by side",
    "alike": "things of one group that lie scattered",
    "order": "things out of the order that was given",
    "sizes": "different sizes of trays",
    "one hand": "trays between higher ones, where no hand gets in",
    "far": "heavy things far back",
}


@dataclass(frozen=True)
class FindingGroup:
    """The findings of one severity; ``unfolded`` says whether they are shown at once."""

    severity: Severity
    title: str
    findings: tuple[KitFinding, ...]
    unfolded: bool


@dataclass(frozen=True)
class Kept:
    """Some things of a lot in one place."""

    lot: str
    count: int
    label: str
    part: str
    space: str
    space_id: str
    size: tuple[float, float, float]
    stance: str


@dataclass(frozen=True)
class SpaceView:
    """A space with its drawing, what is kept in it, and its prints."""

    space: KitSpace
    plan: str
    kept: tuple[Kept, ...]
    parts: int
    budget_percent: float


@dataclass(frozen=True)
class BedView:
    """A bedful: what lies on it, counted."""

    bed: Bedful
    colour: str
    items: str


@dataclass(frozen=True)
class PrinterView:
    """A printer with its bedfuls and their sums."""

    printer: KitPrinter
    beds: tuple[BedView, ...]
    mass_g: float
    time_s: float


@dataclass(frozen=True)
class PartView:
    """A part, how often it is used, for what, and the parameters it was made with."""

    part: KitPart
    count: int
    labels: str
    parameters: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class CostView:
    """A part of the layout's cost, in plain words; ``tightest`` is what it is there, where that was judged too."""

    name: str
    value: float
    tightest: float | None
    meaning: str


@dataclass(frozen=True)
class LayoutView:
    """A space in the two layouts."""

    name: str
    layout: KitSpaceLayout


@dataclass(frozen=True)
class View:
    """The whole page."""

    findings: tuple[FindingGroup, ...]
    cautions: tuple[CautionRow, ...]
    deference: str
    spaces: tuple[SpaceView, ...]
    kept: tuple[Kept, ...]
    pockets: tuple[PocketRow, ...]
    printers: tuple[PrinterView, ...]
    parts: tuple[PartView, ...]
    costs: tuple[CostView, ...]
    layouts: tuple[LayoutView, ...]
    printing: PrintingView
    space_names: Mapping[str, str]
    part_names: Mapping[str, str]
    material_names: Mapping[str, str]


def view_of(kit: Kit) -> View:
    """What the page of a kit shows."""
    kept, names = _kept(kit), {space.id: space.name for space in kit.spaces}
    return View(
        findings=_findings(kit),
        cautions=caution_rows(kit),
        deference=DEFERENCE,
        spaces=tuple(_space(kit, space, kept) for space in kit.spaces),
        kept=kept,
        pockets=pocket_rows(kit),
        printers=tuple(_printer(kit, printer) for printer in kit.printers),
        parts=tuple(_part(kit, part) for part in kit.parts),
        costs=_costs(kit.layout),
        layouts=tuple(LayoutView(names[one.space], one) for one in kit.layout.spaces),
        printing=printing_view(kit),
        space_names=names,
        part_names={part.id: part.name for part in kit.parts},
        material_names={material.id: material.name for material in kit.materials},
    )


def _costs(layout: KitLayout) -> tuple[CostView, ...]:
    """All parts of the cost that are not nought, beside those of the tightest layout."""
    tightest = {part.name: part.value for part in layout.tightest}
    shown = (*layout.cost, *(one for one in layout.arrangement if one.value or tightest.get(one.name)))
    return tuple(CostView(one.name, one.value, tightest.get(one.name), COSTS.get(one.name, "")) for one in shown)


def said(value: Value) -> str:
    """A parameter's value as people read it.

    >>> said(True), said(1.2), said("shell"), said(((1.0, 0.3), (2.0, 0.4)))
    ('yes', '1.2', 'shell', '(1, 0.3), (2, 0.4)')
    """
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, str):
        return value
    if isinstance(value, tuple):
        return ", ".join(f"({said(one)})" if isinstance(one, tuple) else said(one) for one in value)
    return f"{value:g}"


def _findings(kit: Kit) -> tuple[FindingGroup, ...]:
    groups = []
    for severity, title in TITLES.items():
        found = tuple(one for one in kit.findings if one.severity is severity)
        if severity is Severity.NOTE:
            found = tuple(one for one in found if words_for(one.code) is None)  # said in their own section
        unfolded = severity is Severity.STOP or len(found) <= OPEN_AT_MOST
        if found:
            groups.append(FindingGroup(severity, title, found, unfolded))
    return tuple(groups)


def _kept(kit: Kit) -> tuple[Kept, ...]:
    spaces = {space.id: space for space in kit.spaces}
    parts = {part.id: part for part in kit.parts}
    placements = {placement.id: placement for placement in kit.placements}
    rows = []
    for lot in kit.lots:
        for place in lot.places:
            placement = placements[place.placement]
            space = spaces[placement.space]
            rows.append(
                Kept(
                    lot=lot.name,
                    count=place.count,
                    label=placement.label,
                    part=parts[place.part].name,
                    space=space.name,
                    space_id=space.id,
                    size=place.size,
                    stance=place.stance,
                )
            )
    return tuple(sorted(rows, key=lambda row: (row.lot.casefold(), row.space_id, row.label, row.part)))


def _space(kit: Kit, space: KitSpace, kept: tuple[Kept, ...]) -> SpaceView:
    liner = {part.id for part in kit.parts if part.kind in LINER_KINDS}
    here = [one for one in kit.placements if one.space == space.id and one.part not in liner]
    return SpaceView(
        space=space,
        plan=plan_svg(kit, space.id).split("?>", 1)[1].strip(),
        kept=tuple(row for row in kept if row.space_id == space.id),
        parts=len(here),
        budget_percent=100 * space.mass_g / space.budget_g if space.budget_g > 0 else 0.0,
    )


def _printer(kit: Kit, printer: KitPrinter) -> PrinterView:
    beds = [bed for bed in kit.bedfuls if bed.printer == printer.id]
    return PrinterView(
        printer=printer,
        beds=tuple(_bed(kit, bed) for bed in beds),
        mass_g=sum(bed.mass_g for bed in beds),
        time_s=sum(bed.time_s for bed in beds),
    )


def _bed(kit: Kit, bed: Bedful) -> BedView:
    parts = {part.id: part.name for part in kit.parts}
    names = {piece.id: parts[piece.part] for piece in kit.pieces}
    counts: dict[str, int] = {}
    for item in bed.items:
        counts[names[item.piece]] = counts.get(names[item.piece], 0) + 1
    return BedView(
        bed=bed,
        colour=style.safe_colour(bed.colour),
        items=", ".join(f"{count} × {name}" for name, count in counts.items()),
    )


def _part(kit: Kit, part: KitPart) -> PartView:
    labels = [placement.label for placement in kit.placements if placement.part == part.id]
    return PartView(
        part=part,
        count=len(labels),
        labels=words.listed(labels),
        parameters=tuple((name.replace("_", " "), said(value)) for name, value in part.parameters.items()),
    )
