"""Faults that fit and print, and hurt somebody or break something all the same."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.checks.cautions.blades import FREE_HANDLE
from nookwright.ground.findings import Severity
from nookwright.survey.models import Blocked

from .table import plain, sized

if TYPE_CHECKING:
    from nookwright.exchange.kit import LotPlace

    from .harness import Sample


@plain("out-of-reach")
def in_reach(sample: Sample) -> Sample:
    """A knife that is to be out of children's reach lies in a drawer that they open."""
    return sample.surveyed("lot", "coin-cells", out_of_reach=False).surveyed("space", "drawer", children=True)


@plain("button-cell-in-reach", severity=Severity.WARN, besides=("out-of-reach",))
def cells_in_reach(sample: Sample) -> Sample:
    """Button cells lie in a drawer that children open."""
    return sample.surveyed("lot", "coin-cells", out_of_reach=False).surveyed("space", "drawer", children=True)


@plain("blade-in-tray", severity=Severity.WARN)
def loose_blade(sample: Sample) -> Sample:
    """Blades lie loose in a plain tray."""
    return sample.surveyed("lot", "straws", hazard="blade")


@plain("reach-doubtful", severity=Severity.WARN)
def low_enough(sample: Sample) -> Sample:
    """A knife that is to be out of children's reach lies low enough for them, and nothing says that it is locked."""
    return sample.where(choices=sample.room.choices.model_copy(update={"children_reach": 1000.0}))


@plain("small-parts-in-reach", severity=Severity.WARN)
def small_parts(sample: Sample) -> Sample:
    """Dice lie where small children reach."""
    choices = sample.room.choices.model_copy(update={"small_children": True})
    return sample.where(choices=choices).surveyed("space", "low", children=True)


@sized("blade-handle", f"{FREE_HANDLE:g} mm that a hand wants", severity=Severity.WARN)
def handle_shut_in(sample: Sample, size: float) -> Sample:
    """The handle of a knife is too short to be taken."""

    def shorter(place: LotPlace) -> dict[str, object]:
        (_, y, _), beside = place.at[0], place.beside
        assert beside
        length = FREE_HANDLE / size
        middle = -length / 2  # before the first support, which begins at 0
        return {
            "beside": beside.model_copy(
                update={"size": (beside.size[0], length, beside.size[2]), "offset": (0.0, middle - y, 0.0)}
            )
        }

    return sample.keeping("knife", shorter)


@plain("service-filled", besides=("service-forgotten",))
def path_filled(sample: Sample) -> Sample:
    """A tray stands in a ventilation path that the layout has forgotten."""
    (low, _) = sample.box_of("coin-cells")
    return _with_path(sample, float(low[0]) + 5, float(low[1]) + 5)


@plain("service-forgotten")
def path_forgotten(sample: Sample) -> Sample:
    """The kit does not know of a ventilation path at all."""
    return _with_path(sample, 396.0, 20.0)


@plain("service-passed", besides=("service-forgotten",))
def path_passed(sample: Sample) -> Sample:
    """A pipe that stays where it is would hit what stands behind it when its drawer comes out."""
    (low, _) = sample.box_of("cards")
    return _with_path(sample, float(low[0]) + 5, 20.0, stays=True)


@plain("service-passed", severity=Severity.WARN, besides=("service-forgotten",))
def path_may_stay(sample: Sample) -> Sample:
    """A pipe stands before a tray in a drawer, and nobody says whether it stays when the drawer is pulled out."""
    (low, _) = sample.box_of("cards")
    return _with_path(sample, float(low[0]) + 5, 20.0, stays=None)


def _with_path(sample: Sample, x: float, y: float, *, stays: bool | None = False) -> Sample:
    """A service path of 12 x 12 mm in the drawer, in the survey alone."""
    (space,) = (one for one in sample.room.space if one.id == "drawer")
    sizes = {"x": x, "y": y, "z": 10.0, "width": 12.0, "depth": 12.0, "height": 30.0}
    path = Blocked.model_validate({"reason": "a pipe", "service": True, "stays": stays, **sizes})
    return sample.surveyed("space", "drawer", blocked=(*space.blocked, path))
