"""The errors of all printers of a room, and the one set that holds for parts that any of them may print.

A coupon tells of one printer with one material. Another material on the same printer shares its frame and its belts,
so it starts from there, a little less sure; a printer without any coupon has the defaults.

A part's recipe knows no printer, so allowances are the household's envelope: each component is taken from the printer
that is worst there. For what makes insides small that is the lowest that is likely, for what makes outsides large the
highest. Scale and skew work both ways, so there the envelope reaches as far to both sides as any printer does. With one
printer that is the printer itself, centred where it is.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum
from typing import TYPE_CHECKING

import numpy as np

from nookwright.ground.sources import Fact, Kind
from nookwright.sizing.printers.calibrate import calibrate
from nookwright.sizing.printers.errors import ERRORS, Error, PrinterErrors, unmeasured

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.survey.models import Coupon, Room

REACH = Fact(1.645, unit="1", kind=Kind.STANDARD, source="95 % of a normal distribution lie on one side of it.")
OTHER_OFFSET_SD = Fact(
    0.05, unit="mm", kind=Kind.COMMON_PRACTICE, source="Offsets of one printer from material to material."
)
OTHER_SCALE_SD = Fact(
    0.0005, unit="1", kind=Kind.COMMON_PRACTICE, source="Shrinkage differs by 0.05 % from one material to the next."
)
SHRINKING = (Error.INSIDE, Error.SMALL_HOLE)  # worst where they are lowest
GROWING = (Error.OUTSIDE, Error.FIRST_LAYER)  # worst where they are highest


PUT_RIGHT = (Error.SCALE_X, Error.SCALE_Y, Error.SKEW_DEG)  # what a printer can be set by


class Basis(StrEnum):
    """What the errors of a printer with a material rest on."""

    COUPON = "coupon"  # of this printer in this material
    OTHER_MATERIAL = "other material"  # a coupon of this printer in another material
    DEFAULTS = "defaults"


@dataclass(frozen=True)
class Known:
    """What is known of one printer with one material.

    Attributes:
        printer: its id.
        material: its id.
        basis: what that rests on.
        errors: how it errs.
    """

    printer: str
    material: str
    basis: Basis
    errors: PrinterErrors


@dataclass(frozen=True)
class Household:
    """All printers with all their materials.

    Attributes:
        known: in the order of the room file.
        envelope: for parts that any of them may print.
    """

    known: tuple[Known, ...]
    envelope: PrinterErrors

    @property
    def measured(self) -> bool:
        """Whether every printer has a coupon, in one material at least."""
        return all(one.basis is not Basis.DEFAULTS for one in self.known)

    @property
    def scale_apart(self) -> float:
        """By how much two parts, turned or of two printers, are likely to differ in scale at most: a share."""
        found = [
            _apart((one.errors, a), (other.errors, b))
            for number, one in enumerate(self.known)
            for other in self.known[number:]
            for a in (Error.SCALE_X, Error.SCALE_Y)
            for b in (Error.SCALE_X, Error.SCALE_Y)
            if one is not other or a is not b
        ]
        return max(found)

    @property
    def skew_deg(self) -> float:
        """The largest skew that a printer is likely to have: parts turned by 90 degrees differ by twice as much."""
        return max(_reach(one.errors, Error.SKEW_DEG) for one in self.known)


def household_of(room: Room) -> Household:
    """The printers of a room.

    Args:
        room: as surveyed; its coupons have been checked.
    """
    known = tuple(
        _known(room.coupon, printer.id, material) for printer in room.printer for material in printer.materials
    )
    return Household(known, envelope([one.errors for one in known]))


def envelope(printers: Sequence[PrinterErrors]) -> PrinterErrors:
    """The errors to reckon with where any of some printers may print a part.

    Args:
        printers: one or more.
    """
    if all(one == printers[0] for one in printers):
        return printers[0]
    mean, spread = [], []
    for error in ERRORS:
        if error in SHRINKING:
            worst = min(printers, key=lambda one: one.value(error) - REACH * one.uncertainty(error))
            mean.append(worst.value(error))
            spread.append(worst.uncertainty(error))
        elif error in GROWING:
            worst = max(printers, key=lambda one: one.value(error) + REACH * one.uncertainty(error))
            mean.append(worst.value(error))
            spread.append(worst.uncertainty(error))
        else:
            mean.append(0.0)
            spread.append(max(_reach(one, error) for one in printers) / REACH)
    covariance = np.diag(np.square(spread))
    return PrinterErrors(
        tuple(mean),
        tuple(tuple(row) for row in covariance.tolist()),
        max(one.scatter for one in printers),
        measured=all(one.measured for one in printers),
    )


def _apart(one: tuple[PrinterErrors, Error], other: tuple[PrinterErrors, Error]) -> float:
    """By how much two components are likely to differ at most; those of one printer err together."""
    (errors, a), (others, b) = one, other
    together = errors.covariance[ERRORS.index(a)][ERRORS.index(b)] if errors is others else 0.0
    variance = errors.uncertainty(a) ** 2 + others.uncertainty(b) ** 2 - 2 * together
    return abs(errors.value(a) - others.value(b)) + REACH * float(np.sqrt(max(0.0, variance)))


def _reach(errors: PrinterErrors, error: Error) -> float:
    """How far to one side an error is likely to go."""
    return abs(errors.value(error)) + REACH * errors.uncertainty(error)


def _known(coupons: Sequence[Coupon], printer: str, material: str) -> Known:
    """What the coupons say of one printer with one material."""
    own = [one for one in coupons if one.printer == printer and one.material == material]
    if own:
        return Known(printer, material, Basis.COUPON, _read(own))
    others = [one for one in coupons if one.printer == printer]
    if others:
        first = [one for one in others if one.material == others[0].material]
        return Known(printer, material, Basis.OTHER_MATERIAL, _less_sure(_read(first)))
    return Known(printer, material, Basis.DEFAULTS, unmeasured())


def _read(coupons: Sequence[Coupon]) -> PrinterErrors:
    """One printer with one material, from all coupons of the two; each goes on from the one before."""
    errors = unmeasured()
    for coupon in coupons:
        readings = {name: found.all for name, found in coupon.readings.items()}
        errors = calibrate(readings, before=errors, instrument=coupon.instrument, form=coupon.form)
        if coupon.corrected:
            mean = [0.0 if error in PUT_RIGHT else errors.value(error) for error in ERRORS]
            errors = replace(errors, mean=tuple(mean))
    return errors


def _less_sure(errors: PrinterErrors) -> PrinterErrors:
    """The same printer in another material; skew and first layer are the printer's own."""
    more = {
        Error.SCALE_X: OTHER_SCALE_SD,
        Error.SCALE_Y: OTHER_SCALE_SD,
        Error.OUTSIDE: OTHER_OFFSET_SD,
        Error.INSIDE: OTHER_OFFSET_SD,
        Error.SMALL_HOLE: OTHER_OFFSET_SD,
    }
    wider = np.array(errors.covariance) + np.diag([more.get(error, 0.0) ** 2 for error in ERRORS])
    return replace(errors, covariance=tuple(tuple(row) for row in wider.tolist()), measured=False)
