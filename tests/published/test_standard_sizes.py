"""Published sizes against the figures of the documents cited beside each check.

The figures were written down from the sources, independently of the tables in the program. Where only limits are
published, both are checked.
"""

from __future__ import annotations

import math

import pytest

from nookwright.survey.standards import Limits, StandardSize, find_standard


def size_of(designation: str) -> StandardSize:
    """The thing of a designation that must be known."""
    size = find_standard(designation)
    assert size is not None, designation
    return size


@pytest.mark.parametrize(
    ("designation", "diameter", "height"),
    [
        ("R03", (9.5, 10.5), (43.3, 44.5)),
        ("R6", (13.5, 14.5), (49.2, 50.5)),
        ("R14", (24.9, 26.2), (48.6, 50.0)),
        ("R20", (32.3, 34.2), (59.5, 61.5)),
        ("R1", (10.9, 12.0), (29.1, 30.2)),
        ("R44", (11.25, 11.6), (5.0, 5.4)),
        ("R54", (11.25, 11.6), (2.75, 3.05)),
    ],
)
def test_round_cells_by_iec_60086(designation: str, diameter: tuple[float, float], height: tuple[float, float]) -> None:
    """IEC 60086-2, as printed in Linden's Handbook of Batteries, table 4.9a: smallest and largest."""
    found = size_of(designation).dimensions
    assert (found["diameter"].smallest, found["diameter"].largest) == diameter
    assert (found["height"].smallest, found["height"].largest) == height


@pytest.mark.parametrize(("designation", "diameter", "height"), [("CR2032", 20.0, 3.2), ("18650", 18.2, 65.5)])
def test_lithium_cells_by_their_designation(designation: str, diameter: float, height: float) -> None:
    """IEC 60086 (the code states the largest sizes); IEC 61960 naming with 18.0 +- 0.2 and 65.0 +- 0.5 of suppliers."""
    found = size_of(designation).dimensions
    assert (found["diameter"].largest, found["height"].largest) == (diameter, height)


def test_the_nine_volt_battery() -> None:
    """IEC 60086-2, 6LR61: at most 26.5 x 17.5 x 48.5 (the last figure from memory; a dealer's table says 48)."""
    assert size_of("6LR61").limits == (Limits(26.5), Limits(17.5), Limits(48.5))


@pytest.mark.parametrize(
    ("flats", "arms", "short", "corners"),
    [
        ("2", (52, 77, 102), 18, 2.25),
        ("2.5", (58.5, 87.5, 114.5), 20.5, 2.82),
        ("3", (66, 93, 129), 23, 3.39),
        ("4", (74, 104, 144), 29, 4.53),
        ("5", (85, 120, 165), 33, 5.67),
        ("6", (96, 141, 186), 38, 6.81),
        ("8", (108, 158, 208), 44, 9.09),
        ("10", (122, 180, 234), 50, 11.37),
    ],
)
def test_hexagon_keys_by_iso_2936(flats: str, arms: tuple[float, ...], short: float, corners: float) -> None:
    """ISO 2936:2014 by way of the excerpt in JIS B 4648:2008: both arms (0 above) and the largest across corners."""
    for arm, suffix in zip(arms, ("", " M", " L"), strict=True):
        found = size_of(f"hex key {flats}{suffix}").dimensions
        assert [found[side].largest for side in ("width", "depth", "height")] == [arm, short, corners]
        # Sharp corners would be s / cos 30; real ones are a little rounded, so the figure lies just below.
        assert 0.97 < found["height"].largest / (float(flats) / math.cos(math.pi / 6)) <= 1


@pytest.mark.parametrize(
    ("flats", "long", "short"), [("2", (50, 52), (16, 18)), ("5", (81, 85), (31, 33)), ("8", (102, 108), (42, 44))]
)
def test_limits_of_hexagon_keys(flats: str, long: tuple[float, float], short: tuple[float, float]) -> None:
    """ISO 2936 by way of JIS B 4648:2008: short arm 0/-2; long arm 0/-2 up to 2, 0/-4 from 2.5 to 5, 0/-6 above."""
    found = size_of(f"hex key {flats}").dimensions
    assert (found["width"].smallest, found["width"].largest) == long
    assert (found["depth"].smallest, found["depth"].largest) == short


@pytest.mark.parametrize(
    ("part", "sides"),
    [("1/1", (530, 325)), ("1/2", (325, 265)), ("1/3", (325, 176)), ("1/4", (265, 162)), ("1/6", (176, 162))],
)
def test_catering_pans_by_en_631(part: str, sides: tuple[float, float]) -> None:
    """EN 631-1 by way of a maker's page: footprints; they tile the whole pan with a gap of a few mm."""
    found = size_of(f"GN {part}").dimensions
    assert (found["width"].largest, found["depth"].largest) == sides
    assert "height" not in found
    whole, pieces = 530 * 325, int(part[-1])
    assert 0.97 * whole < pieces * sides[0] * sides[1] <= whole


def test_wood_dowels() -> None:
    """A dowel mill's data page: diameter 0.13 either way, length 0 and -0.8; diameters 6, 8, 10, 12 of the trade."""
    found = size_of("dowel 8x40").dimensions
    assert (found["diameter"].smallest, found["diameter"].largest) == (7.87, 8.13)
    assert (found["height"].smallest, found["height"].largest) == (39.2, 40)


def test_the_smallest_hexagon_key_uses_the_sharp_corner() -> None:
    """ISO 2936:2014: 46.5, 63.5, 91.5 and 15.5; across corners is not published there: 1.5 / cos 30 = 1.732."""
    found = size_of("hex key 1.5").dimensions
    assert (found["width"].largest, found["depth"].largest) == (46.5, 15.5)
    assert found["height"].largest == pytest.approx(1.5 / math.cos(math.pi / 6), abs=0.01)
    assert size_of("hex key 1.5 M").dimensions["width"].largest == 63.5
    assert size_of("hex key 1.5 L").dimensions["width"].largest == 91.5


def halved(times: int) -> tuple[int, int]:
    """A sheet of the A series: A0 is 841 x 1189, each next one has the longer side halved and rounded down."""
    short, long = 841, 1189
    for _ in range(times):
        short, long = long // 2, short
    return long, short


@pytest.mark.parametrize("number", [3, 4, 5, 6, 7])
def test_paper_by_iso_216(number: int) -> None:
    """ISO 216: the series by halving; tolerances (from memory) 1.5 up to 150 and 2 up to 600."""
    found = size_of(f"A{number}").dimensions
    for side, nominal in zip(("width", "depth"), halved(number), strict=True):
        tolerance = 1.5 if nominal <= 150 else 2.0
        assert (found[side].smallest, found[side].largest) == (nominal - tolerance, nominal + tolerance)


def test_a_sheet_of_office_paper_weighs_80_g_m2() -> None:
    """A4 of 80 g/m2: 0.210 x 0.297 x 80 = 4.99 g."""
    assert size_of("A4").mass_g == pytest.approx(0.210 * 0.297 * 80, abs=0.005)


def test_the_plastic_card_by_iso_7810() -> None:
    """ISO/IEC 7810, ID-1: 85.60 x 53.98, thickness 0.68 to 0.84."""
    assert size_of("ID-1").limits == (Limits(85.60), Limits(53.98), Limits(0.84, 0.68))


def test_the_microscope_slide_by_iso_8037() -> None:
    """ISO 8037-1: 76 x 26, thickness 1 to 1.5; in glass of 25 kN/m3 (EN 1991-1-1 table A.5) about 7.5 g."""
    slide = size_of("microscope slide")
    assert slide.limits == (Limits(76.0), Limits(26.0), Limits(1.5, 1.0))
    assert slide.mass_g == pytest.approx(76 * 26 * 1.5 * 25 / 9.80665 / 1000, abs=0.1)


HEADS: dict[str, dict[int, tuple[float, float]]] = {
    # ISO 4762, socket head: largest head diameter, head height
    "ISO 4762": {3: (5.5, 3), 4: (7, 4), 5: (8.5, 5), 6: (10, 6), 8: (13, 8)},
    # ISO 7380-1, button head
    "ISO 7380": {3: (5.7, 1.65), 4: (7.6, 2.2), 5: (9.5, 2.75), 6: (10.5, 3.3), 8: (14, 4.4)},
    # ISO 10642, countersunk: theoretical diameter; the head lies within the length
    "ISO 10642": {3: (6.72, 0), 4: (8.96, 0), 5: (11.2, 0), 6: (13.44, 0), 8: (17.92, 0)},
    # ISO 7045, pan head
    "ISO 7045": {3: (5.6, 2.4), 4: (8, 3.1), 5: (9.5, 3.7), 6: (12, 4.6)},
}


@pytest.mark.parametrize("standard", HEADS)
def test_screws_by_their_standards(standard: str) -> None:
    """ISO 4762, 7380-1, 10642, 7045 by way of an open fastener table: head and length."""
    for thread, (diameter, head) in HEADS[standard].items():
        found = size_of(f"M{thread}x20 {standard}").dimensions
        assert found["diameter"].largest == diameter
        assert found["height"].largest == pytest.approx(head + 20)


def test_a_screw_weighs_what_its_solids_weigh() -> None:
    """M5 x 16 ISO 4762 in steel of 7.85: a disc of 8.5 x 5 and a rod of 5 x 16, together 4.69 g."""
    volume = math.pi * 4.25**2 * 5 + math.pi * 2.5**2 * 16
    assert size_of("M5x16 ISO 4762").mass_g == pytest.approx(volume * 7.85e-3, abs=0.005)


@pytest.mark.parametrize(
    ("thread", "flats", "height", "least_corners"),
    [(3, 5.5, 2.4, 6.01), (4, 7, 3.2, 7.66), (5, 8, 4.7, 8.79), (6, 10, 5.2, 11.05), (8, 13, 6.8, 14.38)],
)
def test_nuts_by_iso_4032(thread: int, flats: float, height: float, least_corners: float) -> None:
    """ISO 4032: across flats, largest height; the circle is about the sharp corners, beyond the least e."""
    found = size_of(f"M{thread} ISO 4032").dimensions
    assert found["height"].largest == height
    assert found["diameter"].largest == pytest.approx(2 * flats / math.sqrt(3), abs=0.005)
    assert found["diameter"].largest > least_corners


@pytest.mark.parametrize(
    ("thread", "outside", "thickness"), [(3, 7, 0.5), (4, 9, 0.8), (5, 10, 1), (6, 12, 1.6), (8, 16, 1.6)]
)
def test_washers_by_iso_7089(thread: int, outside: float, thickness: float) -> None:
    """ISO 7089 by way of an open fastener table: outside diameter and thickness."""
    assert size_of(f"M{thread} ISO 7089").limits == (Limits(outside), Limits(thickness))


@pytest.mark.parametrize("module", ["600x400", "400x300", "300x200", "200x150", "600x200", "300x133"])
def test_packaging_modules_by_iso_3394(module: str) -> None:
    """ISO 3394:2012: 600 x 400 in its abstract, the parts of it from memory; the height is free."""
    width, depth = map(float, module.split("x"))
    size = size_of(module)
    assert size.limits == (Limits(width), Limits(depth), None)
    assert size.left_open == ("height", "mass_g")


@pytest.mark.parametrize(
    ("designation", "diameter", "thickness", "mass_g"),
    [
        ("1 cent", 16.25, 1.67, 2.30),
        ("2 cent", 18.75, 1.67, 3.06),
        ("5 cent", 21.25, 1.67, 3.92),
        ("10 cent", 19.75, 1.93, 4.10),
        ("20 cent", 22.25, 2.14, 5.74),
        ("50 cent", 24.25, 2.38, 7.80),
        ("1 euro", 23.25, 2.33, 7.50),
        ("2 euro", 25.75, 2.20, 8.50),
    ],
)
def test_euro_coins_by_regulation_975_98(designation: str, diameter: float, thickness: float, mass_g: float) -> None:
    """Council Regulation (EC) 975/98, annex: diameter, thickness, mass."""
    coin = size_of(designation)
    assert coin.limits == (Limits(diameter), Limits(thickness))
    assert coin.mass_g == mass_g
