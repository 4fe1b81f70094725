"""Answers of which a first room file is made."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.ground.errors import RoomError
from nookwright.survey.answers import (
    AnswerError,
    Thing,
    answers_of,
    parse_box,
    parse_material,
    parse_name,
    parse_thing_line,
    read_answers,
)
from nookwright.survey.models import Shape

EXAMPLE = Path(__file__).parents[2] / "examples" / "answers.toml"


@pytest.mark.parametrize(
    ("line", "thing"),
    [
        ("AA cells, R6, 24", Thing("AA cells", Shape.ROUND, (), "R6", 24)),
        ("glue sticks, 22 round x 95, 6", Thing("glue sticks", Shape.ROUND, (22.0, 95.0), "", 6)),
        ("glue sticks, round 22,5 × 9.5 cm, 6", Thing("glue sticks", Shape.ROUND, (22.5, 95.0), "", 6)),
        ("books; 148x210x12; 2", Thing("books", Shape.BOX, (148.0, 210.0, 12.0), "", 2)),
        ("screws, M5x16 ISO 4762, 100", Thing("screws", Shape.ROUND, (), "M5x16 ISO 4762", 100)),
        ("slips, a6, 50", Thing("slips", Shape.FLAT, (), "A6", 50)),
    ],
)
def test_a_line_of_things_is_name_size_and_how_many(line: str, thing: Thing) -> None:
    """Boxes, round things and designations; a decimal comma stays a number."""
    assert parse_thing_line(line) == thing


@pytest.mark.parametrize(
    ("line", "remedy"),
    [
        ("", "Part the three"),
        ("AA cells R6, 24", "Part the three"),
        ("sticks, 22, 5 round x 95, 6", "Part the three"),
        (", R6, 24", "Type a name"),
        ("cells, R6, 0", "how many"),
        ("cells, R6, many", "how many"),
        ("cells, R6, 99999", "how many"),
        ("books, 148 x 210, 2", "width x depth x height"),
        ("books, 148 x 210 x 1,234, 2", "may mean 1234 or 1.234"),
        ("books, 148 x 210 x 0, 2", "Check the unit"),
        ("books, large, 2", "designation"),
        ("sticks, 22 round, 6", "diameter round x height"),
        ("boxes, 400x300, 2", "does not state"),
    ],
)
def test_a_line_that_is_not_certain_is_refused(line: str, remedy: str) -> None:
    """With what was typed, what is allowed and what to do, as one fault."""
    with pytest.raises(AnswerError) as caught:
        parse_thing_line(line)
    (fault,) = caught.value.faults
    assert remedy in fault.remedy
    assert fault.allowed


def test_a_box_is_three_lengths() -> None:
    """In any units, parted by an x."""
    assert parse_box("14 1/4 in x 42 cm x 62") == (361.95, 420.0, 62.0)
    assert parse_box("362X420*62") == (362.0, 420.0, 62.0)


def test_a_material_begins_with_a_plastic() -> None:
    """Whatever follows tells it apart; others are refused with the nearest."""
    assert parse_material("pla, grey") == "PLA, grey"
    assert parse_material("Petg") == "PETG"
    with pytest.raises(AnswerError, match="Begin with PETG"):
        parse_material("pet black")


def test_a_name_is_one_line() -> None:
    """Line ends and control characters become blanks."""
    assert parse_name(" my\nroom\x07 ") == "my room"


def test_all_answers_that_cannot_be_used_are_named_at_once() -> None:
    """Five questions, seven faults."""
    with pytest.raises(RoomError) as caught:
        answers_of(name=" ", drawer="1 x 2", bed="a x b x c", material="wood", things=["x", "cells, R6, 2", "y"])
    assert [fault.key for fault in caught.value.faults] == [
        "bed",
        "drawer",
        "material",
        "name",
        "things[1]",
        "things[3]",
    ]


def test_a_file_of_answers_is_read() -> None:
    """The example, with a decimal of every kind of thing."""
    answers = read_answers(EXAMPLE)
    assert (answers.name, answers.drawer, answers.bed) == ("Desk drawer", (362.0, 420.0, 62.0), (220.0, 220.0, 250.0))
    assert [thing.count for thing in answers.things] == [24, 2, 6, 2, 20]


def test_faults_of_a_file_of_answers_have_lines(tmp_path: Path) -> None:
    """Wrong types, unknown and missing keys, and lines within the list of things."""
    path = tmp_path / "answers.toml"
    path.write_text(
        'name = 3\ndrawr = "1 x 2 x 3"\nbed = "9 x 9 x 9"\nmaterial = "PLA"\nthings = [\n"a, R6, 1",\n"b"]\n'
    )
    with pytest.raises(RoomError) as caught:
        read_answers(path)
    assert [(fault.line, fault.key) for fault in caught.value.faults] == [
        (0, "drawer"),
        (1, "name"),
        (2, "drawr"),
        (7, "things[2]"),
    ]
    path.write_text("name = ")
    with pytest.raises(RoomError, match="the syntax"):
        read_answers(path)
    path.write_text('name = "a"\ndrawer = "9 x 9 x 9"\nbed = "9 x 9 x 9"\nmaterial = "PLA"\nthings = []\n')
    with pytest.raises(RoomError, match="at least one thing"):
        read_answers(path)


@given(st.text(max_size=60) | st.text("abx, ;round0123456789.,/'\"R6", max_size=30))
def test_any_line_is_a_thing_or_refused(line: str) -> None:
    """No line raises anything else."""
    try:
        said = parse_thing_line(line).name
    except AnswerError as error:
        said = error.remedy
    assert said
