"""Rooms that come with the program."""

from __future__ import annotations

from importlib import resources
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from contextlib import AbstractContextManager
    from pathlib import Path


def demo_path() -> AbstractContextManager[Path]:
    """Give the demo room as a file for as long as the context lasts."""
    return resources.as_file(resources.files(__name__) / "demo.toml")


def demo_text() -> str:
    """The text of the demo room."""
    return (resources.files(__name__) / "demo.toml").read_text(encoding="utf-8")
