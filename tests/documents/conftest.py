"""Kits made by hand for the documents: invented rooms, rich enough that every kind of thing is drawn and listed."""

from __future__ import annotations

import random
import xml.etree.ElementTree as ET
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import pytest

from nookwright.documents import lettering
from nookwright.exchange.kit import (
    Bedful,
    BedItem,
    BlockedBox,
    Kit,
    KitFinding,
    KitLot,
    KitMaterial,
    KitPart,
    KitPrinter,
    KitSpace,
    LotPlace,
    Matrix,
    Piece,
    Placement,
    Totals,
    UsableAt,
)
from nookwright.exchange.layout_models import CostPart, KitLayout, KitModule, KitModuleRow, KitSaving, KitSpaceLayout
from nookwright.exchange.svg import Box
from nookwright.ground.digest import digest
from nookwright.ground.findings import Severity

if TYPE_CHECKING:
    from collections.abc import Callable

SVG = "{http://www.w3.org/2000/svg}"
PITCH = 18.0
COLOURS = {"slate": "#4a5a68", "moss": "#6b8f3c", "amber": "#e09a2b"}
PRICE_PER_G = 0.02
TIME_PER_G_S = 240.0


@dataclass(frozen=True)
class Seat:
    """A tray or cradle to be placed: its cells as it lies, and what is in it."""

    col: int
    row: int
    cols: int
    rows: int
    label: str
    height: int = 48
    kind: str = "tray"
    turned: bool = False
    material: str = "moss"
    things: tuple[int, int] = (0, 0)
    is_round: bool = False


@dataclass(frozen=True)
class Nook:
    """A space to be drawn, with its seats."""

    id: str
    name: str
    width: float
    depth: float
    height: float
    seats: tuple[Seat, ...]
    blocked: tuple[BlockedBox, ...] = ()
    kind: str = "drawer"
    rim: tuple[float, float] | None = None


def shift(x: float, y: float, z: float = 0.0) -> Matrix:
    """A matrix that moves."""
    return ((1, 0, 0, x), (0, 1, 0, y), (0, 0, 1, z), (0, 0, 0, 1))


def quarter(x: float, y: float, z: float = 0.0) -> Matrix:
    """A matrix that turns by 90 degrees to the left and moves."""
    return ((0, -1, 0, x), (1, 0, 0, y), (0, 0, 1, z), (0, 0, 0, 1))


@dataclass
class Maker:
    """Collects parts, placements and pieces."""

    parts: dict[str, KitPart] = field(default_factory=dict)
    pieces: dict[str, Piece] = field(default_factory=dict)
    placements: list[Placement] = field(default_factory=list)
    lots: list[KitLot] = field(default_factory=list)

    def part(self, kind: str, size: tuple[float, float, float], material: str) -> KitPart:
        """A part of this kind and size, with its pieces; made once."""
        name = f"{kind} {size[0]:.0f}x{size[1]:.0f} h{size[2]:.0f}"
        key = f"{name} {material}".replace(" ", "-")
        if key not in self.parts:
            grams = 0.004 * size[0] * size[1] + 0.0015 * 2 * (size[0] + size[1]) * size[2] / 2
            self.parts[key] = KitPart.model_validate(
                {
                    "id": key,
                    "kind": kind,
                    "name": name,
                    "recipe": digest(key),
                    "parameters": {"wall": 1.2, "floor": "shell", "rings": ((1.0, 0.3),)},
                    "size": size,
                    "volume_mm3": grams * 800,
                    "mass_g": round(grams, 2),
                    "time_s": round(grams * TIME_PER_G_S),
                    "stl": f"parts/{key}.stl",
                    "stl_sha256": digest(key + "stl"),
                }
            )
            self._pieces(self.parts[key], material)
        return self.parts[key]

    def _pieces(self, part: KitPart, material: str) -> None:
        halves = 2 if part.kind == "tray" and part.size[0] > 240 else 1
        width = part.size[0] / halves
        for count in range(halves):
            key = part.id if halves == 1 else f"{part.id}-{'ab'[count]}"
            self.pieces[key] = Piece(
                id=key,
                part=part.id,
                part_from_piece=shift(count * width, 0),
                count=0,
                recipe=digest(key),
                material=material,
                colour=COLOURS[material],
                file=f"pieces/{key}.stl",
                stl_sha256=digest(key + "stl"),
                size=(width, part.size[1], part.size[2]),
                volume_mm3=part.volume_mm3 / halves,
                mass_g=part.mass_g / halves,
                time_s=part.time_s / halves,
            )

    def place(self, part: KitPart, space: str, label: str, matrix: Matrix) -> str:
        """Put a part in its place."""
        key = f"{space}-{len(self.placements):03d}"
        self.placements.append(
            Placement.model_validate(
                {
                    "id": key,
                    "part": part.id,
                    "space": space,
                    "label": label,
                    "space_from_part": matrix,
                    "stands_on": (),
                }
            )
        )
        for name, piece in self.pieces.items():
            if piece.part == part.id:
                self.pieces[name] = piece.model_copy(update={"count": piece.count + 1})
        return key

    def seat(self, nook: Nook, origin: tuple[float, float], seat: Seat) -> None:
        """Place a tray with its things."""
        cells = (seat.rows, seat.cols) if seat.turned else (seat.cols, seat.rows)
        size = (cells[0] * PITCH - 0.6, cells[1] * PITCH - 0.6, float(seat.height))
        part = self.part(seat.kind, size, seat.material)
        x, y = origin[0] + seat.col * PITCH + 0.3, origin[1] + seat.row * PITCH + 0.3
        matrix = quarter(x + size[1], y, 0.6) if seat.turned else shift(x, y, 0.6)
        key = self.place(part, nook.id, seat.label, matrix)
        columns, rows = seat.things
        step = size[0] / max(columns, 1), size[1] / max(rows, 1)
        thing = (step[0] * 0.8, step[1] * 0.8, seat.height * 0.9)
        if seat.is_round:
            thing = (min(thing[:2]), min(thing[:2]), thing[2])
        at = tuple((step[0] * (i + 0.5), step[1] * (j + 0.5), 1.0) for j in range(rows) for i in range(columns))
        place = LotPlace(
            placement=key,
            part=part.id,
            count=max(len(at), 7),
            stance="upright",
            size=thing,
            round_axis="z" if seat.is_round else "",
            at=at,
        )
        number = len(self.lots)
        self.lots.append(
            KitLot(
                id=f"lot-{number}",
                name=seat.label,
                count=place.count,
                mass_g=12.5 * place.count,
                places=(place,),
            )
        )


def space(maker: Maker, nook: Nook) -> KitSpace:
    """Fit out one space: panels, fillers, seats."""
    cols, rows = int(nook.width // PITCH), int(nook.depth // PITCH)
    rest = nook.width - cols * PITCH, nook.depth - rows * PITCH
    origin = rest[0] / 2, rest[1] / 2
    first = len(maker.placements)
    step = 11
    for number, (col, row) in enumerate((c, r) for r in range(0, rows, step) for c in range(0, cols, step)):
        size = (min(step, cols - col) * PITCH - 0.4, min(step, rows - row) * PITCH - 0.4, 3.6)
        matrix = shift(origin[0] + col * PITCH + 0.2, origin[1] + row * PITCH + 0.2)
        maker.place(maker.part("panel", size, "slate"), nook.id, f"panel {number + 1}", matrix)
    if rest[0] >= 4:
        long = maker.part("filler", (rest[0] / 2 - 0.3, nook.depth - 1, 3.0), "slate")
        maker.place(long, nook.id, "left filler", shift(0.2, 0.5))
        maker.place(long, nook.id, "right filler", shift(nook.width - rest[0] / 2 + 0.1, 0.5))
    if rest[1] >= 4:
        short = maker.part("filler", (nook.width - rest[0] - 1, rest[1] / 2 - 0.3, 3.0), "slate")
        maker.place(short, nook.id, "back filler", shift(rest[0] / 2 + 0.5, nook.depth - rest[1] / 2))
    for seat in nook.seats:
        maker.seat(nook, origin, seat)
    placed = [one.part for one in maker.placements[first:]]
    mass_g = sum(maker.parts[one].mass_g for one in placed)
    rim = nook.rim or (nook.width, nook.depth)
    return KitSpace(
        id=nook.id,
        name=nook.name,
        kind=nook.kind,
        usable=(
            UsableAt(z=0, width=nook.width, depth=nook.depth),
            UsableAt(z=nook.height, width=rim[0], depth=rim[1]),
        ),
        height=nook.height,
        corner_radius=4.0,
        blocked=nook.blocked,
        cell_origin=origin,
        cols=cols,
        rows=rows,
        blocked_cells=(),
        mass_g=mass_g,
        time_s=mass_g * TIME_PER_G_S,
        budget_g=round(nook.width * nook.depth / 500, 1),
        load_g=mass_g + 2400,
        load_limit_g=12000,
    )


def bedfuls(maker: Maker) -> tuple[Bedful, ...]:
    """One bedful for every four copies, printer by printer."""
    copies = [key for key, piece in sorted(maker.pieces.items()) for _ in range(piece.count)]
    beds: list[Bedful] = []
    by_material = {name: [one for one in copies if maker.pieces[one].material == name] for name in COLOURS}
    for material, keys in by_material.items():
        for start in range(0, len(keys), 4):
            load = keys[start : start + 4]
            number = len(beds) + 1
            beds.append(
                Bedful(
                    id=f"bed-{number:02d}",
                    printer="small" if number % 2 else "large",
                    material=material,
                    colour=COLOURS[material],
                    file=f"bedfuls/bed-{number:02d}_{material}.3mf",
                    model_sha256=digest(str(number)),
                    time_s=sum(maker.pieces[key].time_s for key in load),
                    mass_g=sum(maker.pieces[key].mass_g for key in load),
                    items=tuple(BedItem(piece=key, bed_from_piece=shift(5, 5 + 40 * n)) for n, key in enumerate(load)),
                )
            )
    return tuple(beds)


FINDINGS = (
    KitFinding(
        code="lot-left-out",
        severity=Severity.STOP,
        subject="track-pump",
        text="The track pump (620 long) fits no space; the longest usable inside is 560.",
        remedy="Survey a longer space or hang it on a wall.",
    ),
    KitFinding(
        code="blade-in-tray",
        severity=Severity.WARN,
        subject="bread-knife",
        text="The bread knife lies in a plain tray; its blade is not covered.",
        remedy="Put a sheath on it.",
    ),
    KitFinding(
        code="not-food-safe",
        severity=Severity.NOTE,
        subject="tea-drawer",
        text="A print is not food-safe by itself: its grooves hold moisture.",
        remedy="Keep food in its own wrapping.",
    ),
)


def module_row(pitch: float, judged_g: float) -> KitModuleRow:
    """A pitch that was judged; its figures are invented."""
    return KitModuleRow(
        pitch=pitch,
        rise=6.0,
        edge_dm2=4.2,
        inside_dm2=13.1,
        mass_g=800.0,
        time_s=180_000.0,
        parts=21,
        dead=2.5,
        homeless=0,
        judged_g=judged_g,
    )


def kit_of(nooks: tuple[Nook, ...], *, room: str = "Sewing room (invented)") -> Kit:
    """A whole kit with these spaces."""
    maker = Maker()
    spaces = tuple(space(maker, nook) for nook in nooks)
    beds = bedfuls(maker)
    mass_g = sum(bed.mass_g for bed in beds)
    area_dm2 = sum(nook.width * nook.depth for nook in nooks) / 10_000
    used = {name: sum(bed.mass_g for bed in beds if bed.material == name) for name in COLOURS}
    return Kit(
        version="0.1.0",
        room=room,
        room_sha256=digest(room),
        module=KitModule(
            pitch=PITCH,
            rise=6.0,
            chosen="18 loses the least of the candidates.",
            pitches=(module_row(PITCH, 900.0), module_row(19.0, 1100.0)),
        ),
        savings=(
            KitSaving(
                text="Sparse liner",
                mass_g=93.4,
                time_s=21600.0,
                gives_up="Narrow parts stand loose.",
                toml='[choices]\nliner = "sparse"',
            ),
        ),
        spaces=spaces,
        lots=tuple(maker.lots),
        parts=tuple(maker.parts.values()),
        placements=tuple(maker.placements),
        orders=(),
        pieces=tuple(maker.pieces.values()),
        printers=(
            KitPrinter(id="small", name="small printer", bed=(180, 180, 180), margin=5, layer=0.2),
            KitPrinter(id="large", name="large printer", bed=(256, 256, 256), margin=5, layer=0.2),
        ),
        materials=tuple(
            KitMaterial(
                id=name,
                name=f"PLA {name}",
                colour=COLOURS[name],
                mass_g=mass,
                price=mass * PRICE_PER_G,
                spools=1,
            )
            for name, mass in used.items()
        ),
        bedfuls=beds,
        findings=FINDINGS,
        totals=Totals(
            spaces=len(spaces),
            lots=len(maker.lots) + 1,
            lots_placed=len(maker.lots),
            parts=len(maker.placements),
            pieces=sum(piece.count for piece in maker.pieces.values()),
            bedfuls=len(beds),
            mass_g=mass_g,
            time_s=sum(bed.time_s for bed in beds),
            area_dm2=area_dm2,
            g_per_dm2=mass_g / area_dm2,
            price=mass_g * PRICE_PER_G,
        ),
        layout=KitLayout(
            style="calm",
            tightest_total=880.0,
            arrangement=(CostPart(name="edges", value=12.0),),
            tightest=(CostPart(name="edges", value=88.5),),
            calm_dm2=2.5,
            calm_g=-14.0,
            spaces=(
                KitSpaceLayout(
                    space=nooks[0].id, calm=True, calm_dm2=2.5, calm_g=-14.0, worth_per_dm2=0.0, worth_per_kg=0.0
                ),
            ),
            cost=(CostPart(name="footprint", value=812.0), CostPart(name="reach", value=96.5)),
            total=908.5,
            bound=861.0,
            gap=(908.5 - 861.0) / 861.0,
            proven=True,
            by_clock=False,
            seed=1,
            iterations=4000,
        ),
    )


BENCH = Nook(
    "bench-left",
    "Bench drawer, left",
    362.4,
    288.0,
    74.0,
    (
        Seat(0, 0, 6, 8, "scissors, dressmaker's", things=(1, 2)),
        Seat(6, 0, 4, 4, "thread reels", kind="cradle", things=(3, 3), is_round=True, material="amber"),
        Seat(10, 0, 10, 4, "rulers and curves", turned=False, height=30, things=(1, 3)),
        Seat(6, 4, 2, 2, "hooks"),
        Seat(8, 4, 2, 2, "eyes"),
        Seat(6, 6, 2, 2, "press studs"),
        Seat(8, 6, 2, 2, "buckles & <rings>"),
        Seat(14, 4, 5, 6, "bias binding", turned=True, material="slate", things=(2, 2)),
        Seat(0, 8, 14, 3, "knitting needles 3 to 8", height=24, things=(1, 4)),
    ),
    (BlockedBox(reason="waste pipe", service=True, low=(270, 190, 0), high=(362.4, 288, 74)),),
)
TEA = Nook(
    "tea-drawer",
    "Wide drawer <tea & cake>",
    560.0,
    402.0,
    110.0,
    (
        Seat(0, 0, 8, 14, "cutlery", things=(3, 1), height=54),
        Seat(8, 0, 8, 8, "cups, large", kind="cradle", things=(2, 2), is_round=True, height=60),
        Seat(16, 0, 14, 5, "ladles and long spoons", height=54, things=(1, 5)),
        Seat(16, 5, 5, 5, "tea, loose"),
        Seat(21, 5, 5, 5, "=HYPERLINK sugar"),
        Seat(26, 5, 4, 5, "straws", turned=True),
    ),
    rim=(556.0, 400.0),
)


def dense_nook(seed: int, *, width: float = 860.0, depth: float = 460.0, most: int = 60) -> Nook:
    """A wide drawer crowded with trays of many sizes, down to 35 by 35, none overlapping."""
    dice = random.Random(seed)  # noqa: S311 - a drawer, not a key
    cols, rows = int(width // PITCH), int(depth // PITCH)
    taken: set[tuple[int, int]] = set()
    seats: list[Seat] = []
    words = (
        "hex keys",
        "M5 nuts",
        "batteries R6",
        "patches",
        "cable reels",
        "chalk",
        "spare bulbs, small",
        "pens",
    )
    for row in range(rows):
        for col in range(cols):
            if (col, row) in taken or len(seats) >= most:
                continue
            wide, deep = dice.choice(((2, 2), (2, 4), (4, 4), (6, 4), (8, 6), (3, 8), (12, 5), (2, 2), (16, 3)))
            cells = {(col + i, row + j) for i in range(wide) for j in range(deep)}
            if cells & taken or col + wide > cols or row + deep > rows:
                continue
            taken |= cells
            things = dice.choice(((0, 0), (1, 1), (3, 2), (2, 4)))
            material = dice.choice(tuple(COLOURS))
            label = f"{dice.choice(words)} {len(seats) + 1}"
            seats.append(
                Seat(
                    col,
                    row,
                    wide,
                    deep,
                    label,
                    things=things,
                    is_round=dice.random() < 0.5,
                    material=material,
                )
            )
    return Nook("wide", "Wide drawer, crowded", width, depth, 90.0, tuple(seats))


@pytest.fixture(scope="session")
def kit() -> Kit:
    """Two spaces of an invented sewing room."""
    return kit_of((BENCH, TEA))


@pytest.fixture(scope="session")
def dense() -> Kit:
    """One crowded wide drawer."""
    return kit_of((dense_nook(1),))


@pytest.fixture(scope="session")
def crowded() -> Callable[..., Kit]:
    """Makes a crowded drawer of any size."""

    def make(seed: int, *, width: float = 860.0, depth: float = 460.0, most: int = 60) -> Kit:
        return kit_of((dense_nook(seed, width=width, depth=depth, most=most),))

    return make


@dataclass(frozen=True)
class Lettered:
    """A text read back from a drawing, with the box that it takes at most."""

    content: str
    box: Box
    group: str


@dataclass(frozen=True)
class Drawn:
    """A drawing read back: its root, its texts, its rings, its rectangles by class."""

    root: ET.Element
    texts: tuple[Lettered, ...]
    rings: tuple[Box, ...]
    rects: dict[str, list[Box]]


def read_back(text: str) -> Drawn:
    """Read a drawing again, with none of the code that wrote it but the table of letter widths."""
    root = ET.fromstring(text)  # noqa: S314 - our own file
    texts, rings = [], []
    rects: dict[str, list[Box]] = {}
    for group in root:
        for element in (group, *group):
            tag = element.tag.removeprefix(SVG)
            if tag == "text":
                texts.append(Lettered(element.text or "", text_box(element), group.get("class", "")))
            if tag == "circle" and group.get("class") != "parts" and float(element.get("r", "0")) > 1:
                x, y, r = (float(element.get(key, "0")) for key in ("cx", "cy", "r"))
                rings.append(Box(x - r, y - r, 2 * r, 2 * r))
            if tag == "rect":
                x, y, wide, high = (float(element.get(key, "0")) for key in ("x", "y", "width", "height"))
                rects.setdefault(element.get("class", ""), []).append(Box(x, y, wide, high))
    return Drawn(root, tuple(texts), tuple(rings), rects)


def text_box(element: ET.Element) -> Box:
    """The box of a text from its attributes."""
    x, y, size = (float(element.get(key, "0")) for key in ("x", "y", "font-size"))
    wide = lettering.width(element.text or "", size, bold=element.get("font-weight") == "bold")
    shift_by = {"start": 0.0, "middle": wide / 2, "end": wide}[element.get("text-anchor", "start")]
    up, down = 0.74 * size, 0.22 * size  # capitals and lowest letters, a little tighter than what is laid out
    if element.get("transform"):
        return Box(x - up, y + shift_by - wide, up + down, wide)
    return Box(x - shift_by, y - up, wide, up + down)


@pytest.fixture(scope="session")
def drawn() -> Callable[[str], Drawn]:
    """Reads a drawing again."""
    return read_back


@pytest.fixture(scope="session")
def make_kit() -> Callable[..., Kit]:
    """Makes a kit of spaces that a test describes: (id, name, width, depth, height, seats)."""

    def make(width: float, depth: float, seats: list[tuple[int, int, int, int, str]], **more: object) -> Kit:
        placed = tuple(Seat(*seat, things=(2, 1)) for seat in seats)
        name = str(more.get("name", "Some drawer"))
        blocked = more.get("blocked", ())
        assert isinstance(blocked, tuple)
        return kit_of((Nook("some", name, width, depth, 80.0, placed, blocked),), room=str(more.get("room", "Room")))

    return make
