"""How numbers and names read on paper and screen: one way for all documents."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from nookwright.exchange.kit import KitAgainst
    from nookwright.exchange.layout_models import KitLayout


def mm(value: float) -> str:
    """A length in millimetres, to a tenth, without a needless nought.

    >>> mm(107.0), mm(107.44), mm(0), mm(-0.01)
    ('107', '107.4', '0', '0')
    """
    text = f"{value:.1f}".removesuffix(".0")
    return "0" if text == "-0" else text


def size(values: Sequence[float]) -> str:
    """Width, depth and height.

    >>> size((107.4, 143.0, 48.0))
    '107.4 × 143 × 48'
    """
    return " × ".join(mm(value) for value in values)


def grams(mass_g: float) -> str:
    """A mass to three figures or the gram; kilograms from one on.

    >>> grams(0)
    '0 g'
    >>> grams(3.26), grams(9.97), grams(214.4), grams(999.7), grams(12000)
    ('3.3 g', '10 g', '214 g', '1.00 kg', '12.0 kg')
    """
    if mass_g == 0:
        return "0 g"
    if round(mass_g, 1) < 10:  # noqa: PLR2004 - below, a tenth of a gram matters
        return f"{mass_g:.1f} g"
    if round(mass_g) < 1000:  # noqa: PLR2004 - grams of a kilogram
        return f"{mass_g:.0f} g"
    kilograms = mass_g / 1000
    return f"{kilograms:.2f} kg" if round(kilograms, 2) < 10 else f"{kilograms:.1f} kg"  # noqa: PLR2004


def against(figure: KitAgainst | None) -> str:
    """What was computed, and its limit, with their unit; empty where there is no figure.

    Args:
        figure: of a finding.
    """
    if figure is None:
        return ""
    unit = "" if figure.unit == "1" else f" {figure.unit}"
    return f"{figure.computed:.4g}{unit} against {figure.limit:.4g}{unit}"


def probability(share: float) -> str:
    """A probability in whole percent, tenths near certainty; never a certainty that chance did not prove.

    >>> probability(0.5), probability(0.9874), probability(0.99996), probability(0.0)
    ('50 %', '98.7 %', 'over 99.9 %', '0 %')
    """
    if share > 0.9995:  # noqa: PLR2004 - where a tenth of a percent would round up to certainty
        return "over 99.9 %"
    return f"{100 * share:.1f} %" if share >= 0.95 else f"{100 * share:.0f} %"  # noqa: PLR2004 - tenths matter there


def duration(time_s: float) -> str:
    """A time in hours and minutes; from a day on, in hours.

    >>> duration(0), duration(59), duration(5400), duration(7200), duration(362000)
    ('0 min', '1 min', '1 h 30 min', '2 h', '101 h')
    """
    minutes = round(time_s / 60)
    hours, rest = divmod(minutes, 60)
    if hours >= 24:  # noqa: PLR2004 - hours of a day; no estimate is good to minutes beyond
        return f"{time_s / 3600:.0f} h"
    if hours == 0:
        return f"{minutes} min"
    return f"{hours} h {rest} min" if rest else f"{hours} h"


def listed(words: Iterable[str], *, at_most: int = 3, between: str = ", ") -> str:
    """Words in their order, each once, the rest only counted.

    >>> listed(["a", "b", "a"]), listed(["a", "b", "c", "d", "e"])
    ('a, b', 'a, b, c and 2 more')
    """
    once = list(dict.fromkeys(words))
    if len(once) <= at_most:
        return between.join(once)
    return f"{between.join(once[:at_most])} and {len(once) - at_most} more"


def layout_points(layout: KitLayout) -> str:
    """What the layout costs, in points: all of it, what of that the search counts, and the proven least of that."""
    whole = layout.total + sum(part.value for part in layout.arrangement)
    return f"{whole:.1f}, {layout.total:.1f}, {layout.bound:.1f}"


def calm_title(layout: KitLayout) -> str:
    """What the price is of, by the layout that was built."""
    return "calm takes more than the tightest" if layout.style == "calm" else "calm would take more than this"


def calm_price(layout: KitLayout) -> str:
    """Floor and plastic that the calm layout takes more than the tightest; minus where it is less."""
    return f"{layout.calm_dm2:+.1f} dm2, {layout.calm_g:+.0f} g"
