"""Findings, worst first: like ones together, each leading to what it is about, by the name that people gave it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, NamedTuple
from urllib.parse import quote

from nicegui import ui

from nookwright.documents import words
from nookwright.documents.titles import TITLES
from nookwright.studio.pages.frame import text

if TYPE_CHECKING:
    from collections.abc import Iterable

    from nookwright.exchange.kit import Kit, KitFinding

_CALLED: Final = {
    "kit": "The whole kit",
    "making": "Printing hours",
    "making.there": "Printing hours",
    "making.start": "Start of printing",
}


class Subject(NamedTuple):
    """What a finding is about.

    Attributes:
        name: for people.
        address: of the page that shows it; empty where none does.
        form: address of its form in the survey, where that is another page.
    """

    name: str
    address: str = ""
    form: str = ""


def draw_findings(kit: Kit) -> None:
    """All findings, under a heading for each severity.

    Args:
        kit: planned or built.
    """
    subjects = subjects_of(kit)
    for severity, title in TITLES.items():
        group = [one for one in kit.findings if one.severity is severity]
        if not group:
            continue
        text(f"{title} ({len(group)})", "h2", severity)
        with ui.element("ul").classes("findings"):
            for one in _alike_together(group):
                _draw(one, subjects.get(one.subject, Subject(_CALLED.get(one.subject, one.subject))))


def _alike_together(group: Iterable[KitFinding]) -> list[KitFinding]:
    """Findings of one code one behind the other, in the order in which their codes come first."""
    listed = list(group)
    order = list(dict.fromkeys(one.code for one in listed))
    return sorted(listed, key=lambda one: order.index(one.code))


def _draw(one: KitFinding, subject: Subject) -> None:
    with ui.element("li").classes(one.severity).props(f'data-code="{one.code}"'):
        with ui.element("p"):
            if subject.address:
                text(subject.name, "a").props["href"] = subject.address
            else:
                text(subject.name, "strong")
            text(f": {one.text}")
        with ui.element("p").classes("remedy"):
            text(one.remedy)
            if subject.form:
                text(" ")
                text("Its form", "a").props.update({"href": subject.form, "aria-label": f"The form of {subject.name}"})
        if one.against is not None:
            text(words.against(one.against), "p", "num")


def subjects_of(kit: Kit) -> dict[str, Subject]:
    """Everything that a finding may be about, by its id, with where it is shown.

    Args:
        kit: planned or built.
    """
    found: dict[str, Subject] = {}
    for space in kit.spaces:
        found[space.id] = Subject(space.name or space.id, f"/layout?space={quote(space.id)}", _form("space", space.id))
    holds = {place.part: lot for lot in reversed(kit.lots) for place in lot.places}
    for part in kit.parts:
        lot = holds.get(part.id)
        key = lot.id if lot else f"part:{part.id}"
        found[part.id] = Subject(f"{part.name} ({lot.name})" if lot else part.name, f"/parts?lot={quote(key)}")
        found.setdefault(part.name, found[part.id])
    found |= {piece.id: found[piece.part] for piece in kit.pieces if piece.part in found}
    labels = {one.id: Subject(one.label, found[one.part].address) for one in kit.placements if one.part in found}
    found = labels | found
    for one in kit.lots:
        form, name = _form("lot", one.id), one.name or one.id
        found[one.id] = Subject(name, f"/layout?pick={quote(one.id)}", form) if one.places else Subject(name, form)
    found |= {bed.id: Subject(bed.id, f"/make#bed-{quote(bed.id)}") for bed in kit.bedfuls}
    for table, some in (("printer", kit.printers), ("material", kit.materials)):
        found |= {one.id: Subject(one.name or one.id, _form(table, one.id)) for one in some}
    return found


def _form(table: str, name: str) -> str:
    """The address of a form of the survey."""
    return f"/survey?at={table}.{quote(name)}"
