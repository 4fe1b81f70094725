"""The answers that a first room file is made from: one drawer, one printer, one material, and the things, one a line.

A thing is typed as ``name, size, how many``; parts are parted by a comma and a blank, so ``22,5`` stays a number. The
size is ``W x D x H``, ``D round x H`` or a published designation::

    AA cells, R6, 24
    glue sticks, 22 round x 95, 6
    notebooks, 148 x 210 x 12, 2
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, TypeVar

from nookwright.ground.errors import Fault, LengthError, RoomError
from nookwright.ground.lengths import read_length
from nookwright.ground.sources import Fact, Kind
from nookwright.survey.load import read_toml
from nookwright.survey.models import Shape
from nookwright.survey.readings import LONGEST, SHORTEST
from nookwright.survey.standards import DIMENSIONS, StandardSize, find_standard
from nookwright.survey.typed import MISSING, Typed, listed, nearest, show

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from pathlib import Path

    from nookwright.survey.locate import Path as KeyPath

THING_FORM: Final = '"name, size, how many"; size as 148 x 210 x 12, 22 round x 95, or a designation such as R6'
BOX_FORM: Final = 'three lengths, such as "362 x 420 x 62" or "14 1/4 in x 42 cm x 62"'
MOST_THINGS = Fact(10_000, unit="1", kind=Kind.CHOICE, source="The most of one lot that a room file takes.")

PLA_G_CM3 = Fact(1.24, unit="g/cm3", kind=Kind.HANDBOOK, source="ISO 1183 figure of several data sheets, 1.24 to 1.26.")
PETG_G_CM3 = Fact(1.27, unit="g/cm3", kind=Kind.HANDBOOK, source="Middle of several data sheets, 1.25 to 1.29.")
ABS_G_CM3 = Fact(1.04, unit="g/cm3", kind=Kind.HANDBOOK, source="ASTM D792 figure of a data sheet.")
ASA_G_CM3 = Fact(1.06, unit="g/cm3", kind=Kind.HANDBOOK, source="ISO 1183 figure of a data sheet.")
TPU_G_CM3 = Fact(1.21, unit="g/cm3", kind=Kind.HANDBOOK, source="Data sheets of 95A grades, 1.20 to 1.25.")
PLASTICS_G_CM3: Final = {"PLA": PLA_G_CM3, "PETG": PETG_G_CM3, "ABS": ABS_G_CM3, "ASA": ASA_G_CM3, "TPU": TPU_G_CM3}
_PART = re.compile(r"(?:,\s+|;\s*)")
_BY = re.compile(r"\s*[x×*]\s*", re.IGNORECASE)
_ROUND = re.compile(r"\s*\bround\b\s*", re.IGNORECASE)

T = TypeVar("T")


@dataclass(frozen=True)
class Thing:
    """One line of things.

    Attributes:
        name: for people.
        shape: box or round, or the shape of the standard.
        sides: the dimensions in the order of ``DIMENSIONS``, mm; empty for a published size.
        standard: designation of a published size, or empty.
        count: how many.
    """

    name: str
    shape: Shape
    sides: tuple[float, ...]
    standard: str
    count: int


@dataclass(frozen=True)
class Answers:
    """What a first room file is made from.

    Attributes:
        name: of the room.
        drawer: inside width, depth and clear height, mm.
        bed: printable width, depth and height, mm.
        material: as the person calls it; begins with a plastic that is known.
        things: one entry a line.
    """

    name: str
    drawer: tuple[float, float, float]
    bed: tuple[float, float, float]
    material: str
    things: tuple[Thing, ...]


class AnswerError(RoomError):
    """One answer that cannot be used: what was typed, what is allowed, and what to do."""

    def __init__(self, typed: str, allowed: str, remedy: str) -> None:
        self.allowed, self.remedy = allowed, remedy
        super().__init__((Fault("the answers", 0, "an answer", show(typed), allowed, remedy),))


def parse_name(text: str) -> str:
    """Read a name: any text, on one line."""
    name = " ".join("".join(sign if sign.isprintable() else " " for sign in text).split())
    if not name:
        raise AnswerError(text, "a text that is not empty", "Type a name.")
    return name


def parse_box(text: str) -> tuple[float, float, float]:
    """Read three lengths such as ``362 x 420 x 62``.

    >>> parse_box("36.2 cm x 42 cm x 62")
    (362.0, 420.0, 62.0)
    """
    sides = _BY.split(text.strip())
    if len(sides) != 3:  # noqa: PLR2004 - width, depth, height
        raise AnswerError(text, BOX_FORM, "Type width x depth x height.")
    width, depth, height = (_side(side) for side in sides)
    return width, depth, height


def parse_material(text: str) -> str:
    """Read a material: one of the plastics that are known, and what else helps to tell it apart."""
    name = parse_name(text)
    plastic = re.split(r"[\s,;-]", name)[0].upper()
    if plastic not in PLASTICS_G_CM3:
        close = nearest(plastic, PLASTICS_G_CM3)
        remedy = f"Begin with {close}." if close else "Begin with one of them."
        raise AnswerError(text, f"a name that begins with {listed(PLASTICS_G_CM3)}", remedy)
    return plastic + name[len(plastic) :]


def parse_thing_line(text: str) -> Thing:
    """Read one line of things: ``name, size, how many``.

    >>> parse_thing_line("glue sticks, 22 round x 95, 6").sides
    (22.0, 95.0)

    Raises:
        AnswerError: if the line cannot be read for certain.
    """
    parts = [part.strip() for part in _PART.split(text.strip())]
    if len(parts) != 3:  # noqa: PLR2004 - name, size, how many
        raise AnswerError(
            text, THING_FORM, "Part the three with a comma and a blank; a comma inside a number has no blank."
        )
    name, size, count = parts
    shape, sides, standard = _size(size)
    return Thing(parse_name(name), shape, sides, standard, _count(count))


def _size(text: str) -> tuple[Shape, tuple[float, ...], str]:
    """The shape, the sides and the designation of a size."""
    standard = find_standard(text)
    if standard is not None:
        return standard.shape, (), _closed(standard).designation
    if _ROUND.search(text):
        sides = [side for side in _BY.split(_ROUND.sub(" ", text).strip()) if side]
        if len(sides) != len(DIMENSIONS[Shape.ROUND]):
            raise AnswerError(text, THING_FORM, "Type a round thing as diameter round x height.")
        return Shape.ROUND, tuple(_side(side) for side in sides), ""
    if not any(sign.isdigit() for sign in text):
        raise AnswerError(text, THING_FORM, "Type its size, or a designation of the list of published sizes.")
    return Shape.BOX, parse_box(text), ""


def _closed(standard: StandardSize) -> StandardSize:
    """A published size that leaves nothing open."""
    if standard.left_open:
        raise AnswerError(
            standard.designation, THING_FORM, f"Type all three sides; {standard.designation} does not state them all."
        )
    return standard


def _side(text: str) -> float:
    """One side, in mm."""
    try:
        side = read_length(text)
    except LengthError as error:
        reason, _, allowed = str(error).partition("; allowed: ")
        raise AnswerError(text, allowed, reason[:1].upper() + reason[1:] + ".") from None
    if not SHORTEST <= side <= LONGEST:
        raise AnswerError(text, f"lengths from {SHORTEST:g} to {LONGEST:g} mm", "Check the unit and the digits.")
    return side


def _count(text: str) -> int:
    """How many."""
    if not re.fullmatch(r"[0-9]{1,5}", text) or not 0 < int(text) <= MOST_THINGS:
        raise AnswerError(text, f"a whole number from 1 to {MOST_THINGS:g}", "Type how many there are, in digits.")
    return int(text)


def answers_of(*, name: str, drawer: str, bed: str, material: str, things: Sequence[str]) -> Answers:
    """Read all answers as they are typed at the command line.

    Raises:
        RoomError: with every answer that cannot be used.
    """
    from nookwright.survey.locate import Places

    data = {"name": name, "drawer": drawer, "bed": bed, "material": material, "things": list(things)}
    return _read(Typed("the answers", data, Places({})))


def read_answers(path: Path) -> Answers:
    """Read a file of answers: ``name``, ``drawer``, ``bed``, ``material`` as texts and ``things`` as a list of texts.

    Raises:
        RoomError: with every fault of the file.
    """
    typed, faults = read_toml(path)
    if typed is None:
        raise RoomError(faults)
    return _read(typed)


def _read(typed: Typed) -> Answers:
    """Read answers, or say all that is wrong with them."""
    faults: list[Fault] = []
    keys = ("name", "drawer", "bed", "material", "things")
    for key in typed.data:
        if key not in keys:
            close = nearest(key, keys)
            remedy = f"Write {close} instead." if close else "Delete it."
            faults.append(
                typed.fault((key,), found=f"the unknown key {show(key)}", allowed=listed(keys), remedy=remedy)
            )
    name = _answer(typed, ("name",), parse_name, faults)
    drawer = _answer(typed, ("drawer",), parse_box, faults)
    bed = _answer(typed, ("bed",), parse_box, faults)
    material = _answer(typed, ("material",), parse_material, faults)
    things = _things(typed, faults)
    if faults or name is None or drawer is None or bed is None or material is None:
        raise RoomError(tuple(faults))
    return Answers(name, drawer, bed, material, things)


def _answer(typed: Typed, path: KeyPath, parse: Callable[[str], T], faults: list[Fault]) -> T | None:
    """One answer, or one fault more."""
    text = typed.at(path)
    if not isinstance(text, str):
        remedy = f"Add a line `{path[0]} = ...`." if text is MISSING else "Put it in quotation marks."
        faults.append(typed.fault(path, allowed="a text", remedy=remedy))
        return None
    try:
        return parse(text)
    except AnswerError as error:
        faults.append(typed.fault(path, allowed=error.allowed, remedy=error.remedy))
        return None


def _things(typed: Typed, faults: list[Fault]) -> tuple[Thing, ...]:
    """Every line of things that can be read; faults for the others."""
    lines = typed.at(("things",))
    if not isinstance(lines, list) or not lines:
        remedy = "Give at least one thing, each as a text in a list."
        faults.append(typed.fault(("things",), allowed="a list of texts, each " + THING_FORM, remedy=remedy))
        return ()
    read = [_answer(typed, ("things", index), parse_thing_line, faults) for index in range(len(lines))]
    return tuple(thing for thing in read if thing is not None)
