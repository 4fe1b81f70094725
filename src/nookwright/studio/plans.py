"""Plans of texts: the last that were made, and why one could not be made."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.studio.journal import sha256

if TYPE_CHECKING:
    from nookwright.ground.errors import Fault
    from nookwright.studio.planned import Planned

PLANS_KEPT = Fact(6, unit="1", kind=Kind.CHOICE, source="Plans that undo, redo and another try come back to at once.")


@dataclass(frozen=True)
class Unplanned:
    """Why a text could not be planned.

    Attributes:
        sha256: of the text; empty where none was refused yet.
        faults: that only planning finds, such as a place between cells, or a part that cannot be made to order.
        error: in words, where the work ended otherwise.
    """

    sha256: str = ""
    faults: tuple[Fault, ...] = ()
    error: str = ""


class Plans:
    """The last plans that were made, by the text that each is of."""

    def __init__(self) -> None:
        """Have none yet."""
        self._kept: dict[str, Planned] = {}

    def keep(self, plan: Planned) -> None:
        """Keep a plan for when its text comes again, and let the oldest go."""
        self._kept.pop(plan.sha256, None)
        self._kept[plan.sha256] = plan
        while len(self._kept) > PLANS_KEPT:
            del self._kept[next(iter(self._kept))]

    def of(self, text: str) -> Planned | None:
        """The plan of a text, where it is kept."""
        return self._kept.get(sha256(text))
