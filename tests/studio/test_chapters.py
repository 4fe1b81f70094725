"""A room file in chapters: they say what the whole text says, or there are none."""

from __future__ import annotations

import tomllib
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.studio.chapters import chapters_of
from nookwright.survey.rooms import demo_path

if TYPE_CHECKING:
    from collections.abc import Callable

PIECES = (
    "# words\n",
    "\n",
    "format = 1\n",
    "[room]\nname = 'shed'  # [[lot]]\n",
    "[choices]\nlayout = 'calm'\n",
    "[choices.colours]\nliner = 'white'\n",
    "[[lot]]\nid = 'a'\n",
    "  [[lot]]  # indented\nid = 'b'\nwidth = [\n[1, 2],\n[3]]\n",
    '[[lot]]\nname = """\n[room]\n[[lot]]\n"""\n',
    "[[lot.spots]]\nx = 1\n",
    "[lot.tray]\nlow = true\n",
    "[[space.blocked]]\nreason = 'pipe'\n",
    "[[space]]\nid = 's'\n",
    "['quoted']\na = 1\n",
    "lot = 3\n",
    "[[lot]]\r\nid = 'c'\r\n",
    "[[lot]",
    "'''",
)


@settings(max_examples=400)
@given(st.lists(st.sampled_from(PIECES), max_size=7).map("".join))
def test_chapters_say_what_the_whole_text_says(text: str) -> None:
    """And are the text, one after another; a text that is no TOML has none."""
    found = chapters_of(text, {})
    if found is None:
        return
    assert found.text == text
    assert found.data == tomllib.loads(text)


@pytest.mark.parametrize(
    "text",
    [
        '[[lot]]\nname = """\n[[lot]]\n"""\n',
        "[[lot]]\nid = 'a'\nwidth = [\n[1],\n]\n[[lot]]\n",
        "[[lot]]\nid = 'a'\n[lot]\n",
        "[room]\n[lot]\n[room.x]\n",
        "lot = [1]\n[[lot]]\n",
        "[[space]]\n[[lot]]\n[[space.blocked]]\n",
    ],
)
def test_what_cannot_be_told_in_chapters_has_none(text: str) -> None:
    """Lines that only look like headlines, tables in two places, lists in one line: the whole text is read."""
    assert chapters_of(text, {}) is None


def test_the_demo_is_told_in_chapters() -> None:
    """One for each table with what is inside it, so that the quick way is the usual one."""
    with demo_path() as path:
        text = path.read_text(encoding="utf-8")
    found = chapters_of(text, {})
    assert found is not None
    assert found.data == tomllib.loads(text)
    assert len(found.of_list("lot")) == len(tomllib.loads(text)["lot"])


def test_only_what_is_new_is_read(monkeypatch: pytest.MonkeyPatch) -> None:
    """One lot of many changed is one chapter read."""
    read: list[str] = []
    real: Callable[[str], object] = tomllib.loads

    def loads(text: str) -> object:
        read.append(text)
        return real(text)

    text = "".join(f"[[lot]]\nid = '{number}'\n" for number in range(50))
    before = chapters_of(text, {})
    assert before is not None
    monkeypatch.setattr(tomllib, "loads", loads)
    after = chapters_of(text.replace("'7'", "'seven'"), before.by_text)
    assert after is not None
    assert [one["id"] for one in after.data["lot"]][6:9] == ["6", "seven", "8"]
    assert read == ["[[lot]]\nid = 'seven'\n"]
