"""Colours."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.documents import style


def _luminance(colour: str) -> float:
    """WCAG 2.2, relative luminance."""
    channels = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    """WCAG 2.2, contrast ratio."""
    light, dark = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


@given(st.from_regex(r"\A#[0-9a-fA-F]{6}\Z"))
def test_ink_reads_on_any_tint(colour: str) -> None:
    """WCAG 2.2, 1.4.3 (AA): ink on the tint of any material, black too, has at least 4.5 to 1."""
    assert contrast(style.INK, style.tint(colour)) >= 4.5


@pytest.mark.parametrize("colour", [style.INK, style.FAINT, style.RED])
def test_lettering_reads_on_paper(colour: str) -> None:
    """WCAG 2.2, 1.4.3 (AA): every colour of lettering has at least 4.5 to 1 on the paper."""
    assert contrast(colour, style.PAPER) >= 4.5


@given(st.text(max_size=12))
def test_only_a_colour_is_a_colour(text: str) -> None:
    """Whatever is not written as #rrggbb becomes a grey, so nothing else gets into a style."""
    assert style.safe_colour(text) in {text.lower(), style.FAINT}
    assert len(style.safe_colour(text)) == 7
