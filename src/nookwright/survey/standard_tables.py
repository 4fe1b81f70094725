"""The published sizes themselves: batteries, hex keys, paper, cards, slides, packaging modules, pans, dowels, coins.

Each group names its document once. Where a document gives limits, both stand here; a tolerance from memory is said so.
"""

from __future__ import annotations

import math

from nookwright.ground.sources import Fact, Kind
from nookwright.survey.models import Shape
from nookwright.survey.standard_size import Limits, StandardSize, Sureness

STEEL_G_CM3 = Fact(
    7.85,
    unit="g/cm3",
    kind=Kind.STANDARD,
    source="EN 1991-1-1 table A.4: steel 77 to 78.5 kN/m3, that is 7.85 to 8.0 g/cm3.",
)
GLASS_G_CM3 = Fact(
    2.55,
    unit="g/cm3",
    kind=Kind.STANDARD,
    source="EN 1991-1-1 table A.5: glass in sheets 25 kN/m3, that is 2.55 g/cm3.",
)
PAPER_G_M2 = Fact(80.0, unit="g/m2", kind=Kind.COMMON_PRACTICE, source="The usual office paper.")
PAPER_THICKNESS = Fact(
    0.11,
    unit="mm",
    kind=Kind.MEMORY,
    source="Office paper of 80 g/m2 is about 0.1 thick; a tenth more for loose stacks.",
)
SMALL_SHEET = Fact(
    150.0, unit="mm", kind=Kind.MEMORY, source="ISO 216: up to this a side may be off by 1.5, above it by 2."
)
CARD_MASS_G = Fact(5.2, unit="g", kind=Kind.MEMORY, source="A plastic card of 0.76 at about 1.4 g/cm3, rounded up.")
BEECH_G_CM3 = Fact(0.72, unit="g/cm3", kind=Kind.MEMORY, source="Beech, air dry: 0.68 to 0.75.")
DOWEL_OFF = Fact(
    0.13, unit="mm", kind=Kind.HANDBOOK, source="A dowel mill's data page: diameters differ by 0.13 either way."
)
DOWEL_SHORT_BY = Fact(
    0.8, unit="mm", kind=Kind.HANDBOOK, source="The same page: lengths 0 and -0.8, converted from its inches."
)
MM3_PER_CM3 = Fact(1000.0, unit="mm3/cm3", kind=Kind.CALCULATED, source="10 x 10 x 10.")
MM2_PER_M2 = Fact(1e6, unit="mm2/m2", kind=Kind.CALCULATED, source="1000 x 1000.")

_MEMORY_MASS = "from memory: the usual mass of one, rounded up"


def _battery(
    name: str,
    what: str,
    diameter: Limits,
    height: Limits,
    mass_g: float,
    *aliases: str,
    sureness: Sureness = Sureness.PRIMARY,
) -> StandardSize:
    """A round cell."""
    source = "IEC 60086-2 by way of Linden's Handbook of Batteries, table 4.9a"
    return StandardSize(name, what, Shape.ROUND, (diameter, height), source, sureness, mass_g, _MEMORY_MASS, aliases)


BATTERIES = (
    _battery("R03", "battery AAA", Limits(10.5, 9.5), Limits(44.5, 43.3), 12.0, "AAA", "LR03"),
    _battery("R6", "battery AA", Limits(14.5, 13.5), Limits(50.5, 49.2), 24.0, "AA", "LR6"),
    _battery("R14", "battery C", Limits(26.2, 24.9), Limits(50.0, 48.6), 70.0, "LR14"),
    _battery("R20", "battery D", Limits(34.2, 32.3), Limits(61.5, 59.5), 145.0, "LR20"),
    _battery("R1", "battery N", Limits(12.0, 10.9), Limits(30.2, 29.1), 10.0, "LR1"),
    _battery("LR44", "button cell 11.6 x 5.4", Limits(11.6, 11.25), Limits(5.4, 5.0), 2.4, "R44"),
    _battery("LR54", "button cell 11.6 x 3.05", Limits(11.6, 11.25), Limits(3.05, 2.75), 1.5, "R54"),
    StandardSize(
        "CR2032",
        "coin cell 20 x 3.2",
        Shape.ROUND,
        (Limits(20.0), Limits(3.2)),
        "IEC 60086: the designation states the largest diameter and height",
        Sureness.SEVERAL,
        3.2,
        _MEMORY_MASS,
    ),
    StandardSize(
        "6LR61",
        "battery 9 V",
        Shape.BOX,
        (Limits(26.5), Limits(17.5), Limits(48.5)),
        "IEC 60086-2; the largest height is from memory, a dealer's table gives 48 as nominal",
        Sureness.MEMORY,
        50.0,
        _MEMORY_MASS,
        ("6F22", "9V"),
    ),
    StandardSize(
        "18650",
        "lithium cell 18 x 65, without protection circuit",
        Shape.ROUND,
        (Limits(18.2, 17.8), Limits(65.5, 64.5)),
        "IEC 61960 naming; three suppliers' pages: 18.0 and 65.0, 0.2 and 0.5 either way",
        Sureness.SEVERAL,
        50.0,
        _MEMORY_MASS,
    ),
)


HEX_KEY_SHORT_BY = Fact(
    2.0, unit="mm", kind=Kind.STANDARD, source="ISO 2936 by way of JIS B 4648:2008: a key's short arm, 0 and -2."
)
# The long arm may be shorter by this, for sizes up to the first figure; the same excerpt.
_HEX_KEY_LONG_BY = ((2.0, 2.0), (5.0, 4.0), (12.0, 6.0))


def _hex_key(
    across_flats: float, arms: tuple[float, float, float], short: float, corners: float
) -> tuple[StandardSize, ...]:
    """A hexagon key in its three lengths, as the box that it lies in."""
    area = math.sqrt(3) / 2 * across_flats**2
    short_by, long_by = HEX_KEY_SHORT_BY, next(by for up_to, by in _HEX_KEY_LONG_BY if across_flats <= up_to)
    return tuple(
        StandardSize(
            f"hex key {across_flats:g}{suffix}",
            f"hexagon key, {across_flats:g} across flats, {words}",
            Shape.BOX,
            (Limits(arm, arm - long_by), Limits(short, short - short_by), Limits(corners)),
            "ISO 2936:2014 by way of two equal tables, the arms' tolerances of one of them; across corners largest, or "
            "the calculated sharp corner",
            Sureness.SEVERAL,
            round(area * (arm + short) * STEEL_G_CM3 / MM3_PER_CM3, 1),
            "calculated: hexagon times both arms, steel",
        )
        for arm, suffix, words in zip(arms, ("", " M", " L"), ("standard", "long", "extra long"), strict=True)
    )


HEX_KEYS = (
    *_hex_key(1.5, (46.5, 63.5, 91.5), 15.5, 1.74),
    *_hex_key(2, (52, 77, 102), 18, 2.25),
    *_hex_key(2.5, (58.5, 87.5, 114.5), 20.5, 2.82),
    *_hex_key(3, (66, 93, 129), 23, 3.39),
    *_hex_key(4, (74, 104, 144), 29, 4.53),
    *_hex_key(5, (85, 120, 165), 33, 5.67),
    *_hex_key(6, (96, 141, 186), 38, 6.81),
    *_hex_key(8, (108, 158, 208), 44, 9.09),
    *_hex_key(10, (122, 180, 234), 50, 11.37),
)


def _paper(name: str, long: float, short: float) -> StandardSize:
    """A sheet of office paper, at the largest size that its tolerance allows."""
    tolerance = [2.0 if side > SMALL_SHEET else 1.5 for side in (long, short)]
    width, depth = (Limits(side + t, side - t) for side, t in zip((long, short), tolerance, strict=True))
    return StandardSize(
        name,
        f"sheet of office paper {long:g} x {short:g}",
        Shape.FLAT,
        (width, depth, Limits(float(PAPER_THICKNESS))),
        "ISO 216; its tolerances (1.5 to 150, 2 to 600) and the thickness of 80 g/m2 paper are from memory",
        Sureness.CALCULATED,
        round(long * short * PAPER_G_M2 / MM2_PER_M2, 2),
        "calculated: 80 g/m2",
    )


PAPER = (
    _paper("A3", 420, 297),
    _paper("A4", 297, 210),
    _paper("A5", 210, 148),
    _paper("A6", 148, 105),
    _paper("A7", 105, 74),
)

FLAT_THINGS = (
    StandardSize(
        "ID-1",
        "plastic card",
        Shape.FLAT,
        (Limits(85.60), Limits(53.98), Limits(0.84, 0.68)),
        "ISO/IEC 7810, two sources",
        Sureness.SEVERAL,
        float(CARD_MASS_G),
        _MEMORY_MASS,
    ),
    StandardSize(
        "microscope slide",
        "glass slide 76 x 26",
        Shape.FLAT,
        (Limits(76.0), Limits(26.0), Limits(1.5, 1.0)),
        "ISO 8037-1 by way of an encyclopedia and a supplier",
        Sureness.SEVERAL,
        round(76 * 26 * 1.5 * GLASS_G_CM3 / MM3_PER_CM3, 1),
        "calculated: glass at its largest thickness",
    ),
)


def _packaging(width: float, depth: float) -> StandardSize:
    """A box on a packaging module; its height and its mass are the lot's own."""
    return StandardSize(
        f"{width:g}x{depth:g}",
        f"box on the packaging module {width:g} x {depth:g}",
        Shape.BOX,
        (Limits(width), Limits(depth), None),
        "ISO 3394: 600 x 400 read in its abstract, the parts of it from memory",
        Sureness.PRIMARY if (width, depth) == (600, 400) else Sureness.MEMORY,
    )


PACKAGING = tuple(
    _packaging(width, depth)
    for width, depth in ((600, 400), (400, 300), (300, 200), (200, 150), (600, 200), (300, 133))
)


def _pan(part: str, width: float, depth: float, sureness: Sureness = Sureness.SINGLE) -> StandardSize:
    """A catering pan by its outer size; its depth and its mass are the lot's own."""
    return StandardSize(
        f"GN {part}",
        f"catering pan {part}, {width:g} x {depth:g} over its rim",
        Shape.BOX,
        (Limits(width), Limits(depth), None),
        "EN 631-1 by way of a maker of kitchen equipment; only the outer size is standard",
        sureness,
    )


PANS = (
    _pan("2/1", 650, 530),
    _pan("1/1", 530, 325, Sureness.SEVERAL),
    _pan("2/3", 354, 325),
    _pan("1/2", 325, 265),
    _pan("1/3", 325, 176),
    _pan("1/4", 265, 162),
    _pan("2/4", 530, 162),
    _pan("1/6", 176, 162),
    _pan("1/9", 176, 108, Sureness.MEMORY),
)


def _dowel(diameter: float, length: float) -> StandardSize:
    """A dowel pin of wood, lying or standing."""
    volume = math.pi * diameter**2 / 4 * length
    return StandardSize(
        f"dowel {diameter:g}x{length:g}",
        f"wood dowel pin, {diameter:g} x {length:g}",
        Shape.ROUND,
        (Limits(diameter + DOWEL_OFF, diameter - DOWEL_OFF), Limits(length, length - DOWEL_SHORT_BY)),
        "diameters of the trade and tolerances by a dowel mill's data page; lengths (DIN 68150) from memory",
        Sureness.MEMORY,
        round(volume * BEECH_G_CM3 / MM3_PER_CM3, 2),
        "calculated: a cylinder of beech",
    )


DOWELS = tuple(_dowel(*sizes) for sizes in ((6, 30), (6, 40), (8, 30), (8, 40), (10, 40), (10, 50), (12, 60)))


def _coin(name: str, diameter: float, thickness: float, mass_g: float) -> StandardSize:
    """A euro coin."""
    source = "Council Regulation (EC) 975/98; thickness by two coin pages"
    limits = (Limits(diameter), Limits(thickness))
    return StandardSize(
        name, f"coin {name}", Shape.ROUND, limits, source, Sureness.SEVERAL, mass_g, "Regulation (EC) 975/98"
    )


COINS = (
    _coin("1 cent", 16.25, 1.67, 2.30),
    _coin("2 cent", 18.75, 1.67, 3.06),
    _coin("5 cent", 21.25, 1.67, 3.92),
    _coin("10 cent", 19.75, 1.93, 4.10),
    _coin("20 cent", 22.25, 2.14, 5.74),
    _coin("50 cent", 24.25, 2.38, 7.80),
    _coin("1 euro", 23.25, 2.33, 7.50),
    _coin("2 euro", 25.75, 2.20, 8.50),
)

TABLES = (*BATTERIES, *HEX_KEYS, *PAPER, *FLAT_THINGS, *PACKAGING, *PANS, *DOWELS, *COINS)
