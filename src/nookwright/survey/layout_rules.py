"""Wishes of the layout that name what is not there, or that contradict each other."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING, Any

from nookwright.survey.typed import listed, nearest, show

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from nookwright.ground.errors import Fault
    from nookwright.survey.locate import Path
    from nookwright.survey.typed import Typed


def layout_contradictions(typed: Typed) -> Iterator[Fault]:
    """Every fault in what is wished of the layout."""
    lots = typed.ids("lot")
    groups = sorted({lot["group"] for _, lot in typed.tables("lot") if isinstance(lot.get("group"), str)} - {""})
    order = typed.at(("choices", "order"))
    for index, name in enumerate(order if isinstance(order, list) else ()):
        yield from _known(typed, ("choices", "order", index), name, (*lots, *groups), "the id of a lot or a group")
    yield from _places(typed, lots)
    for path, lot in typed.tables("lot"):
        if "shares" in lot:
            others = [name for name in lots if name != lot.get("id")]
            yield from _known(typed, (*path, "shares"), lot.get("shares"), others, "the id of another lot")
        yield from _known(typed, (*path, "box"), lot.get("box"), typed.ids("box"), "the id of a [[box]]")
        yield from _shares(typed, path, lot)
    for path, part in typed.tables("part"):
        yield from _known(typed, (*path, "space"), part.get("space"), typed.ids("space"), "the id of a space")
    for path, space in typed.tables("space"):
        if "pulls_out" in space and space.get("kind") != "drawer":
            yield typed.fault(
                (*path, "pulls_out"), allowed="only for drawers", remedy='Delete it, or say kind = "drawer".'
            )


def _places(typed: Typed, lots: Sequence[str]) -> Iterator[Fault]:
    """Places of lots and spaces that are not there, given twice or by half."""
    count: Counter[str] = Counter()
    spaces = typed.ids("space")
    for path, place in typed.tables("place"):
        name = place.get("lot")
        yield from _known(typed, (*path, "lot"), name, lots, "the id of a lot")
        yield from _known(typed, (*path, "space"), place.get("space"), spaces, "the id of a space")
        if isinstance(name, str):
            count[name] += 1
            if count[name] == 2:  # noqa: PLR2004 - the second of the same lot
                yield typed.fault((*path, "lot"), allowed="one [[place]] a lot", remedy="Delete one of them.")
        for one, other in (("x", "y"), ("width", "depth")):
            for given, missing in ((one, other), (other, one)):
                if given in place and missing not in place:
                    yield typed.fault(
                        (*path, missing),
                        found="nothing",
                        allowed=f"{one} and {other}, or neither",
                        remedy=f"Add a line `{missing} = ...`, or delete `{given}`.",
                    )


def _shares(typed: Typed, path: Path, lot: dict[str, Any]) -> Iterator[Fault]:
    """A lot that shares the tray of one that shares a tray itself, or that is kept in a box or a cradle."""
    host = lot.get("shares")
    if not isinstance(host, str) or host == lot.get("id"):
        return  # of itself it was said already that it is no other lot
    hosts = {one.get("id"): one for _, one in typed.tables("lot") if isinstance(one.get("id"), str)}
    if isinstance(hosts.get(host), dict) and "shares" in hosts[host]:
        yield typed.fault(
            (*path, "shares"),
            allowed="a lot that does not share another one's tray itself",
            remedy=f"Write {show(hosts[host]['shares'])}, so that all of them name the same lot.",
        )
    for key, value in (("box", lot.get("box")), ("keep", lot.get("keep"))):
        if value is not None and (key == "box" or value == "cradle"):
            yield typed.fault(
                (*path, "shares"), allowed=f"no shares beside {key} = {show(value)}", remedy=f"Delete `{key}` or it."
            )


def _known(typed: Typed, path: Path, name: object, known: Sequence[str], what: str) -> Iterator[Fault]:
    """A name that stands for nothing in this file."""
    if not isinstance(name, str) or name in known:
        return
    close = nearest(name, known)
    remedy = f"Write {show(close)} instead." if close else "Write one of them, or add what it names."
    yield typed.fault(path, found=show(name), allowed=f"{what}: {listed(known)}", remedy=remedy)
