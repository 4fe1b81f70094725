"""Printers as records of the kit."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.exchange import kit as k
from nookwright.sizing.printers.errors import ERRORS

if TYPE_CHECKING:
    from nookwright.sizing.printers.household import Household, Known
    from nookwright.survey.models import Printer


def _errors(known: Known) -> k.KitPrinterErrors:
    components = tuple(
        k.KitPrinterError(
            name=error.value,
            value=round(known.errors.value(error), 6),
            uncertainty=round(known.errors.uncertainty(error), 6),
        )
        for error in ERRORS
    )
    return k.KitPrinterErrors(material=known.material, basis=known.basis.value, components=components)


def printer_record(printer: Printer, household: Household) -> k.KitPrinter:
    """One printer, and how it errs in each of its materials."""
    return k.KitPrinter(
        id=printer.id,
        name=printer.name or printer.id,
        bed=(printer.bed_width, printer.bed_depth, printer.bed_height),
        margin=printer.margin,
        layer=printer.layer,
        errors=tuple(_errors(one) for one in household.known if one.printer == printer.id),
    )
