"""The kit as a model: every stage's result in the one form that others read."""

from __future__ import annotations

import math
from collections import Counter
from typing import TYPE_CHECKING

from nookwright.exchange import kit as k
from nookwright.exchange.carriers import carriers_of
from nookwright.exchange.chance_records import first_print_record, reading_record
from nookwright.exchange.finding_records import finding_record
from nookwright.exchange.joint_models import joint_record
from nookwright.exchange.layout_records import layout_record, module_record, saving_records
from nookwright.exchange.lot_records import boxes_of, lot_place, sizes_of
from nookwright.exchange.printer_records import printer_record
from nookwright.exchange.printing_models import AlsoOn, KitPrinting
from nookwright.exchange.rounding import rounded
from nookwright.exchange.saw_records import sawing_record
from nookwright.exchange.settings_records import change_record, settings_record
from nookwright.exchange.sheets import size_of
from nookwright.exchange.space_records import fitted_mm2, space_record
from nookwright.exchange.trial_models import KitTrials
from nookwright.ground.sources import Fact
from nookwright.ground.sources import Kind as SourceKind
from nookwright.layout.liner_model import FillerSpec
from nookwright.layout.spaces import G_PER_KG
from nookwright.making.orientation import how_it_lies
from nookwright.module.estimates import MM2_PER_DM2
from nookwright.sizing.printers.household import household_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from nookwright.exchange.sheets import WrittenSheet
    from nookwright.exchange.step_files import WrittenStep
    from nookwright.exchange.written import Written
    from nookwright.ground.findings import Finding
    from nookwright.layout.next_readings import NextReading
    from nookwright.layout.plan import Plan
    from nookwright.making.bedfuls import Item, Load
    from nookwright.making.jobs import MadePart, MadePiece, Making
    from nookwright.making.savings.model import Saving
    from nookwright.parts.design import Copy
    from nookwright.parts.model import Kind as PartKind
    from nookwright.sizing.fits.first_print import FirstPrint
    from nookwright.sizing.lot_sizes import Terms
    from nookwright.survey.models import Lot, Material, Room

READINGS_SHOWN = Fact(
    10, unit="1", kind=SourceKind.CHOICE, source="Readings that a kit asks for: an evening; the next kit asks for more."
)


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
        (float(cos), float(-sin), 0.0, rounded(x + back_x)),
        (float(sin), float(cos), 0.0, rounded(y + back_y)),
        (0.0, 0.0, 1.0, rounded(z)),
        (0.0, 0.0, 0.0, 1.0),
    )


def space_matrix(copy: Copy) -> k.Matrix:
    """The matrix that takes a part to its place; what was printed lying or on its head is set up first."""
    matrix = turned_matrix(copy.x, copy.y, copy.z, copy.quarter_turns, copy.size)
    if copy.flipped:
        _, deep, high = copy.part.size
        one, two, three = ((x, -y + 0.0, -z + 0.0, rounded(y * deep + z * high + at)) for x, y, z, at in matrix[:3])
        return one, two, three, matrix[3]
    if not copy.upright:
        return matrix
    thick = copy.part.size[2]
    first, second, third = ((x, z + 0.0, -y + 0.0, rounded(y * thick + at)) for x, y, z, at in matrix[:3])
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
    savings: Sequence[Saving] = (),
    printing: KitPrinting | None = None,
    looked: tuple[k.KitLooked, ...] = (),
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
        savings: what could be left out, the cheapest first.
        printing: how it is printed; nothing before that is planned.
        looked: what proving looked at; nothing before it is proven.
    """
    names, household = _placement_ids(copies), household_of(room)
    kinds = {made.id: made.part.kind for made in making.parts}
    said = sorted(set(findings), key=lambda one: (_RANK[one.severity], one.code, one.subject, one.text))
    return k.Kit(
        version=version,
        room=room.room.name,
        room_sha256=room_sha256,
        module=module_record(plan),
        spaces=tuple(space_record(space, room, plan, copies, making) for space in plan.spaces),
        lots=tuple(_lot(lot, copies, names, making, plan.terms) for lot in room.lot),
        parts=tuple(_part(part, making, written) for part in making.parts),
        placements=tuple(
            _placement(copy, name, making, carriers_of(copy, copies, names, plan.module.pitch))
            for copy, name in zip(copies, names, strict=True)
        ),
        boxes=boxes_of(room, copies),
        orders=_orders(ordered, making),
        pieces=tuple(_piece(piece, room, written, kinds[piece.part]) for piece in making.pieces),
        sheets=tuple(_sheet(number, one, copies, names) for number, one in enumerate(written.sheets, start=1)),
        steps=tuple(k.KitStep(part=one.part, file=one.file, sha256=one.sha256) for one in steps),
        first=first or KitTrials(),
        printers=tuple(printer_record(printer, household) for printer in room.printer),
        materials=tuple(_material(material, making) for material in room.material),
        bedfuls=tuple(_bedful(number, load, room, making, written) for number, load in enumerate(making.loads)),
        findings=tuple(finding_record(finding) for finding in said),
        next_readings=tuple(reading_record(one, plan) for one in readings[: int(READINGS_SHOWN)]),
        more_readings=max(0, len(readings) - int(READINGS_SHOWN)),
        first_print=first_print_record(first_print),
        totals=_totals(room, plan, copies, making),
        layout=layout_record(plan, room.choices.layout),
        sawing=sawing_record(copies, plan.module, room.making.sawing),
        savings=saving_records(savings),
        printing=printing or KitPrinting(),
        looked=looked,
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


def _lot(lot: Lot, copies: Sequence[Copy], names: Sequence[str], making: Making, terms: Terms) -> k.KitLot:
    places, pocket = [], 0.0
    for copy, name in zip(copies, names, strict=True):
        for contents in copy.holds:
            if contents.lot.id == lot.id:
                pocket = max(pocket, contents.way.pocket)
                others = tuple(
                    other for one, other in zip(copies, names, strict=True) if lot.id == one.rest_of and one is not copy
                )
                places.append(lot_place(contents, name, making.part_ids[copy.part.recipe.digest], others))
    return k.KitLot(
        id=lot.id,
        name=lot.name or lot.id,
        count=lot.count,
        mass_g=rounded((lot.mass_g or 0.0) * lot.count),
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
        volume_mm3=rounded(volume),
        mass_g=rounded(sum(piece.mass_g for piece in pieces)),
        time_s=rounded(sum(piece.time_s for piece in pieces)),
        joints=tuple(joint_record(joint) for joint in made.cut.joints),
        stl=file,
        stl_sha256=sha,
    )


def _pieces_of(part: str, making: Making) -> list[MadePiece]:
    """The pieces of one copy of a part, in its first material."""
    mine = [piece for piece in making.pieces if piece.part == part]
    return [piece for piece in mine if piece.material == mine[0].material]


def _size(size: tuple[float, float, float]) -> k.Size:
    return rounded(size[0]), rounded(size[1]), rounded(size[2])


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
        travel=rounded(copy.spec.travel) if isinstance(copy.spec, FillerSpec) else 0.0,
        stands_on=carriers,
    )


def _piece(made: MadePiece, room: Room, written: Written, kind: PartKind) -> k.Piece:
    file, sha = written.piece[made.id]
    return k.Piece(
        id=made.id,
        part=made.part,
        part_from_piece=turned_matrix(made.piece.x, made.piece.y, made.piece.z, 0, made.piece.size),
        count=made.count,
        recipe=made.piece.recipe.digest,
        material=made.material,
        colour=_colour(room, made.material),
        file=file,
        stl_sha256=sha,
        size=_size(made.piece.size),
        volume_mm3=rounded(made.volume_mm3),
        mass_g=rounded(made.mass_g),
        time_s=rounded(made.time_s),
        lies=how_it_lies(kind),
    )


def _sheet(number: int, one: WrittenSheet, copies: Sequence[Copy], names: Sequence[str]) -> k.KitSheet:
    width, depth = size_of(one.sheet)
    return k.KitSheet(
        id=f"sheet-{number:02d}",
        use=one.sheet.use.value,
        size=(rounded(width), rounded(depth)),
        thickness=rounded(one.sheet.thickness),
        count=one.count,
        placements=tuple(name for copy, name in zip(copies, names, strict=True) if one.sheet in copy.sheets),
        dxf=one.dxf,
        dxf_sha256=one.dxf_sha256,
        svg=one.svg,
        svg_sha256=one.svg_sha256,
    )


def _colour(room: Room, material: str) -> str:
    return next(one.colour for one in room.material if one.id == material)


def _material(material: Material, making: Making) -> k.KitMaterial:
    mass = sum(piece.mass_g * piece.count for piece in making.pieces if piece.material == material.id)
    return k.KitMaterial(
        id=material.id,
        name=material.name or material.id,
        colour=material.colour,
        mass_g=rounded(mass),
        price=rounded(mass / G_PER_KG * material.price_per_kg),
        spools=math.ceil(round(mass / material.spool_g, 6)),
    )


def _bedful(number: int, load: Load, room: Room, making: Making, written: Written) -> k.Bedful:
    sizes = {piece.id: piece.piece.size for piece in making.pieces}
    file, sha, card, pads = written.bedful[number]
    return k.Bedful(
        id=f"bedful-{number + 1:02d}",
        printer=load.printer,
        material=load.material,
        colour=_colour(room, load.material),
        file=file,
        model_sha256=sha,
        card=card,
        night=load.night,
        time_s=rounded(load.time_s),
        mass_g=rounded(load.mass_g),
        items=tuple(
            k.BedItem(piece=item.piece, bed_from_piece=item_matrix(item, sizes[item.piece])) for item in load.items
        ),
        pads=pads,
        settings=settings_record(load, room, making),
        change=change_record(load),
        also_on=tuple(AlsoOn(printer=name, time_s=rounded(time_s)) for name, time_s in load.also_on),
    )


def item_matrix(item: Item, size: tuple[float, float, float]) -> k.Matrix:
    """Where an item lies on its bed."""
    return turned_matrix(item.x, item.y, 0.0, item.turns, size)


def _totals(room: Room, plan: Plan, copies: Sequence[Copy], making: Making) -> k.Totals:
    mass = sum(piece.mass_g * piece.count for piece in making.pieces)
    area = (
        sum(fitted_mm2(space) for space in plan.spaces if any(c.space == space.space.id for c in copies)) / MM2_PER_DM2
    )
    price = {material.id: material.price_per_kg / G_PER_KG for material in room.material}
    return k.Totals(
        spaces=len({copy.space for copy in copies}),
        lots=len(room.lot),
        lots_placed=len({contents.lot.id for copy in copies for contents in copy.holds}),
        parts=len(making.parts),
        pieces=sum(piece.count for piece in making.pieces),
        bedfuls=len(making.loads),
        mass_g=rounded(mass),
        time_s=rounded(sum(load.time_s for load in making.loads)),
        area_dm2=rounded(area),
        g_per_dm2=rounded(mass / area if area else 0.0),
        price=rounded(sum(piece.mass_g * piece.count * price[piece.material] for piece in making.pieces)),
    )
