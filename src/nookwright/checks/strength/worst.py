"""Many like cases said as one finding: the worst, and how many there are."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.ground.findings import Against, Finding, Severity
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

SURELY = Fact(
    1.5,
    unit="1",
    kind=Kind.CHOICE,
    source="Stress found beyond half a plate's thickness is more than the real one: a note up to this share.",
)
ROUNDED = Fact(
    0.001, unit="1", kind=Kind.CALCULATED, source="A file rounds to 1e-5 mm: a tongue of 10 mm is read off to 1e-6."
)


@dataclass(frozen=True)
class Case:
    """One thing that is loaded.

    Attributes:
        part: its id.
        label: what people call it where it stands.
        what: which wall, floor or tongue of it.
        stress: that it bears, MPa.
        limit: that it may bear, MPa.
        sag: how far it bends, mm.
        bound: the real stress is less than the one found, since it bends beyond what the formulas hold for.
    """

    part: str
    label: str
    what: str
    stress: float
    limit: float
    sag: float = 0.0
    bound: bool = False

    @property
    def share(self) -> float:
        """Stress as a share of what it may be."""
        return self.stress / self.limit

    @property
    def beyond(self) -> bool:
        """Whether it is too much, by more than files round off."""
        return self.share > 1 + ROUNDED

    @property
    def sure(self) -> bool:
        """Whether it is too much for certain."""
        return self.beyond and (not self.bound or self.share > SURELY)


def worst_of(
    code: str, severity: Severity, cases: Iterable[Case], text: str, remedy: str, *, unit: str = "MPa"
) -> Iterator[Finding]:
    """One finding on all cases beyond their limit; nothing where none is.

    Args:
        code: of the finding.
        severity: of it where one is too much for certain; a note where all may be less than they seem.
        cases: all that were looked at.
        text: with the fields of a case in braces.
        remedy: what to do.
        unit: of stress and limit, where they are something else.
    """
    beyond = [case for case in cases if case.beyond]
    if not beyond:
        return
    worst = max(beyond, key=lambda case: (case.share, case.part, case.label, case.what))
    said = text.format(what=worst.what, stress=worst.stress, limit=worst.limit, sag=worst.sag)
    others = len({(case.part, case.label) for case in beyond} - {(worst.part, worst.label)})
    where = f"{worst.label}: " if worst.label else ""
    more = f" The same holds for {others} more, by less." if others else ""
    how = severity if any(case.sure for case in beyond) else Severity.NOTE
    maybe = "" if worst.sure else " Plates that bend so far stiffen: the real stress is less."
    against = Against(round(worst.stress, 2), round(worst.limit, 2), unit)
    yield Finding(code, how, worst.part, f"{where}{said}{maybe}{more}", remedy, against)
