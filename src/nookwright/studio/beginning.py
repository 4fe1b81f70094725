"""How a room begins in the studio: a file with a name, a usual printer and a material, and what to do next in it.

Promise: at every moment there is one next step in words, with the form where it is done, until the room can be planned.
What is assumed for a beginner is said in the file and in the name of what is assumed. What it does not know: pages.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

from nookwright.ground.errors import FolderError
from nookwright.ground.sources import Fact, Kind
from nookwright.studio.forms import LENGTHS, label_of
from nookwright.studio.room_text import with_table, with_value
from nookwright.studio.toml_values import typed
from nookwright.studio.typed_fields import as_length
from nookwright.survey.answers import PLASTICS_G_CM3
from nookwright.survey.new import ASSUMED_COLOUR

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence
    from pathlib import Path as File

    from nookwright.ground.errors import Fault
    from nookwright.studio.room_text import Path
    from nookwright.studio.toml_values import Value

USUAL_BED = Fact(
    220.0, unit="mm", kind=Kind.CHOICE, source="A small bed among those of homes: what fits it fits larger ones too."
)
_ASSUMED: Final = " (assumed)"
MADE: Final[Mapping[str, Mapping[str, Value]]] = {
    "printer": {
        "id": "printer",
        "name": f"Printer{_ASSUMED}",
        "bed_width": int(USUAL_BED),
        "bed_depth": int(USUAL_BED),
        "bed_height": int(USUAL_BED),
        "materials": ["pla"],
    },
    "material": {
        "id": "pla",
        "name": f"PLA{_ASSUMED}",
        "colour": ASSUMED_COLOUR,
        "density_g_cm3": PLASTICS_G_CM3["PLA"],
    },
}
_BEGUN: Final = """\
# A room file: what was measured and decided. The studio writes into it; so may you, in any editor. Lengths are in mm
# unless they carry a unit, such as "36.2 cm" or "14 1/4 in". docs/room-file.md explains every key.

format = 1

[room]
name = {name}

# One table [[space]] for each drawer or shelf, and one table [[lot]] for each kind of thing: the page Survey adds them.
"""
_CORRECT: Final = "# Assumed: correct its bed, inside which all parts are printed.\n"
MISSING: Final = {"nothing", "neither shape nor standard"}
_SIDES: Final = ("width", "depth", "height")


@dataclass(frozen=True)
class Step:
    """What to do next.

    Attributes:
        words: all of it, in a sentence or two.
        button: what is written on the button that does it or leads there; empty where there is none.
        at: the form that it leads to.
        add: the list of the room file that it adds to.
        makes: whether it fills in a printer and a material.
        done: whether the room can be planned.
    """

    words: str
    button: str = ""
    at: Path = ()
    add: str = ""
    makes: bool = False
    done: bool = False


def begin(room_file: File) -> None:
    """Write a room file that has a name and what is usual, where there is no file yet.

    Args:
        room_file: to write; its folder is made where it is missing.

    Raises:
        FolderError: it cannot be written, or is a folder.
    """
    if room_file.is_dir():
        raise FolderError(f"{room_file}: found a folder; allowed: a room file. Name one in it, such as room.toml.")
    if room_file.exists():
        return
    try:
        room_file.parent.mkdir(parents=True, exist_ok=True)
        room_file.write_text(begun_text(_name_of(room_file)), encoding="utf-8", newline="\n")
    except OSError as error:
        raise FolderError(f"{room_file}: cannot be written: {error.strerror}. Choose another place.") from error


def begun_text(name: str) -> str:
    """The text of a room file with nothing in it but what is usual.

    Args:
        name: of the room.
    """
    return completed(_BEGUN.format(name=typed(name))).replace("[[printer]]", f"{_CORRECT}[[printer]]")


def completed(text: str) -> str:
    """A text of a room file with the version, the printer and the material that it still lacks.

    Args:
        text: of a room file.

    Raises:
        ValueError: it is no TOML.
    """
    data = tomllib.loads(text)
    if "format" not in data:
        text = with_value(text, ("format",), 1)
    if "room" not in data:
        text = with_value(text, ("room", "name"), "My room")
    materials = [one["id"] for one in _listed(data, "material")]
    room = data.get("room")
    unit = str(room.get("units", "mm")) if isinstance(room, dict) else "mm"
    if "printer" not in data:
        usual = {
            key: as_length(float(USUAL_BED), unit) if key in LENGTHS else one for key, one in MADE["printer"].items()
        }
        text = with_table(text, ("printer",), {**usual, "materials": materials or usual["materials"]})
    if "material" not in data:
        named = [one for printer in _listed(data, "printer") for one in printer.get("materials", [])]
        for name in dict.fromkeys(str(one) for one in named or ["pla"]):
            text = with_table(text, ("material",), {**MADE["material"], "id": name})
    return text


def next_step(data: Mapping[str, Any], faults: Sequence[Fault]) -> Step:
    """What to do next in a room.

    Args:
        data: values of its file; nothing where that is no TOML.
        faults: all that is wrong with it.
    """
    return next(_steps(data, faults))


def _steps(data: Mapping[str, Any], faults: Sequence[Fault]) -> Iterator[Step]:
    """All that is still to do, in order; the last of it is that nothing is."""
    for fault in faults:
        if fault.key == "the syntax":
            yield Step(f"Line {fault.line} of the room file cannot be read ({fault.found}): correct it in an editor.")
    if {fault.key for fault in faults} & {"format", "room", "printer", "material"}:
        words = "The file lacks what every room has: begin with a usual printer and material, and correct them later."
        yield Step(words, "Fill in what is usual", makes=True)
    if not _listed(data, "space"):
        words = "First a space: add the drawer or shelf that is to be fitted out. Its inside is measured with a tape."
        yield Step(words, "Add a space", add="space")
    yield from _wrong(data, faults, "space")
    if not _listed(data, "lot"):
        words = "Now what is kept in it: type several things below, one a line, or add them one by one."
        yield Step(words, "Add a thing", add="lot")
    yield from _wrong(data, faults, "lot", "printer", "material")
    if faults:
        yield Step("Settle what is still wrong; the list of it leads to each place.")
    yield Step(f"Nothing is missing: the layout is made by itself.{_assumed(data)}", done=True)


def _wrong(data: Mapping[str, Any], faults: Sequence[Fault], *tables: str) -> Iterator[Step]:
    """The steps that settle each table which something is wrong with."""
    for table in tables:
        for one in _listed(data, table):
            start = f"{table}.{one['id']}."
            here = [fault for fault in faults if fault.key.startswith(start)]
            if here:
                name = str(one.get("name") or one["id"])
                keys = {fault.key.removeprefix(start): fault.found in MISSING for fault in here}
                yield Step(_to_settle(table, name, keys), f"To {name}", at=(table, one["id"]))


def _to_settle(table: str, name: str, keys: Mapping[str, bool]) -> str:
    """What to do about a table, in words; of each key it is said whether it is merely missing."""
    sides = [side for side in _SIDES if keys.get(side)]
    if table == "space" and sides:
        return (
            f"Measure {name} inside and type its {_and(sides)}. Several readings, with semicolons between them, "
            "find the narrowest place."
        )
    if table == "lot" and keys.get("shape"):
        return f"Choose the shape of {name} and type its size, or a published size as its standard."
    listed = _and(list(dict.fromkeys(label_of(key) for key in keys)))
    if all(keys.values()):
        return f"{name}: {listed} still to fill in."
    return f"{name}: {listed} cannot be used as it stands; beside the field is said why."


def _assumed(data: Mapping[str, Any]) -> str:
    """What is still assumed, in words."""
    listed = [str(one.get("name")) for table in ("printer", "material") for one in _listed(data, table)]
    names = [name.removesuffix(_ASSUMED) for name in listed if name.endswith(_ASSUMED)]
    return f" Still assumed: {_and(names)}." if names else ""


def _listed(data: Mapping[str, Any], table: str) -> list[dict[str, Any]]:
    """The tables of a list that have an id."""
    found = data.get(table, [])
    listed = found if isinstance(found, list) else []
    return [one for one in listed if isinstance(one, dict) and isinstance(one.get("id"), str)]


def _and(found: Sequence[str]) -> str:
    """Words in a row."""
    return found[0] if len(found) == 1 else f"{', '.join(found[:-1])} and {found[-1]}"


def _name_of(room_file: File) -> str:
    """A first name for a room, from what its file or folder is called."""
    resolved = room_file.resolve()
    stem = resolved.parent.name if resolved.stem.lower() == "room" else resolved.stem
    words = stem.replace("-", " ").replace("_", " ").strip()
    return words[:1].upper() + words[1:] or "My room"
