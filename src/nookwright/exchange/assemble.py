"""The kit as a model: every stage's result in the one form that others read."""

from __future__ import annotations

import math
from collections import Counter
from typing import TYPE_CHECKING

from nookwright.exchange import kit as k
from nookwright.exchange.lot_records import sizes_of
from nookwright.exchange.sheets import size_of
from nookwright.exchange.trial_models import KitTrials
from nookwright.ground.sources import Fact
from nookwright.ground.sources import Kind as SourceKind
from nookwright.layout.liner_model import EDGE_INSET, FillerSpec, PanelSpec
from nookwright.layout.plan import G_PER_KG
from nookwright.making.forecast import liners_of, wall_m_mm
from nookwright.module.estimates import MM2_PER_DM2, budget_g
from nookwright.parts.design import TraySpec
from nookwright.parts.model import Kind
from nookwright.sizing.printers.errors import ERRORS
from nookwright.sizing.printers.household import household_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from nookwright.exchange.sheets import WrittenSheet
    from nookwright.exchange.step_files import WrittenStep
    from nookwright.exchange.written import Written
    from nookwright.ground.findings import Finding
    from nookwright.layout.next_readings import NextReading
    from nookwright.layout.plan import Plan, SpacePlan
    from nookwright.making.bedfuls import Item, Load
    from nookwright.making.jobs import MadePart, MadePiece, Making
    from nookwright.parts.design import Copy
    from nookwright.parts.liner.liner_offers import LinerOffer
    from nookwright.sizing.fits.first_print import FirstPrint
    from nookwright.sizing.lot_sizes import Terms
    from nookwright.sizing.printers.household import Household, Known
    from nookwright.sizing.spaces.outlines import Outline
    from nookwright.sizing.usable import Usable
    from nookwright.survey.models import Lot, Material, Printer, Room

READINGS_SHOWN = Fact(
    10, unit="1", kind=SourceKind.CHOICE, source="Readings that a kit asks for: an evening; the next kit asks for more."
)
_DIGITS = 6  # of every number in the file: a millionth of a mm, g or s


def _r(value: float) -> float:
    """A number as it stands in the file; no minus zero."""
    return round(value, _DIGITS) + 0.0


def turned_matrix(x: float, y: float, z: float, quarter_turns: int, size: tuple[float, float, float]) -> k.Matrix:
    """The matrix that turns a body about z and puts the front left corner of its box at a point.

    Args:
        x: where the corner goes along x, mm.
        y: the same along y.
        z: the same along z.
        quarter_turns: counter-clockwise.
        size: of the body before it is turned; its box starts at the origin.

    >>> turned_matrix(1, 2, 0, 1, (10, 4, 1))[0]
    (0.0, -1.0, 0.0, 5.0)
    """
    width, depth, _ = size
    cos, sin = ((1, 0), (0, 1), (-1, 0), (0, -1))[quarter_turns % 4]
    back_x = (0.0, depth, width, 0.0)[quarter_turns % 4]
    back_y = (0.0, 0.0, depth, width)[quarter_turns % 4]
    return (
        (float(cos), float(-sin), 0.0, _r(x + back_x)),
        (float(sin), float(cos), 0.0, _r(y + back_y)),
        (0.0, 0.0, 1.0, _r(z)),
        (0.0, 0.0, 0.0, 1.0),
    )


def space_matrix(copy: Copy) -> k.Matrix:
    """The matrix that takes a part to its place; a part that stands upright is set on its front edge first."""
    matrix = turned_matrix(copy.x, copy.y, copy.z, copy.quarter_turns, copy.size)
    if not copy.upright:
        return matrix
    thick = copy.part.size[2]
    first, second, third = ((x, z + 0.0, -y + 0.0, _r(y * thick + at)) for x, y, z, at in matrix[:3])
    return first, second, third, matrix[3]


def assemble(
    *,
    version: str,
    room: Room,
    room_sha256: str,
    plan: Plan,
    copies: Sequence[Copy],
    ordered: Sequence[Copy],
    making: Making,
    written: Written,
    steps: Iterable[WrittenStep] = (),
    findings: Iterable[Finding],
    first: KitTrials | None = None,
    readings: Sequence[NextReading] = (),
    first_print: FirstPrint,
) -> k.Kit:
    """The whole kit.

    Args:
        version: of the tool.
        room: as surveyed.
        room_sha256: hash of the room file.
        plan: what goes where.
        copies: all copies of all parts that have a place, loose keys included.
        ordered: copies of parts that were made to order.
        making: pieces and bedfuls.
        written: names and hashes of the files.
        steps: the same of the STEP files.
        findings: what there is to say.
        first: what to print and try before the rest.
        readings: what to measure next, the best first.
        first_print: how likely it fits.
    """
    names = _placement_ids(copies)
    said = sorted(set(findings), key=lambda one: (_RANK[one.severity], one.code, one.subject, one.text))
    return k.Kit(
        version=version,
        room=room.room.name,
        room_sha256=room_sha256,
        module=k.KitModule(pitch=plan.module.pitch, rise=plan.module.rise, chosen=plan.module.chosen),
        spaces=tuple(_space(space, room, plan, copies, making) for space in plan.spaces),
        lots=tuple(_lot(lot, copies, names, making, plan.terms) for lot in room.lot),
        parts=tuple(_part(part, making, written) for part in making.parts),
        placements=tuple(
            _placement(copy, name, making, _carriers(copy, copies, names, plan.module.pitch))
            for copy, name in zip(copies, names, strict=True)
        ),
        orders=_orders(ordered, making),
        pieces=tuple(_piece(piece, room, written) for piece in making.pieces),
        sheets=tuple(_sheet(number, one, copies, names) for number, one in enumerate(written.sheets, start=1)),
        steps=tuple(k.KitStep(part=one.part, file=one.file, sha256=one.sha256) for one in steps),
        first=first or KitTrials(),
        printers=tuple(_printer(printer, household_of(room)) for printer in room.printer),
        materials=tuple(_material(material, making) for material in room.material),
        bedfuls=tuple(_bedful(number, load, room, making, written) for number, load in enumerate(making.loads)),
        findings=tuple(
            k.KitFinding(code=f.code, severity=f.severity, subject=f.subject, text=f.text, remedy=f.remedy)
            for f in said
        ),
        next_readings=tuple(_reading(one, plan) for one in readings[: int(READINGS_SHOWN)]),
        more_readings=max(0, len(readings) - int(READINGS_SHOWN)),
        first_print=_first_print(first_print),
        totals=_totals(room, plan, copies, making),
        layout=_layout(plan),
    )


_RANK = {"stop": 0, "warn": 1, "note": 2}


def _placement_ids(copies: Sequence[Copy]) -> list[str]:
    """``bench-left-01`` and so on, in order."""
    counts: dict[str, int] = {}
    names = []
    for copy in copies:
        counts[copy.space] = counts.get(copy.space, 0) + 1
        names.append(f"{copy.space}-{counts[copy.space]:03d}")
    return names


def _reading(one: NextReading, plan: Plan) -> k.KitReading:
    gain = one.gain
    return k.KitReading(
        subject=one.subject,
        name=one.name,
        dimension=one.dimension,
        readings=one.readings,
        instrument=one.instrument.value,
        rough=one.rough,
        tighter=_r(gain.pocket),
        saved_mm2=_r(gain.cells * plan.module.pitch**2),
        saved_g=_r(gain.mass_g),
        surer=_r(gain.fit),
        surer_instead=_r(gain.at_same_size),
        lines=_r(gain.lines),
        time_s=_r(one.effort_s),
        why=one.why,
    )


def _first_print(found: FirstPrint) -> k.KitFirstPrint:
    return k.KitFirstPrint(
        kit=_r(found.kit),
        lots={lot: _r(share) for lot, share in found.lots.items()},
        spaces={space: _r(share) for space, share in found.spaces.items()},
        helps=tuple(
            k.KitStepUp(step=one.step.value, subject=one.subject, probability=_r(one.probability), gain=_r(one.gain))
            for one in found.helps
        ),
        seat=_r(found.seat),
    )


def _mass_g(copies: Iterable[Copy], making: Making) -> float:
    return sum(_one(copy, making)[0] for copy in copies)


def _time_s(copies: Iterable[Copy], making: Making) -> float:
    return sum(_one(copy, making)[1] for copy in copies)


def _one(copy: Copy, making: Making) -> tuple[float, float]:
    """Mass and time of all pieces of one copy."""
    part = making.part_ids[copy.part.recipe.digest]
    mine = [piece for piece in making.pieces if piece.part == part and piece.material == copy.material]
    return sum(piece.mass_g for piece in mine), sum(piece.time_s for piece in mine)


def _space(space: SpacePlan, room: Room, plan: Plan, copies: Sequence[Copy], making: Making) -> k.KitSpace:
    usable, floor = space.usable, space.floor
    mine = [copy for copy in copies if copy.space == space.space.id]
    mass = _mass_g(mine, making)
    things = sum((copy.contents.lot.mass_g or 0.0) * len(copy.contents.places) for copy in mine if copy.contents)
    return k.KitSpace(
        id=space.space.id,
        name=space.space.name or space.space.id,
        kind=space.space.kind.value,
        usable=tuple(_outline(usable, level) for level in usable.outlines),
        height=_r(usable.height),
        corner_radius=_r(usable.corner_radius),
        cove_radius=_r(usable.cove_radius),
        margins=(_r(usable.margins[0]), _r(usable.margins[1]), _r(usable.margins[2])),
        bow=_r(usable.bow.sag),
        blocked=tuple(
            k.BlockedBox(
                reason=box.reason,
                service=box.service,
                low=(_r(box.x0), _r(box.y0), _r(box.z0)),
                high=(_r(box.x1), _r(box.y1), _r(box.z1)),
            )
            for box in usable.blocked
        ),
        cell_origin=(_r(floor.x0), _r(floor.y0)),
        cols=floor.cols,
        rows=floor.rows,
        blocked_cells=floor.blocked,
        mass_g=_r(mass),
        time_s=_r(_time_s(mine, making)),
        budget_g=_r(budget_g(_fitted_mm2(space), wall_m_mm(mine, plan))),
        load_g=_r(mass + things),
        load_limit_g=_r(space.space.load_kg * G_PER_KG),
        liners=tuple(_liner(offer) for offer in liners_of(room, plan, space)),
    )


def _outline(usable: Usable, level: Outline) -> k.UsableAt:
    inset = level.insets
    return k.UsableAt(
        z=_r(level.z),
        width=_r(max(0.0, usable.width - inset.left - inset.right)),
        depth=_r(max(0.0, usable.depth - inset.front - inset.back)),
        x=_r(inset.left),
        y=_r(inset.front),
    )


def _liner(offer: LinerOffer) -> k.LinerOffer:
    return k.LinerOffer(
        level=offer.level.value,
        pattern=offer.pattern.value,
        mass_g=_r(offer.mass_g),
        time_s=_r(offer.time_s),
        lost_height=_r(offer.lost_height),
        cones=offer.cones,
        keeps=offer.keeps,
        chosen=offer.chosen,
    )


def _fitted_mm2(space: SpacePlan) -> float:
    """Area of a space that is fitted out, mm2."""
    return space.usable.width * space.usable.depth if space.grid.fill else 0.0


def _lot(lot: Lot, copies: Sequence[Copy], names: Sequence[str], making: Making, terms: Terms) -> k.KitLot:
    places, pocket = [], 0.0
    for copy, name in zip(copies, names, strict=True):
        if copy.contents is None or copy.contents.lot.id != lot.id:
            continue
        thing, pocket = copy.contents.way.thing, max(pocket, copy.contents.way.pocket)
        places.append(
            k.LotPlace(
                placement=name,
                part=making.part_ids[copy.part.recipe.digest],
                count=len(copy.contents.places),
                stance=copy.contents.way.stance.value,
                size=(_r(thing.width), _r(thing.depth), _r(thing.height)),
                round_axis=thing.round_axis,
                at=tuple((_r(x), _r(y), _r(z)) for x, y, z in copy.contents.places),
            )
        )
    return k.KitLot(
        id=lot.id,
        name=lot.name or lot.id,
        count=lot.count,
        mass_g=_r((lot.mass_g or 0.0) * lot.count),
        places=tuple(places),
        sizes=sizes_of(lot, pocket, terms),
    )


def _part(made: MadePart, making: Making, written: Written) -> k.KitPart:
    part = made.part
    file, sha, volume = written.part[made.id]
    pieces = _pieces_of(made.id, making)
    return k.KitPart(
        id=made.id,
        kind=part.kind,
        name=part.name,
        recipe=part.recipe.digest,
        parameters=dict(part.parameters),
        size=_size(part.size),
        volume_mm3=_r(volume),
        mass_g=_r(sum(piece.mass_g for piece in pieces)),
        time_s=_r(sum(piece.time_s for piece in pieces)),
        stl=file,
        stl_sha256=sha,
    )


def _pieces_of(part: str, making: Making) -> list[MadePiece]:
    """The pieces of one copy of a part, in its first material."""
    mine = [piece for piece in making.pieces if piece.part == part]
    return [piece for piece in mine if piece.material == mine[0].material]


def _size(size: tuple[float, float, float]) -> k.Size:
    return _r(size[0]), _r(size[1]), _r(size[2])


def _carriers(copy: Copy, copies: Sequence[Copy], names: Sequence[str], pitch: float) -> tuple[str, ...]:
    """The panels below a part, or the tray around a loose one; none for what lies on the floor of the space."""
    if copy.upright:
        trays = ((one, name) for one, name in zip(copies, names, strict=True) if isinstance(one.spec, TraySpec))
        return tuple(name for one, name in trays if one.space == copy.space and _inside(copy, one))
    if not copy.lined:
        return ()
    panels = ((one, name) for one, name in zip(copies, names, strict=True) if one.part.kind is Kind.PANEL)
    return tuple(name for panel, name in panels if panel.space == copy.space and _over(copy, panel, pitch))


def _over(upper: Copy, panel: Copy, pitch: float) -> bool:
    """Whether a part stands on a cell of a panel."""
    x0, y0, x1, y1 = _footprint(upper)
    spec = panel.spec
    if not isinstance(spec, PanelSpec):
        return False
    left, front = panel.x - EDGE_INSET - spec.set_back.left, panel.y - EDGE_INSET - spec.set_back.front
    corners = ((left + col * pitch, front + row * pitch) for col, row in spec.cells)
    return any(x0 < u + pitch and u < x1 and y0 < v + pitch and v < y1 for u, v in corners)


def _inside(loose: Copy, tray: Copy) -> bool:
    """Whether a loose part stands inside the footprint of a tray."""
    (x0, y0, x1, y1), (u0, v0, u1, v1) = _footprint(loose), _footprint(tray)
    return u0 <= x0 and x1 <= u1 and v0 <= y0 and y1 <= v1


def _footprint(copy: Copy) -> tuple[float, float, float, float]:
    width, depth, _ = copy.size
    if copy.quarter_turns % 2:
        width, depth = depth, width
    return copy.x, copy.y, copy.x + width, copy.y + depth


def _orders(ordered: Sequence[Copy], making: Making) -> tuple[k.KitOrder, ...]:
    """What was ordered, counted; an order of several parts has an entry for each."""
    counts = Counter((copy.label, making.part_ids[copy.part.recipe.digest]) for copy in ordered)
    return tuple(k.KitOrder(id=label, part=part, count=count) for (label, part), count in counts.items())


def _placement(copy: Copy, name: str, making: Making, carriers: tuple[str, ...]) -> k.Placement:
    return k.Placement(
        id=name,
        part=making.part_ids[copy.part.recipe.digest],
        space=copy.space,
        label=copy.label,
        space_from_part=space_matrix(copy),
        travel=_r(copy.spec.travel) if isinstance(copy.spec, FillerSpec) else 0.0,
        stands_on=carriers,
    )


def _piece(made: MadePiece, room: Room, written: Written) -> k.Piece:
    file, sha = written.piece[made.id]
    return k.Piece(
        id=made.id,
        part=made.part,
        part_from_piece=turned_matrix(made.piece.x, made.piece.y, 0.0, 0, made.piece.size),
        count=made.count,
        recipe=made.piece.recipe.digest,
        material=made.material,
        colour=_colour(room, made.material),
        file=file,
        stl_sha256=sha,
        size=_size(made.piece.size),
        volume_mm3=_r(made.volume_mm3),
        mass_g=_r(made.mass_g),
        time_s=_r(made.time_s),
    )


def _sheet(number: int, one: WrittenSheet, copies: Sequence[Copy], names: Sequence[str]) -> k.KitSheet:
    width, depth = size_of(one.sheet)
    return k.KitSheet(
        id=f"sheet-{number:02d}",
        use=one.sheet.use.value,
        size=(_r(width), _r(depth)),
        thickness=_r(one.sheet.thickness),
        count=one.count,
        placements=tuple(name for copy, name in zip(copies, names, strict=True) if one.sheet in copy.sheets),
        dxf=one.dxf,
        dxf_sha256=one.dxf_sha256,
        svg=one.svg,
        svg_sha256=one.svg_sha256,
    )


def _colour(room: Room, material: str) -> str:
    return next(one.colour for one in room.material if one.id == material)


def _errors(known: Known) -> k.KitPrinterErrors:
    components = tuple(
        k.KitPrinterError(
            name=error.value,
            value=round(known.errors.value(error), 6),
            uncertainty=round(known.errors.uncertainty(error), 6),
        )
        for error in ERRORS
    )
    return k.KitPrinterErrors(material=known.material, basis=known.basis.value, components=components)


def _printer(printer: Printer, household: Household) -> k.KitPrinter:
    return k.KitPrinter(
        id=printer.id,
        name=printer.name or printer.id,
        bed=(printer.bed_width, printer.bed_depth, printer.bed_height),
        margin=printer.margin,
        layer=printer.layer,
        errors=tuple(_errors(one) for one in household.known if one.printer == printer.id),
    )


def _material(material: Material, making: Making) -> k.KitMaterial:
    mass = sum(piece.mass_g * piece.count for piece in making.pieces if piece.material == material.id)
    return k.KitMaterial(
        id=material.id,
        name=material.name or material.id,
        colour=material.colour,
        mass_g=_r(mass),
        price=_r(mass / G_PER_KG * material.price_per_kg),
        spools=math.ceil(round(mass / material.spool_g, 6)),
    )


def _bedful(number: int, load: Load, room: Room, making: Making, written: Written) -> k.Bedful:
    sizes = {piece.id: piece.piece.size for piece in making.pieces}
    file, sha = written.bedful[number]
    return k.Bedful(
        id=f"bedful-{number + 1:02d}",
        printer=load.printer,
        material=load.material,
        colour=_colour(room, load.material),
        file=file,
        model_sha256=sha,
        time_s=_r(load.time_s),
        mass_g=_r(load.mass_g),
        items=tuple(
            k.BedItem(piece=item.piece, bed_from_piece=item_matrix(item, sizes[item.piece])) for item in load.items
        ),
    )


def item_matrix(item: Item, size: tuple[float, float, float]) -> k.Matrix:
    """Where an item lies on its bed."""
    return turned_matrix(item.x, item.y, 0.0, 1 if item.turned else 0, size)


def _totals(room: Room, plan: Plan, copies: Sequence[Copy], making: Making) -> k.Totals:
    mass = sum(piece.mass_g * piece.count for piece in making.pieces)
    area = (
        sum(_fitted_mm2(space) for space in plan.spaces if any(c.space == space.space.id for c in copies)) / MM2_PER_DM2
    )
    price = {material.id: material.price_per_kg / G_PER_KG for material in room.material}
    return k.Totals(
        spaces=len({copy.space for copy in copies}),
        lots=len(room.lot),
        lots_placed=len({copy.contents.lot.id for copy in copies if copy.contents}),
        parts=len(making.parts),
        pieces=sum(piece.count for piece in making.pieces),
        bedfuls=len(making.loads),
        mass_g=_r(mass),
        time_s=_r(sum(load.time_s for load in making.loads)),
        area_dm2=_r(area),
        g_per_dm2=_r(mass / area if area else 0.0),
        price=_r(sum(piece.mass_g * piece.count * price[piece.material] for piece in making.pieces)),
    )


def _layout(plan: Plan) -> k.KitLayout:
    layout = plan.layout
    return k.KitLayout(
        cost=tuple(k.CostPart(name=part.name, value=_r(part.value)) for part in layout.cost),
        total=_r(sum(part.value for part in layout.cost)),
        bound=_r(layout.bound),
        gap=_r(layout.gap),
        proven=layout.proven,
        by_clock=layout.by_clock,
        seed=layout.seed,
        iterations=layout.iterations,
    )
