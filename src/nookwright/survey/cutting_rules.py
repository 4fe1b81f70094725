"""Wishes of cutting that name what is not there, that ask for nothing, or that no printer can follow."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from nookwright.survey.cutting_wishes import PartWord
from nookwright.survey.typed import listed, nearest, show

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from nookwright.ground.errors import Fault
    from nookwright.survey.locate import Path
    from nookwright.survey.typed import Typed

WHICH = ("lot", "space", "part", "kind")
_LINER = (PartWord.PANEL, PartWord.FILLER, PartWord.KEY)


def cutting_contradictions(typed: Typed) -> Iterator[Fault]:
    """Every fault in what is wished of cutting."""
    making = typed.data.get("making")
    wishes = making.get("printed_on") if isinstance(making, dict) else None
    for index, wish in enumerate(wishes if isinstance(wishes, list) else ()):
        if isinstance(wish, dict):
            yield from _wish(typed, ("making", "printed_on", index), wish)


def _wish(typed: Typed, path: Path, wish: dict[str, Any]) -> Iterator[Fault]:
    """One ``[[making.printed_on]]``."""
    for key, table in (("lot", "lot"), ("space", "space"), ("part", "part"), ("printer", "printer")):
        yield from _known(typed, (*path, key), wish.get(key), typed.ids(table), table)
    if not any(key in wish for key in WHICH):
        yield typed.fault(
            (*path, "lot"),
            found="nothing",
            allowed="which parts it is about: a lot, a space, a part, a kind, or some of them",
            remedy="Add a line such as `lot = ...`, `space = ...` or `kind = ...`.",
        )
    if "printer" not in wish and wish.get("whole") is not True:
        yield typed.fault(
            (*path, "printer"),
            found="nothing",
            allowed="a printer, or whole = true",
            remedy="Add a line `printer = ...` or `whole = true`, or delete the table.",
        )
    if "part" in wish and ("lot" in wish or "space" in wish):
        other = "lot" if "lot" in wish else "space"
        yield typed.fault(
            (*path, "part"),
            allowed=f"no {other} beside it: what is made to order has no place",
            remedy=f"Delete `{other}` or it, or make two tables of it.",
        )
    yield from _loaded(typed, path, wish)


def _loaded(typed: Typed, path: Path, wish: dict[str, Any]) -> Iterator[Fault]:
    """A printer that has not the material of what it is named for, as far as the file tells."""
    printer = next((one for _, one in typed.tables("printer") if one.get("id") == wish.get("printer")), None)
    material = _material(typed, wish)
    loaded = printer.get("materials") if printer else None
    if isinstance(loaded, list) and material is not None and material not in loaded:
        yield typed.fault(
            (*path, "printer"),
            allowed=f"a printer that may print {show(material)}, the material of these parts",
            remedy=f"Name another printer, or add {show(material)} to the materials of this one.",
        )


def _material(typed: Typed, wish: dict[str, Any]) -> str | None:
    """The material of the parts that a wish is about; nothing where they may have several."""
    if wish.get("kind") in _LINER:
        group: object = "liner"
    elif "lot" in wish or "part" in wish:
        table, name = ("lot", wish["lot"]) if "lot" in wish else ("part", wish["part"])
        found = next((one for _, one in typed.tables(table) if one.get("id") == name), None)
        if found is None:
            return None
        group = found.get("group", "")
    else:
        return None
    chosen = typed.at(("choices", "colours"))
    named = chosen.get(group) if isinstance(chosen, dict) and isinstance(group, str) else None
    first = next((one.get("materials") for _, one in typed.tables("printer")), None)
    usual = first[0] if isinstance(first, list) and first else None
    material = named if named is not None else usual
    return material if isinstance(material, str) else None


def _known(typed: Typed, path: Path, name: object, known: Sequence[str], table: str) -> Iterator[Fault]:
    """A name that stands for nothing in this file."""
    if not isinstance(name, str) or name in known:
        return
    close = nearest(name, known)
    remedy = f"Write {show(close)} instead." if close else "Write one of them, or add what it names."
    allowed = f"the id of a {table}: {listed(known)}" if known else f"the id of a [[{table}]]; there is none"
    yield typed.fault(path, found=show(name), allowed=allowed, remedy=remedy)
