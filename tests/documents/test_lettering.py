"""Widths and line breaks."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from nookwright.documents import lettering

TEXTS = st.text(st.characters(exclude_categories=["Cs", "Cc"]), max_size=60)


@given(TEXTS, TEXTS)
def test_width_adds_up_and_grows(one: str, other: str) -> None:
    """A text of two is as wide as both, twice the size is twice as wide, and bold is never narrower."""
    both = lettering.width(one + other, 3)
    assert abs(both - lettering.width(one, 3) - lettering.width(other, 3)) < 1e-9
    assert abs(lettering.width(one, 6) - 2 * lettering.width(one, 3)) < 1e-9
    assert lettering.width(one, 3, bold=True) >= lettering.width(one, 3) - 0.06 * len(one)


@given(TEXTS, st.floats(0, 80))
def test_fitted_fits(text: str, limit: float) -> None:
    """What is cut to a width has it, and is the whole text where that fits."""
    found = lettering.fitted(text, limit, 3)
    assert lettering.width(found, 3) <= limit or not found
    if lettering.width(text, 3) <= limit:
        assert found == text
    else:
        assert not found or (found.endswith("…") and text.startswith(found[:-1]))


@given(TEXTS, st.floats(1, 80))
def test_wrapped_keeps_every_letter(text: str, limit: float) -> None:
    """Lines that fit hold the whole text, blanks aside; nothing comes back only where a word is too wide."""
    lines = lettering.wrapped(text, limit, 3)
    if lines is None:
        assert max(lettering.width(word, 3) for word in text.split()) > limit
        return
    assert "".join("".join(lines).split()) == "".join(text.split())
    assert all(lettering.width(line, 3) <= limit for line in lines)


@given(TEXTS, st.floats(1, 80), st.integers(1, 4))
def test_broken_always_fits(text: str, limit: float, most: int) -> None:
    """Whatever the text, there are no more lines than allowed and none is too wide (but for a lone wide letter)."""
    lines = lettering.broken(text, limit, 3, most=most)
    assert len(lines) <= most
    for line in lines:
        assert lettering.width(line, 3) <= limit or len(line) == 1


def test_letters_outside_the_table_take_the_em() -> None:
    """Accents cost nothing, other scripts are taken at a full em."""
    assert lettering.width("Ä", 10) == lettering.width("A", 10)
    assert lettering.width("ペ", 10) >= 10
