"""The files of a coupon: the part as STL, on its printer's bed as 3MF, and the table to fill in."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.exchange.csv_table import table
from nookwright.exchange.stl import write_stl
from nookwright.exchange.threemf import BaseMaterial, Body, Item, ThreeMF, write_3mf
from nookwright.ground.errors import Fault
from nookwright.sizing.printers.coupon import PEG, arm_of, features
from nookwright.survey.coupon_table import ID_COLUMN, READING_COLUMN
from nookwright.survey.load import read_toml
from nookwright.survey.origins import CouponForm
from nookwright.survey.typed import listed, show

if TYPE_CHECKING:
    from pathlib import Path

    from nookwright.parts.model import Part
    from nookwright.solids.triangles import Mesh
    from nookwright.survey.models import Material, Printer, Room

_TIMES = 3  # readings that the table has room for
HEAD = (ID_COLUMN, "what to measure", "drawn mm", *(f"{READING_COLUMN} {n}" for n in range(1, _TIMES + 1)))


def coupon_bed_faults(path: Path, room: Room | None, form: CouponForm, only: str = "") -> tuple[Fault, ...]:
    """Printers that are not there, or whose bed is too small for their coupon.

    Args:
        path: the room file.
        room: what it holds.
        form: how long the coupon's cross is.
        only: id of the one printer that is wanted; all when left out.
    """
    typed, faults = read_toml(path)
    if room is None or typed is None:
        return faults
    known = typed.ids("printer")
    if only and only not in known:
        return (Fault(str(path), 0, "--printer", show(only), listed(known), "Name one of the printers."),)
    size = 2 * arm_of(form) + PEG
    return tuple(
        typed.fault(
            ("printer", number, side),
            allowed=f"at least {size + 2 * printer.margin:g} mm: the {form} coupon and two margins",
            remedy="Take the short one." if form is CouponForm.LONG else "Leave this printer out with --printer.",
        )
        for number, printer in enumerate(room.printer)
        for side in ("bed_width", "bed_depth")
        if (not only or printer.id == only) and getattr(printer, side) < size + 2 * printer.margin
    )


def write_coupon(folder: Path, part: Part, mesh: Mesh, *, printer: Printer, material: Material) -> tuple[Path, ...]:
    """Write the part, by itself and on the middle of its printer's bed.

    Args:
        folder: to write to.
        part: the coupon.
        mesh: of it.
        printer: that prints it.
        material: that it is printed in.

    Returns:
        The files.
    """
    alone, laid = folder / f"coupon_{printer.id}.stl", folder / f"coupon_{printer.id}_{material.id}.3mf"
    write_stl(alone, mesh.vertices, mesh.triangles)
    x, y = (printer.bed_width - part.size[0]) / 2, (printer.bed_depth - part.size[1]) / 2
    matrix = ((1.0, 0.0, 0.0, x), (0.0, 1.0, 0.0, y), (0.0, 0.0, 1.0, 0.0), (0.0, 0.0, 0.0, 1.0))
    content = ThreeMF(
        bodies=(Body(part.name, "coupon", mesh.vertices, mesh.triangles),),
        items=(Item(0, matrix, "coupon-1"),),
        materials=(BaseMaterial(material.name or material.id, material.colour),),
        metadata=(("Title", f"Coupon for {printer.name or printer.id}"), ("Application", "nookwright")),
    )
    write_3mf(laid, content)
    return alone, laid


def readings_table(form: CouponForm) -> str:
    """The table to fill in, as CSV: a row a feature, empty cells for its readings.

    Args:
        form: how long the coupon's cross is.
    """
    empty = ("",) * _TIMES
    return table(HEAD, ((one.id, one.what, f"{one.nominal:.2f}", *empty) for one in features(form)))
