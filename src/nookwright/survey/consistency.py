"""What no model sees alone: references between tables, and keys that depend on each other.

The checks read the file as typed, not the models, so that they still run where other parts of the file are broken; each
of them passes over values of the wrong type, about which the models have spoken.
"""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING, Any

from nookwright.survey.bed_rules import bed_contradictions
from nookwright.survey.coupon_rules import coupon_contradictions
from nookwright.survey.cutting_rules import cutting_contradictions
from nookwright.survey.dispenser_rules import dispenser_contradictions
from nookwright.survey.furniture_rules import furniture_contradictions
from nookwright.survey.keeping_rules import keeping_contradictions
from nookwright.survey.layout_rules import layout_contradictions
from nookwright.survey.lot_rules import SIZES, lot_contradictions
from nookwright.survey.making_rules import making_contradictions
from nookwright.survey.models import Shape, Space, Stance
from nookwright.survey.own_sizes import typed_size
from nookwright.survey.plastic_rules import plastic_contradictions
from nookwright.survey.profile_rules import profile_contradictions
from nookwright.survey.rest_rules import rest_contradictions
from nookwright.survey.rough_rules import rough_contradictions
from nookwright.survey.service_rules import service_contradictions
from nookwright.survey.standards import DIMENSIONS, StandardSize, nearest_standards
from nookwright.survey.tray_rules import tray_contradictions
from nookwright.survey.trial_rules import trial_contradictions
from nookwright.survey.typed import Typed, listed, nearest, show

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.ground.errors import Fault
    from nookwright.survey.locate import Path

LINER = "liner"  # the keys of choices.colours that are no groups of lots
TEXT = "text"
STANCES = {
    Shape.BOX: (Stance.UPRIGHT, Stance.LYING),
    Shape.ROUND: (Stance.UPRIGHT, Stance.LYING),
    Shape.FLAT: (Stance.LYING, Stance.ON_EDGE),
    Shape.LOOSE: (),
}


def inconsistencies(typed: Typed) -> Iterator[Fault]:
    """Every fault of reference and of keys that depend on each other."""
    for kind in ("space", "lot", "process", "part", "printer", "material", "box", "spool", "furniture"):
        yield from _doubles(typed, kind)
    for path, lot in typed.tables("lot"):
        yield from _size(typed, path, lot)
        yield from _near(typed, path, lot)
        yield from _group(typed, path, lot)
    yield from _loaded(typed)
    yield from _colours(typed)
    yield from _homes(typed)
    yield from tray_contradictions(typed)
    yield from lot_contradictions(typed)
    yield from rough_contradictions(typed)
    yield from coupon_contradictions(typed)
    yield from trial_contradictions(typed)
    yield from plastic_contradictions(typed)
    yield from layout_contradictions(typed)
    yield from profile_contradictions(typed)
    yield from bed_contradictions(typed)
    yield from making_contradictions(typed)
    yield from cutting_contradictions(typed)
    yield from keeping_contradictions(typed)
    yield from rest_contradictions(typed)
    yield from dispenser_contradictions(typed)
    yield from furniture_contradictions(typed)
    yield from service_contradictions(typed)


def _doubles(typed: Typed, kind: str) -> Iterator[Fault]:
    """Ids that are used twice."""
    count: Counter[str] = Counter()
    for path, table in typed.tables(kind):
        name = table.get("id")
        if isinstance(name, str):
            count[name] += 1
            if count[name] == 2:  # noqa: PLR2004 - the second of the same id
                yield typed.fault(
                    (*path, "id"), allowed=f"an id that no other {kind} has", remedy="Rename one of them."
                )


def _size(typed: Typed, path: Path, lot: dict[str, Any]) -> Iterator[Fault]:
    """The size of a lot: from a standard or from a shape, and all of its dimensions."""
    standard, shape = lot.get("standard"), lot.get("shape")
    if standard is None and shape is None:
        yield typed.fault(
            (*path, "shape"),
            found="neither shape nor standard",
            allowed="one of " + ", ".join(f'"{shape}"' for shape in Shape) + ", or a standard",
            remedy="Add a line `shape = ...` with its dimensions, or `standard = ...` with a designation.",
        )
    elif isinstance(standard, str):
        yield from _by_standard(typed, path, lot, standard)
    elif shape in list(Shape):
        yield from _by_shape(typed, path, lot, Shape(shape))


def _by_standard(typed: Typed, path: Path, lot: dict[str, Any], name: str) -> Iterator[Fault]:
    """A lot whose size is published."""
    size = typed_size(name, typed)
    if size is None:
        close = nearest_standards(name)
        yield typed.fault(
            (*path, "standard"),
            allowed="a designation of the list of published sizes",
            remedy=f"Write one of them, such as {', '.join(map(show, close))}, or give shape and dimensions.",
        )
        return
    for key in ("shape", *SIZES):
        if key in lot and key not in size.left_open:
            yield typed.fault(
                (*path, key),
                allowed=f"no {key} beside a standard that states it",
                remedy=f"Delete `{key}`, or delete `standard` and give all dimensions.",
            )
    yield from _still_open(typed, path, lot, size)
    yield from _stands(typed, path, lot, size.shape)


def _still_open(typed: Typed, path: Path, lot: dict[str, Any], size: StandardSize) -> Iterator[Fault]:
    """What a standard leaves open and the lot does not say."""
    for key in size.left_open:
        if key not in lot:
            yield typed.fault(
                (*path, key),
                found="nothing",
                allowed="a mass in grams" if key == "mass_g" else "a length, more than 0",
                remedy=f"Add a line `{key} = ...`; {size.designation} does not state it.",
            )


def _by_shape(typed: Typed, path: Path, lot: dict[str, Any], shape: Shape) -> Iterator[Fault]:
    """A lot whose size was measured."""
    needed = DIMENSIONS[shape]
    for key in needed:
        if key not in lot:
            yield typed.fault(
                (*path, key),
                found="nothing",
                allowed="a length, more than 0",
                remedy=f'Add a line `{key} = ...`; the shape "{shape}" needs {" and ".join(needed)}.',
            )
    for key in SIZES:
        if key in lot and key not in needed:
            yield typed.fault(
                (*path, key),
                allowed=f'for the shape "{shape}" only {", ".join(needed) or "volume_ml"}',
                remedy=f"Delete `{key}`, or choose another shape.",
            )
    if "mass_g" not in lot:
        yield typed.fault(
            (*path, "mass_g"),
            found="nothing",
            allowed="a mass in grams, more than 0",
            remedy="Add a line `mass_g = ...` with the mass of one thing, so that no space is loaded too much.",
        )
    yield from _stands(typed, path, lot, shape)


def _stands(typed: Typed, path: Path, lot: dict[str, Any], shape: Shape) -> Iterator[Fault]:
    """Stances that the shape cannot take."""
    stands = lot.get("stands")
    possible = STANCES[shape]
    for index, stance in enumerate(stands if isinstance(stands, list) and possible else ()):
        if stance in list(Stance) and stance not in possible:
            yield typed.fault(
                (*path, "stands", index),
                allowed=f'for the shape "{shape}" only ' + ", ".join(f'"{one}"' for one in possible),
                remedy="Delete it, or choose another shape.",
            )


def _near(typed: Typed, path: Path, lot: dict[str, Any]) -> Iterator[Fault]:
    """Neighbours that are no other lot."""
    near = lot.get("near")
    if not isinstance(near, list):
        return
    others = [name for name in typed.ids("lot") if name != lot.get("id")]
    for index, name in enumerate(near):
        if isinstance(name, str) and name not in others:
            yield _unknown(typed, (*path, "near", index), name, others, "the id of another lot")


def _group(typed: Typed, path: Path, lot: dict[str, Any]) -> Iterator[Fault]:
    """A group that has a name kept for the liner or for lettering."""
    if lot.get("group") in (LINER, TEXT):
        yield typed.fault(
            (*path, "group"),
            allowed=f'any short name but "{LINER}" and "{TEXT}", which have their own meaning in choices.colours',
            remedy="Rename the group.",
        )


def _loaded(typed: Typed) -> Iterator[Fault]:
    """Materials of printers that are not in the file."""
    materials = typed.ids("material")
    for path, printer in typed.tables("printer"):
        loaded = printer.get("materials")
        for index, name in enumerate(loaded if isinstance(loaded, list) else ()):
            if isinstance(name, str) and name not in materials:
                yield _unknown(typed, (*path, "materials", index), name, materials, "the id of a material")


def _colours(typed: Typed) -> Iterator[Fault]:
    """Colours of groups that no lot has, of materials that are not in the file or that no printer loads."""
    colours = typed.at(("choices", "colours"))
    grouped = (table.get("group") for kind in ("lot", "part") for _, table in typed.tables(kind))
    groups = {group for group in grouped if isinstance(group, str)} | {LINER, TEXT}
    materials = typed.ids("material")
    loaded = {name for _, printer in typed.tables("printer") for name in _texts(printer.get("materials"))}
    for group, name in (colours if isinstance(colours, dict) else {}).items():
        path: Path = ("choices", "colours", group)
        if group not in groups:
            yield _unknown(typed, path, group, sorted(groups), "a group of lots, liner or text")
        if not isinstance(name, str):
            continue
        if name not in materials:
            yield _unknown(typed, path, name, materials, "the id of a material")
        elif name not in loaded:
            yield typed.fault(
                path,
                allowed="a material that a printer may print",
                remedy=f"Add {show(name)} to the materials of a printer.",
            )


def _homes(typed: Typed) -> Iterator[Fault]:
    """Homes of groups that no lot has, and spaces that are not in the file."""
    homes = typed.at(("choices", "homes"))
    groups = sorted({lot["group"] for _, lot in typed.tables("lot") if isinstance(lot.get("group"), str)})
    spaces = typed.ids("space")
    for group, names in (homes if isinstance(homes, dict) else {}).items():
        path: Path = ("choices", "homes", group)
        if group not in groups:
            yield _unknown(typed, path, group, groups, "a group of lots")
        for index, name in enumerate(names if isinstance(names, list) else ()):
            if isinstance(name, str) and name not in spaces:
                yield _unknown(typed, (*path, index), name, spaces, "the id of a space")


def _texts(value: object) -> list[str]:
    """The texts of a list."""
    return [item for item in value if isinstance(item, str)] if isinstance(value, list) else []


def _unknown(typed: Typed, path: Path, name: str, known: tuple[str, ...] | list[str], what: str) -> Fault:
    """A name that stands for nothing in this file."""
    close = nearest(name, known)
    remedy = f"Write {show(close)} instead." if close else "Write one of them, or add what it names."
    return typed.fault(path, found=show(name), allowed=f"{what}: {listed(known)}", remedy=remedy)


def outside(typed: Typed, path: Path, space: Space) -> Iterator[Fault]:
    """Blocked boxes that reach out of their space; the space itself must be sound."""
    limits = {
        "width": ("x", space.width.largest),
        "depth": ("y", space.depth.largest),
        "height": ("z", space.height.largest),
    }
    for index, box in enumerate(space.blocked):
        for side, (start, most) in limits.items():
            length = getattr(box, side)
            reach = getattr(box, start) + (length or 0.0)
            if reach > most or (length is None and reach >= most):
                yield typed.fault(
                    (*path, "blocked", index),
                    found=f"{start} + {side} = {reach:g} mm",
                    allowed=f"at most the {side} of the space, {most:g} mm",
                    remedy="Measure it again from the front left corner of the floor.",
                )
