"""A room planned, as a job has left it in a folder: sheets in cells, and the kit in closed forms. Nothing is solid."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from nookwright.exchange.kit_file import read_kit
from nookwright.studio.sheets import Sheets

if TYPE_CHECKING:
    from collections.abc import Mapping

    from nookwright.exchange.kit import Kit


@dataclass(frozen=True)
class Planned:
    """A room planned, nothing made solid.

    Attributes:
        sha256: of the text that it was planned from.
        sheets: in cells.
        kit: in closed forms.
        folder: where the job has left it, for jobs that go on from it.
    """

    sha256: str
    sheets: Sheets
    kit: Kit
    folder: Path

    def turned(self, lot: str) -> bool:
        """Whether the part of a lot lies turned by 90 degrees, so that its width lies along the depth of the space."""
        places = [place for one in self.kit.lots if one.id == lot for place in one.places]
        if not places:
            return False
        matrix = next(one.space_from_part for one in self.kit.placements if one.id == places[0].placement)
        return abs(matrix[0][0]) < abs(matrix[0][1])


def planned_of(result: Mapping[str, Any]) -> Planned:
    """What a job has planned.

    Args:
        result: of the job ``plan`` or ``improve``.

    Raises:
        FileFormatError: its kit cannot be read.
        OSError: its folder is gone.
    """
    sheets, kit = Path(result["sheets"]), read_kit(Path(result["kit"]))
    found = Sheets.model_validate_json(sheets.read_text(encoding="utf-8"))
    return Planned(kit.room_sha256, found, kit, sheets.parent)
