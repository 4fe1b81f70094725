"""What became of a case: refused clearly, or a part that is sound, weighs what it says, and prints without support."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from nookwright.checks.crossing import crossings
from nookwright.checks.printable import printability
from nookwright.checks.soundness import unsoundness
from nookwright.ground.errors import SolidError
from nookwright.ground.findings import Severity
from nookwright.layout.liner import PanelSpec
from nookwright.module.lines import lines_of
from nookwright.module.pattern import Pattern
from nookwright.parts.liner.panel_openings import openings
from nookwright.solids.mesh import MeshKernel

if TYPE_CHECKING:
    from fuzz.part_cases import Case
    from nookwright.module.module import Module
    from nookwright.parts.model import Part
    from nookwright.solids.mesh import Mesh

NOZZLE = 0.4
VOLUME_OFF = 0.06  # of the mesh, by which the closed form may differ
BANDED_OFF = 0.11  # the same for a panel with bands along a cove: its closed form promises no better
SMALL_PANEL = 16  # cells: where bands, plates and straps cross, a closed form promises less
SMALL_OFF = 0.08
LEAN_BANDED_OFF = 0.34
BOX_OFF = 2e-4


class Verdict(StrEnum):
    """How a case ended, the worst first."""

    CRASH = "crash"
    TIME_OUT = "time-out"
    BROKEN = "broken"
    UNCLEAR = "unclear"  # refused without saying what is allowed, or what to do
    UNPRINTABLE = "unprintable"
    VOLUME_OFF = "volume off"
    SOLID = "solid"
    REFUSED = "refused"

    @property
    def fine(self) -> bool:
        """Whether it is as it should be."""
        return self in (Verdict.SOLID, Verdict.REFUSED)


@dataclass(frozen=True)
class Judgement:
    """A verdict, and why."""

    verdict: Verdict
    words: str = ""


def judged(case: Case) -> Judgement:
    """The worst of what is true of a case.

    Args:
        case: drawn and made.
    """
    if case.refusal:
        return Judgement(Verdict.REFUSED if case.clear else Verdict.UNCLEAR, case.rule if case.clear else case.refusal)
    found = [judged_part(part, case) for part in case.parts]
    order = list(Verdict)
    return min(found, key=lambda each: order.index(each.verdict))


def judged_part(part: Part, case: Case) -> Judgement:
    """One part of a case."""
    try:
        mesh = MeshKernel().mesh(part.recipe)
    except SolidError as error:
        return Judgement(Verdict.BROKEN, f"{part.name}: {error}")
    wrong = "; ".join(_faults(part, mesh, case))
    if wrong:
        return Judgement(Verdict.BROKEN, f"{part.name}: {wrong}")
    unfit = "; ".join(_unprintable(part, mesh, case.module))
    if unfit:
        return Judgement(Verdict.UNPRINTABLE, f"{part.name}: {unfit}")
    off = part.plastic.body_mm3 / mesh.volume_mm3 - 1
    if abs(off) > _may_be_off(case):
        return Judgement(Verdict.VOLUME_OFF, f"{part.name}: {100 * off:+.1f} % of {mesh.volume_mm3:.0f} mm3")
    return Judgement(Verdict.SOLID)


def _may_be_off(case: Case) -> float:
    """By which share of its volume the closed form of a case may differ."""
    spec = case.parameters
    if not isinstance(spec, PanelSpec):
        return VOLUME_OFF
    small = len(spec.cells) <= SMALL_PANEL
    if any(spec.set_back.sides):
        lean = spec.pattern in {Pattern.EVERY_SECOND, Pattern.UNDER_LAYOUT}
        return LEAN_BANDED_OFF if small and lean else BANDED_OFF
    return SMALL_OFF if small else VOLUME_OFF


def _faults(part: Part, mesh: Mesh, case: Case) -> list[str]:
    """What is wrong with the body itself."""
    said = [f"{each.code} {each.text}" for each in unsoundness("it", mesh.vertices, mesh.triangles)]
    through = 0 if said else crossings(mesh.vertices, mesh.triangles).pairs
    if through:
        said.append(f"{through} pairs of triangles cross")
    box = (0.0, 0.0, 0.0, *part.size)
    if any(abs(a - b) > BOX_OFF for a, b in zip(mesh.bounds, box, strict=True)):
        said.append(f"its box is {tuple(round(each, 3) for each in mesh.bounds)}, not {box}")
    if abs(part.plastic.height - part.size[2]) > BOX_OFF:
        said.append(f"it says {part.plastic.height:g} high")
    handles = genus(case)
    if handles is not None and mesh.genus != handles:
        said.append(f"genus {mesh.genus}, not {handles}")
    return said


def genus(case: Case) -> int | None:
    """The handles that a case's part must have, where they follow from its parameters here."""
    if isinstance(case.parameters, PanelSpec):
        return openings(case.parameters, case.module.pitch)
    return 0 if case.kind in NO_HANDLE else None


NO_HANDLE = frozenset(
    (
        *("bent-tray", "divider", "name-strip", "shoe-corners", "leaning-cradle", "rib-cradle", "nest", "nest-lids"),
        *("fence", "filler", "key", "bare-cradle", "box-riser", "drawer-riser"),
    )
)


def _unprintable(part: Part, mesh: Mesh, module: Module) -> list[str]:
    """What keeps it from printing without support; advice aside."""
    layer = module.seat.layer
    lines = lines_of(module.wall, NOZZLE, layer)
    if lines is None:
        return ["no line makes its wall"]
    found = printability(part.name, mesh.vertices, mesh.triangles, layer=layer, line=lines.width)
    return [f"{each.code} {each.text}" for each in found if each.severity is not Severity.NOTE]
