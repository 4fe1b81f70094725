"""Figures and words that are held against what they should be."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from nookwright.checks.record.claims import ROUNDED, SHARE, Wrong, between, figure, said_once, words
from nookwright.ground.findings import Severity

SIZES = st.floats(-1e6, 1e6, allow_nan=False)


@given(SIZES, st.floats(-0.9, 0.9))
def test_what_is_rounded_is_no_fault(true: float, share: float) -> None:
    """A figure may be off by a little of it, and by what sums round off."""
    assert list(figure("kit", "It weighs", true + share * (ROUNDED + SHARE * abs(true)), true)) == []


@given(SIZES, st.floats(1.1, 10))
def test_what_is_more_is_said_with_both_figures(true: float, times: float) -> None:
    """To either side."""
    off = times * (ROUNDED + SHARE * abs(true))
    for said in (true + off, true - off):
        (wrong,) = figure("kit", "It weighs", said, true, unit="g")
        assert wrong.against
        assert (wrong.against.computed, wrong.against.limit, wrong.against.unit) == (said, true, "g")
        assert wrong.text.startswith("It weighs: ")


def test_no_number_is_never_right() -> None:
    """A figure that is none is found, and one that is beyond all."""
    assert all(list(figure("kit", "It weighs", said, 1.0)) for said in (float("nan"), float("inf")))


@given(SIZES, SIZES, SIZES)
def test_between_is_silent_between(one: float, other: float, said: float) -> None:
    """And names the nearer end outside."""
    least, most = sorted((one, other))
    found = list(between("kit", "It is", said, least, most))
    if least <= said <= most:
        assert found == []
    for wrong in found:
        assert wrong.against
        assert wrong.against.limit in (least, most)


def test_words_are_told_as_people_read_them() -> None:
    """Nothing is called nothing, and a list has commas."""
    assert list(words("kit", "Its name", "a", "a")) == []
    said = [one.text for one in words("kit", "Its lots", ("a", "b"), ())]
    assert said == ["Its lots: a, b by kit.json; it should be none."]
    assert [one.text for one in words("kit", "It is so", True, False)] == [  # noqa: FBT003
        "It is so: yes by kit.json; it should be no."
    ]


def test_all_that_is_wrong_is_said_once() -> None:
    """The first with its text, the others by name, each once."""
    wrong = [Wrong("a", "It is wrong."), Wrong("b", "It too."), Wrong("b", "It again."), Wrong("a", "And it.")]
    (found,) = said_once("total-wrong", Severity.STOP, wrong)
    assert (found.subject, found.text) == ("a", "It is wrong. Wrong as well: b.")
    assert list(said_once("total-wrong", Severity.STOP, [])) == []
