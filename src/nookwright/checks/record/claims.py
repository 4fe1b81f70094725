"""Figures and words of kit.json that are not what they should be, and one finding about all of a sort.

Whoever reads kit.json acts on what stands there: buys, saws, waits, tries. A figure that follows from others is worked
out from them once more. One wrong figure draws others after it, so they are said together: the worst, and whose are
wrong as well.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.checks.in_words import names, unlike
from nookwright.ground.findings import Against, Finding, Severity
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

SHARE = Fact(1e-5, unit="1", kind=Kind.CHOICE, source="Of a figure: what is nearer is the same.")
ROUNDED = Fact(
    1e-4,
    unit="1",
    kind=Kind.CALCULATED,
    source="Of a sum of ten thousand figures, each rounded to 1e-6: 3 sigma.",
)
WRITTEN = Fact(2e-6, unit="1", kind=Kind.CALCULATED, source="Two figures of any unit that are written in millionths.")
REMEDY = "Build the kit again; do not change kit.json by hand. If it stays, please report it with the room file."


@dataclass(frozen=True)
class Wrong:
    """Something that kit.json has otherwise than it should be.

    Attributes:
        subject: id of what it is about.
        text: what is wrong, in a whole sentence.
        times: how many times over; infinite for words.
        against: the figure, and what it should be; none for words.
    """

    subject: str
    text: str
    times: float = float("inf")
    against: Against | None = None


def figure(
    subject: str, what: str, said: float, true: float, *, unit: str = "1", off: float = ROUNDED
) -> Iterator[Wrong]:
    """A figure that should be another one.

    Args:
        subject: id of what it is about.
        what: it is, to go before "by kit.json".
        said: by kit.json.
        true: what it should be.
        unit: of both; ``1`` for a number.
        off: by which it may differ besides a hundred-thousandth of it, in the unit.
    """
    if not abs(said - true) <= off + SHARE * abs(true):
        found, right = unlike(said, true, 0 if float(said).is_integer() and float(true).is_integer() else 2)
        of = "" if unit == "1" else f" {unit}"
        text = f"{what}: {found}{of} by kit.json; it should be {right}{of}."
        yield Wrong(subject, text, _times(said, true), Against(said, true, unit))


def between(subject: str, what: str, said: float, least: float, most: float, *, unit: str = "1") -> Iterator[Wrong]:
    """A figure that should lie between two others.

    Args:
        subject: id of what it is about.
        what: it is, to go before "by kit.json".
        said: by kit.json.
        least: what it should be at least.
        most: what it should be at most.
        unit: of all; ``1`` for a number.
    """
    yield from figure(subject, what, said, min(max(said, least), most), unit=unit)


def words(subject: str, what: str, said: object, true: object) -> Iterator[Wrong]:
    """Words, or whatever is told apart by itself, that should be others.

    Args:
        subject: id of what it is about.
        what: it is, to go before "by kit.json".
        said: by kit.json.
        true: what it should be.
    """
    if said != true:
        yield Wrong(subject, f"{what}: {_quoted(said)} by kit.json; it should be {_quoted(true)}.")


def said_once(code: str, severity: Severity, wrong: Iterable[Wrong]) -> Iterator[Finding]:
    """One finding about all that is wrong of a sort; none where nothing is.

    Args:
        code: of the finding.
        severity: of the finding.
        wrong: what is; what others follow from goes first.
    """
    found = list(wrong)
    if found:
        worst = found[0]
        others = list(dict.fromkeys(one.subject for one in found if one.subject != worst.subject))
        more = f" Wrong as well: {names(others)}." if others else ""
        yield Finding(code, severity, worst.subject, worst.text + more, REMEDY, worst.against)


def _times(said: float, true: float) -> float:
    low, high = sorted((abs(said), abs(true)))
    return high / low if low else float("inf")


def _quoted(value: object) -> str:
    """A value in words.

    >>> _quoted("a"), _quoted(""), _quoted(3), _quoted(("a", "b")), _quoted(True)
    ("'a'", 'nothing', '3', 'a, b', 'yes')
    """
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, tuple | list):
        return ", ".join(str(one) for one in value) or "none"
    return str(value) if isinstance(value, int | float) else repr(value) if value else "nothing"
