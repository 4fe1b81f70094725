"""What is known of the printers, and what follows for the seat: how fast clearances grow, and what there is to say.

With a coupon of every printer the sockets need to grow by half as much only, as long as the printers agree with each
other: scale and skew that a coupon found but nobody put right still keep a turned part from going on.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.ground.findings import Finding, Severity
from nookwright.ground.sources import Fact, Kind
from nookwright.module.seat import CLEARANCE_GROWTH, LEAD_IN
from nookwright.module.seating import COUPON_GROWTH, COUPON_SCALE_SD, COUPON_SKEW_SD_DEG
from nookwright.sizing.printers.errors import ERRORS, PERCENT, Error
from nookwright.sizing.printers.household import REACH, Basis

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.sizing.printers.errors import PrinterErrors
    from nookwright.sizing.printers.household import Household, Known

FIRST_LAYER_COVERED = Fact(
    0.25, unit="mm", kind=Kind.CALCULATED, source="The lead-in of 0.4 and a panel's inset, less 0.15 to slide past."
)
EXPANDED = Fact(2.0, unit="1", kind=Kind.STANDARD, source="GUM 6.3.3: a coverage factor of 2 is about 95 %.")


def clearance_growth(household: Household) -> float:
    """Growth of the sockets' clearance with the distance from a part's middle, mm/mm.

    Args:
        household: what is known of the printers.
    """
    return float(COUPON_GROWTH if household.measured and _agree(household) else CLEARANCE_GROWTH)


def _agree(household: Household) -> bool:
    """Whether scale and skew are as near together as the smaller growth was tried with."""
    scale, skew_deg = REACH * COUPON_SCALE_SD, REACH * COUPON_SKEW_SD_DEG
    return household.scale_apart <= scale and household.skew_deg <= skew_deg


def about_printers(household: Household) -> tuple[Finding, ...]:
    """What the kit says of its printers: which were measured and how they err, which are taken at the usual errors.

    Args:
        household: what is known of the printers.
    """
    return (*_measured(household), *_unmeasured(household), *_first_layers(household), *_apart(household))


def in_words(errors: PrinterErrors) -> str:
    """The errors of a printer with their expanded uncertainty."""
    return "; ".join(_said(errors, error) for error in ERRORS)


def _said(errors: PrinterErrors, error: Error) -> str:
    value, expanded = errors.value(error), EXPANDED * errors.uncertainty(error)
    if error in {Error.SCALE_X, Error.SCALE_Y}:
        return f"{error} {value / PERCENT:+.3f} ± {expanded / PERCENT:.3f} %"
    if error is Error.SKEW_DEG:
        return f"{error} {value:+.3f} ± {expanded:.3f} degrees"
    return f"{error} {value:+.2f} ± {expanded:.2f} mm"


def _measured(household: Household) -> Iterator[Finding]:
    for one in household.known:
        if one.basis is Basis.COUPON:
            yield Finding(
                "printer-measured",
                Severity.NOTE,
                one.printer,
                f"Its coupon in {one.material} says: {in_words(one.errors)}.",
                "Print another coupon after a new nozzle, belt, or change of settings.",
            )
        elif one.basis is Basis.OTHER_MATERIAL:
            yield Finding(
                "printer-measured-in-another-material",
                Severity.NOTE,
                one.printer,
                f"It has no coupon in {one.material}; that of another material is used, a little less sure.",
                f"Print its coupon in {one.material} too, where fits matter.",
            )


def _unmeasured(household: Household) -> Iterator[Finding]:
    printers: dict[str, Known] = {}
    for one in household.known:
        if one.basis is Basis.DEFAULTS:
            printers.setdefault(one.printer, one)
    for name, one in printers.items():
        yield Finding(
            "printer-not-measured",
            Severity.NOTE,
            name,
            f"It has no coupon, so sizes reckon with the usual errors of a printer: {in_words(one.errors)}.",
            "Print its coupon (`nookwright coupon`) and type in what you read: pockets and sockets become closer.",
        )


def _first_layers(household: Household) -> Iterator[Finding]:
    for one in household.known:
        spread = one.errors.value(Error.FIRST_LAYER)
        if one.basis is Basis.COUPON and spread > FIRST_LAYER_COVERED:
            yield Finding(
                "first-layer-spreads",
                Severity.WARN,
                one.printer,
                f"Its first layer spreads by {spread:.2f} mm to each side in {one.material}; lead-ins and insets of "
                f"{LEAD_IN:g} mm are made for {FIRST_LAYER_COVERED:g}.",
                "Set the nozzle a little higher over the bed for the first layer, then read the coupon's foot again.",
            )


def _apart(household: Household) -> Iterator[Finding]:
    if not household.measured or _agree(household):
        return
    settings = "; ".join(
        f"{one.printer} in {one.material}: x {_put_right(one.errors, Error.SCALE_X):.2f} %, "
        f"y {_put_right(one.errors, Error.SCALE_Y):.2f} %, skew {-one.errors.value(Error.SKEW_DEG):+.2f} degrees"
        for one in household.known
        if one.basis is Basis.COUPON
    )
    yield Finding(
        "printers-differ",
        Severity.NOTE,
        household.known[0].printer,
        f"Parts may differ by {household.scale_apart / PERCENT:.2f} % in scale (allowed "
        f"{REACH * COUPON_SCALE_SD / PERCENT:.2f}) and lean by {household.skew_deg:.2f} degrees (allowed "
        f"{REACH * COUPON_SKEW_SD_DEG:.2f}), so sockets stay as wide as without coupons.",
        f"Set the printers right ({settings}), print the coupons again or say corrected = true in [[coupon]].",
    )


def _put_right(errors: PrinterErrors, error: Error) -> float:
    """What to set a scale to, in per cent."""
    return float(1 / (1 + errors.value(error)) / PERCENT)
