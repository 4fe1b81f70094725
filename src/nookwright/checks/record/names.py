"""Whether things are called in kit.json as the room file calls them, and parts by what they are and hold.

People find a part by its name on the plan, on the bed and in the bill; a name that belongs to another one sends them to
the wrong drawer. What this does not know: the words in which a part is described; its id must be made of them.
"""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from typing import TYPE_CHECKING

from nookwright.checks.record.claims import Wrong, figure, said_once, words
from nookwright.ground.findings import Severity
from nookwright.ground.slugs import slug

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.exchange.kit import Kit
    from nookwright.ground.findings import Finding
    from nookwright.survey.models import Room

_COPIES = re.compile(r"_([0-9]+)x_")


def check_names(kit: Kit, room: Room) -> Iterator[Finding]:
    """One finding about everything that is called otherwise than it should be.

    Args:
        kit: the kit, its references sound.
        room: as surveyed.
    """
    yield from said_once(
        "name-otherwise", Severity.WARN, (*_as_surveyed(kit, room), *_parts(kit), *_labels(kit), *_files(kit))
    )


def _as_surveyed(kit: Kit, room: Room) -> Iterator[Wrong]:
    """Names that the room file gives, and lists that have all of it."""
    yield from words("kit", "The room", kit.room, room.room.name)
    for what, said, read in (
        ("Spaces", kit.spaces, room.space),
        ("Lots", kit.lots, room.lot),
        ("Boxes", kit.boxes, room.box),
        ("Printers", kit.printers, room.printer),
        ("Materials", kit.materials, room.material),
    ):
        known = {one.id: one.name or one.id for one in read}
        for one in said:
            if one.id in known:
                yield from words(one.id, "Its name", one.name, known[one.id])
        if what not in ("Boxes", "Spaces"):  # boxes are those in use; of spaces see the plan
            yield from words("kit", what, tuple(one.id for one in said), tuple(one.id for one in read))
    kinds = {one.id: one.kind.value for one in room.space}
    for space in kit.spaces:
        yield from words(space.id, "What it is the inside of", space.kind, kinds[space.id])


def _parts(kit: Kit) -> Iterator[Wrong]:
    """Parts whose id does not come from their name, and pieces whose id does not come from their part and material."""
    for part in kit.parts:
        if not re.fullmatch(rf"{re.escape(slug(part.name))}(-[a-z]+)?", part.id):
            yield Wrong(part.id, f"It is called {part.name!r} by kit.json, which is the name of another part.")
    for piece in kit.pieces:
        if not re.fullmatch(rf"{re.escape(piece.part)}(-p[0-9]+)?_{re.escape(piece.material)}", piece.id):
            yield Wrong(piece.id, f"It is of {piece.part} in {piece.material} by kit.json, which its id does not say.")


def _labels(kit: Kit) -> Iterator[Wrong]:
    """Placed parts that are not called by what they hold."""
    holds: dict[str, list[str]] = defaultdict(list)
    for lot in kit.lots:
        for place in lot.places:
            for holder in (place.placement, *place.held_by):
                holds[holder].append(lot.name)
    kinds = {part.id: part.kind for part in kit.parts}
    for one in kit.placements:
        missing = [name for name in holds[one.id] if name not in one.label]
        if missing:
            yield Wrong(one.id, f"It is called {one.label!r} by kit.json, and {missing[0]} is in it.")
        elif (
            not holds[one.id]
            and kinds[one.part] in ("panel", "filler", "key")
            and str(kinds[one.part]) not in one.label
        ):
            yield Wrong(one.id, f"It is called {one.label!r} by kit.json, and is a {kinds[one.part]}.")


def _files(kit: Kit) -> Iterator[Wrong]:
    """Files whose name says another number of copies than are needed."""
    made = Counter({piece.file: piece.count for piece in kit.pieces})
    tried: Counter[str] = Counter()
    for trial in kit.first.trials:
        tried.update({piece.file: piece.count for piece in trial.pieces})
    for file, count in (made + tried).items():
        match = _COPIES.search(file)
        if match:
            yield from figure(file, "By the name of its file it is needed so many times", count, int(match[1]))
