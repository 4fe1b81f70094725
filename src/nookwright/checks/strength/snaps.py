"""What is bent in use: tongues of lids and leaves of springs, against the strain that their plastic bears.

A nose that is pushed over an edge once may be strained as far as the plastic bears once; what is bent again and again,
four sevenths of that (snap-fit guides: 40 % instead of 70 % of the permissible).
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from nookwright.checks.strength.beams import tongue_force_n
from nookwright.checks.strength.plates import STANDING, Patch, Plate
from nookwright.checks.strength.tongues import Tongue, leaves_of, pressing_tongues, sliding_tongues
from nookwright.checks.strength.vessels import vessel_of
from nookwright.checks.strength.worst import Case, worst_of
from nookwright.ground.findings import Severity
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Mapping

    from nookwright.checks.bodies import Shape
    from nookwright.checks.strength.loads import Carried
    from nookwright.checks.strength.plastics import Plastic
    from nookwright.checks.strength.vessels import Vessel
    from nookwright.checks.verdicts import Verdicts
    from nookwright.exchange.kit import KitPart
    from nookwright.ground.findings import Finding

PER_CENT = Fact(100.0, unit="%", kind=Kind.STANDARD, source="A whole.")
TONGUE_WIDE = Fact(8.0, unit="mm", kind=Kind.CHOICE, source="Of a pressing tongue; a wider one gives way by less.")


def check_snaps(carried: Carried, shapes: Mapping[str, Shape], verdicts: Verdicts) -> tuple[Finding, ...]:
    """Check every tongue and leaf that is found.

    Args:
        carried: the kit and what its parts carry.
        shapes: sound meshes by file.
        verdicts: those reached before.
    """
    cases = [
        case
        for part in carried.kit.parts
        if part.stl in shapes and (plastic := carried.plastic(part.id)) is not None
        for case in _cases(part, plastic, carried, shapes, verdicts)
    ]
    return (
        *worst_of(
            "snap-strained", Severity.STOP, cases,
            "{what} is strained by {stress:.2f} %; the plastic bears {limit:.2f} %.",
            "Print it in PETG, which bears more, or take a lid or a filler without springs.", unit="%",
        ),
    )  # fmt: skip


def _cases(
    part: KitPart, plastic: Plastic, carried: Carried, shapes: Mapping[str, Shape], verdicts: Verdicts
) -> Iterator[Case]:
    """The tongues of one part."""
    shape = shapes[part.stl]
    travel = max((one.travel for one in carried.placed.get(part.id, ())), default=0.0)
    if travel > 0:
        for tongue in _known(f"leaves {shape.key} {travel}", lambda: leaves_of(shape, travel), verdicts):
            yield _case(part, "A leaf of its spring", tongue, plastic.strain)
    elif part.kind == "lid" and part.name.startswith("sliding"):
        for tongue in _known(f"tongues {shape.key}", lambda: sliding_tongues(shape), verdicts):
            yield _case(part, "A tongue, pushed over the front wall once,", tongue, plastic.strain)
    elif part.kind == "lid" and part.parameters.get("fit") == "press":
        tray = _tray_below(part, carried, shapes, verdicts)
        if tray is not None:
            inside = tray.width, tray.depth
            question = f"pressing {shape.key} {inside}"
            for tongue in _known(question, lambda: pressing_tongues(shape, inside), verdicts):
                bent = replace(tongue, deflection=tongue.deflection * _taken(tongue, tray, plastic))
                yield _case(part, "A tongue of its skirt, each time it is pressed on,", bent, plastic.often)


def _taken(tongue: Tongue, tray: Vessel, plastic: Plastic) -> float:
    """Share of what presses that the tongue gives way by; the wall of the tray, which is softer, takes the rest."""
    own = 1 / tongue_force_n(TONGUE_WIDE, tongue.thickness, 1.0, tongue.length, plastic.modulus_mpa)
    rims = [
        Plate(panel.span, panel.height, panel.thickness, STANDING)
        .bent(Patch(0.5, 0.9, 0.1, 0.2), 1.0, plastic.modulus_mpa)
        .sag
        for panel in tray.panels
    ]
    return own / (own + min(rims, default=0.0))


def _case(part: KitPart, what: str, tongue: Tongue, strain: float) -> Case:
    return Case(part.id, "", what, tongue.strain * PER_CENT, strain * PER_CENT)


def _known(question: str, look: Callable[[], Iterable[Tongue]], verdicts: Verdicts) -> Iterator[Tongue]:
    """Tongues from the verdicts, or looked at now."""
    found = verdicts.of(
        question, lambda: tuple(n for one in look() for n in (one.thickness, one.deflection, one.length))
    )
    return (Tongue(*found[at : at + 3]) for at in range(0, len(found), 3))


def _tray_below(part: KitPart, carried: Carried, shapes: Mapping[str, Shape], verdicts: Verdicts) -> Vessel | None:
    """The tray that a lid lies on; nothing for a lid on its own."""
    for placement in carried.placed.get(part.id, ()):
        for name in placement.stands_on:
            host = carried.parts[carried.part_of[name]]
            if host.kind == "tray" and host.stl in shapes:
                return vessel_of(shapes[host.stl], verdicts)
    return None
