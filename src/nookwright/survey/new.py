"""A first room file from a few answers.

Promise: the text made from any answers that were read loads without a fault. What nobody was asked (load, height in the
room, the mass of one thing) is assumed, and the file says so beside the figure.
"""

from __future__ import annotations

import json
import math
import re
import unicodedata
from typing import TYPE_CHECKING, Final

from nookwright.ground.sources import Fact, Kind
from nookwright.survey.answers import (
    PLASTICS_G_CM3,
    Answers,
    Thing,
    answers_of,
    parse_box,
    parse_material,
    parse_name,
    parse_thing_line,
    read_answers,
)
from nookwright.survey.models import Shape
from nookwright.survey.standard_tables import MM3_PER_CM3
from nookwright.survey.standards import DIMENSIONS

if TYPE_CHECKING:
    from collections.abc import Iterator

__all__ = [
    "Answers",
    "answers_of",
    "parse_box",
    "parse_material",
    "parse_name",
    "parse_thing_line",
    "read_answers",
    "room_text",
    "short_name",
]

ASSUMED_DENSITY_G_CM3 = Fact(
    1.0, unit="g/cm3", kind=Kind.CHOICE, source="Most things of a household float or nearly do; tools are heavier."
)
ASSUMED_FLOOR_HEIGHT = Fact(750.0, unit="mm", kind=Kind.CHOICE, source="A drawer right below a bench or worktop.")
ASSUMED_LOAD_KG = Fact(10.0, unit="kg", kind=Kind.CHOICE, source="Careful for a drawer of unknown slides.")
LEAST_MASS_G = Fact(0.01, unit="g", kind=Kind.CHOICE, source="No thing that is counted by hand is lighter.")
LONGEST_ID = Fact(40, unit="1", kind=Kind.CHOICE, source="Longer ids do not fit into a line of the tables.")
ASSUMED_COLOUR: Final = "#8a9199"


def room_text(answers: Answers) -> str:
    """The text of a commented room file; the same answers give the same text."""
    return "\n".join([*_head(answers), *_lots(answers), *_making(answers)]) + "\n"


def _head(answers: Answers) -> list[str]:
    """The room and its one space."""
    width, depth, height = map(_figure, answers.drawer)
    return [
        "# A room file: what was measured and decided. Lengths are in mm unless they carry a unit, such as",
        '# "36.2 cm" or "14 1/4 in". Check it with `nookwright check`; docs/room-file.md explains every key.',
        "",
        "format = 1",
        "",
        "[room]",
        f"name = {_quoted(answers.name)}",
        "",
        "[choices]",
        'floor = "shell"          # or "smooth"',
        'rest = "open"            # what no lot needs stays free; or "grow", "spare"',
        "",
        "# One table [[space]] for each drawer or shelf. Several readings find the narrowest place:",
        "# width = [362.4, 361.8], or { floor = [362.4, 361.8], rim = 363 }.",
        "[[space]]",
        'id = "drawer"',
        'kind = "drawer"',
        f"width = {width}",
        f"depth = {depth}",
        f"height = {height}              # clear height, along the whole travel",
        f"floor_height = {_figure(ASSUMED_FLOOR_HEIGHT)}        # assumed: its floor above the floor of the room",
        f"load_kg = {_figure(ASSUMED_LOAD_KG)}              # assumed: what the slides carry, prints included",
        "",
        "# Anything in the way, measured from the front left corner of the floor:",
        "# [[space.blocked]]",
        '# reason = "waste pipe"',
        "# x = 120",
        "# y = 300",
        "# width = 80",
        "# depth = 60",
        "",
        "# One table [[lot]] for each kind of thing. Measure three things of a lot where they differ:",
        "# diameter = [51.6, 51.9, 52.1].",
    ]


def _lots(answers: Answers) -> Iterator[str]:
    """One lot for each thing."""
    taken: set[str] = set()
    for thing in answers.things:
        name = _id(thing.name, taken)
        taken.add(name)
        yield from ("[[lot]]", f'id = "{name}"', f"name = {_quoted(thing.name)}")
        yield from _size(thing)
        yield from (f"count = {thing.count}", "")


def _size(thing: Thing) -> Iterator[str]:
    """The size of a thing, published or measured; then its mass is assumed."""
    if thing.standard:
        yield f"standard = {_quoted(thing.standard)}"
        return
    yield f'shape = "{thing.shape}"'
    for key, side in zip(DIMENSIONS[thing.shape], thing.sides, strict=True):
        yield f"{key} = {_figure(side)}"
    yield f"mass_g = {_figure(assumed_mass_g(thing))}   # assumed from the size: weigh one"


def assumed_mass_g(thing: Thing) -> float:
    """A mass that serves until one was weighed."""
    volume = math.prod(thing.sides)
    if thing.shape is Shape.ROUND:
        diameter, height = thing.sides
        volume = math.pi / 4 * diameter**2 * height
    return max(round(volume / MM3_PER_CM3 * ASSUMED_DENSITY_G_CM3, 2), float(LEAST_MASS_G))


def _making(answers: Answers) -> list[str]:
    """The printer and the material."""
    width, depth, height = map(_figure, answers.bed)
    plastic = answers.material.split(maxsplit=1)[0].rstrip(",;-")
    density = next(value for name, value in PLASTICS_G_CM3.items() if plastic.startswith(name))
    return [
        "[[printer]]",
        'id = "printer"',
        f"bed_width = {width}",
        f"bed_depth = {depth}",
        f"bed_height = {height}",
        f'materials = ["{_id(answers.material, set())}"]',
        "",
        "[[material]]",
        f'id = "{_id(answers.material, set())}"',
        f"name = {_quoted(answers.material)}",
        f'colour = "{ASSUMED_COLOUR}"      # for plans and pictures',
        f"density_g_cm3 = {_figure(density)}",
    ]


def short_name(name: str) -> str:
    """A name as an id may be: lower case letters, digits and single hyphens.

    >>> short_name("Crème, 2 l"), short_name("***")
    ('creme-2-l', 'thing')
    """
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    return re.sub(r"[^a-z0-9]+", "-", plain)[: int(LONGEST_ID)].strip("-") or "thing"


def _id(name: str, taken: set[str]) -> str:
    """A short name that is not taken yet."""
    base = short_name(name)
    numbered = base
    number = 1
    while numbered in taken:
        number += 1
        numbered = f"{base}-{number}"
    return numbered


def _figure(value: float) -> str:
    """A number as a person would type it."""
    return f"{value:.3f}".rstrip("0").rstrip(".")


def _quoted(text: str) -> str:
    """A printable text in the quotation marks of TOML, whose escapes are those of JSON."""
    return json.dumps(text, ensure_ascii=False)
