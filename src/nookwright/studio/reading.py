"""Reading a room's text again and again while it is edited: what was read and found sound before is not read anew.

Promise: the room and the faults are those that ``survey`` gives for the same text, whatever was read before; only the
work differs. Every rule that holds between tables is asked every time. What it does not know: files.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any, get_args

from nookwright.studio.chapters import Chapters, chapters_of
from nookwright.survey.load import as_json, check_text, check_typed, made_whole
from nookwright.survey.locate import Place, Places, locate
from nookwright.survey.models import Room
from nookwright.survey.typed import Typed

if TYPE_CHECKING:
    from pydantic import BaseModel

    from nookwright.ground.errors import Fault
    from nookwright.studio.chapters import Chapter
    from nookwright.survey.locate import Path


class Reader:
    """Reads one text after another, each not much different from the one before."""

    def __init__(self) -> None:
        """Know nothing yet."""
        self._chapters: Chapters | None = None
        self._made: dict[tuple[str, str], BaseModel] = {}  # tables of lists by unit and text, of the last room
        self.checked = 0  # tables that had to be checked so far: what a gesture costs

    @property
    def known(self) -> Mapping[str, Chapter]:
        """The chapters of the last text."""
        return self._chapters.by_text if self._chapters else {}

    def check(self, file: str, text: str) -> tuple[Room | None, tuple[Fault, ...]]:
        """The room that a text is, or all that is wrong with it.

        Args:
            file: what the file is called; tables beside it are read from there.
            text: of the room file.
        """
        self._chapters = chapters_of(text, self.known)
        if self._chapters is None:
            return check_text(file, text)
        return check_typed(Typed(file, self._chapters.data, Places(_Later(text))), self._room)

    def _room(self, typed: Typed, unit: str) -> Room:
        """The room, made of tables that were sound before and of new ones.

        Raises:
            ValidationError: with all that a model refuses.
        """
        made: dict[tuple[str, str], BaseModel] = {}
        lists: dict[str, list[BaseModel]] = {}
        first: dict[str, Any] = dict(typed.data)
        for one in self._chapters.found if self._chapters else ():
            model = _model_of(one.key) if one.listed else None
            if model is None:
                continue
            sound = self._made.get((unit, one.text)) or self._sound(model, one, unit)
            if sound is None:
                return made_whole(typed, unit)  # which says all that is wrong
            made[unit, one.text] = sound
            lists.setdefault(one.key, []).append(sound)
            first[one.key] = typed.data[one.key][:1]
        room = made_whole(Typed(typed.file, first, typed.places), unit)
        self._made = made
        return room.model_copy(update={key: tuple(tables) for key, tables in lists.items()})

    def _sound(self, model: type[BaseModel], chapter: Chapter, unit: str) -> BaseModel | None:
        """A table as its model; nothing where it is not sound."""
        self.checked += 1
        try:
            return model.model_validate_json(as_json(chapter.data, _DEPTH), strict=True, context={"unit": unit})
        except ValueError:
            return None


_DEPTH = len(("list", "table"))  # of a table of a list


def _model_of(key: str) -> type[BaseModel] | None:
    """What a table of a list is; nothing for lists that a room does not have."""
    field = Room.model_fields.get(key)
    kinds = get_args(field.annotation) if field else ()
    return kinds[0] if kinds and hasattr(kinds[0], "model_validate_json") else None


class _Later(Mapping["Path", Place]):
    """Where everything stands, looked up when somebody asks: only faults do."""

    def __init__(self, text: str) -> None:
        """Of a text that can be read."""
        self._text = text
        self._found: Mapping[Path, Place] | None = None

    def _looked(self) -> Mapping[Path, Place]:
        """All of it."""
        if self._found is None:
            self._found = locate(self._text).found
        return self._found

    def __getitem__(self, path: Path) -> Place:
        return self._looked()[path]

    def __iter__(self) -> Iterator[Path]:
        return iter(self._looked())

    def __len__(self) -> int:
        return len(self._looked())
