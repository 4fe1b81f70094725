"""kit.json on disk: written with sorted, indented text so that two kits can be compared line by line."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from pydantic import ValidationError

from nookwright.exchange.kit import Kit
from nookwright.ground.errors import FileFormatError

if TYPE_CHECKING:
    from pathlib import Path


def kit_text(kit: Kit) -> str:
    """A kit as the text of its file."""
    return json.dumps(kit.model_dump(mode="json"), indent=1, ensure_ascii=False) + "\n"


def write_kit(path: Path, kit: Kit) -> None:
    """Write kit.json.

    Args:
        path: file to write.
        kit: what it holds.
    """
    path.write_text(kit_text(kit), encoding="utf-8", newline="\n")


def read_kit(path: Path) -> Kit:
    """Read a kit.json.

    Args:
        path: file to read.

    Raises:
        FileFormatError: it is no kit of this format.
    """
    try:
        return Kit.model_validate_json(path.read_text(encoding="utf-8"))
    except (ValidationError, UnicodeDecodeError) as error:
        raise FileFormatError(
            f"{path}: found no kit that can be read; allowed: a kit.json of format 1. {error}"
        ) from error
