"""The survey sheet as forms: what is one of a few words is chosen, and what holds without a choice is said."""

from __future__ import annotations

import pytest

from nookwright.studio.forms import FORMS, Field, Way, form


def _fields() -> dict[tuple[str, str], Field]:
    return {(table, field.key): field for table in FORMS for fields in form(table) for field in fields}


@pytest.mark.parametrize(
    ("table", "key", "choices", "usual"),
    [
        ("room", "units", ("", "mm", "cm", "in"), "mm"),
        ("blocked", "service", ("", "yes", "no"), "no"),
        ("lot", "keep", ("", "any", "tray", "cradle", "loose", "rest", "dispenser"), "any"),
        ("tray", "grip", ("", "notch", "hand hole", "none"), ""),
    ],
)
def test_a_few_words_are_chosen_from(table: str, key: str, choices: tuple[str, ...], usual: str) -> None:
    """Whether the survey names them one by one, as kinds, or as yes and no; it is said what is usual."""
    field = _fields()[table, key]
    assert (field.way, field.choices, field.usual) == (Way.CHOICE, choices, usual)


def test_what_must_be_chosen_has_no_empty_choice() -> None:
    """The kind of a space: there is nothing that it would be otherwise."""
    kind = _fields()["space", "kind"]
    assert kind.choices[0] == "drawer"
    assert "" not in kind.choices


def test_what_is_usual_is_one_of_the_choices() -> None:
    """And only where there are any."""
    for field in _fields().values():
        assert field.usual == "" or field.usual in field.choices
        assert not field.usual or field.way is Way.CHOICE


def test_a_choice_is_written_as_the_room_file_has_it() -> None:
    """Yes and no as such, words as words, and nothing where all is as usual."""
    fields = _fields()
    assert fields["blocked", "service"].value("yes") is True
    assert fields["room", "units"].value("in") == "in"
    assert fields["room", "units"].value("") is None
