"""Coupons: what they refer to, and where their readings stand. Which readings there are, a later stage knows."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from nookwright.survey.typed import listed, nearest, show

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.ground.errors import Fault
    from nookwright.survey.locate import Path
    from nookwright.survey.typed import Typed


def coupon_contradictions(typed: Typed) -> Iterator[Fault]:
    """Coupons of printers and materials that are not in the file, and coupons with no readings or two sets of them."""
    for path, coupon in typed.tables("coupon"):
        for key in ("printer", "material"):
            yield from _reference(typed, path, coupon, key)
        yield from _loaded(typed, path, coupon)
        if ("csv" in coupon) == ("readings" in coupon):
            yield typed.fault(
                path,
                found="both readings and csv" if "csv" in coupon else "neither readings nor csv",
                allowed="one of them",
                remedy='Add a table [coupon.readings], or a line csv = "readings.csv" with the file that you filled in.'
                if "csv" not in coupon
                else "Delete one of them.",
            )


def _reference(typed: Typed, path: Path, coupon: dict[str, Any], key: str) -> Iterator[Fault]:
    name, known = coupon.get(key), typed.ids(key)
    if isinstance(name, str) and name not in known:
        close = nearest(name, known)
        remedy = f"Write {show(close)} instead." if close else f"Write one of them, or add a table [[{key}]]."
        yield typed.fault((*path, key), allowed=f"the id of a {key}: {listed(known)}", remedy=remedy)


def _loaded(typed: Typed, path: Path, coupon: dict[str, Any]) -> Iterator[Fault]:
    """A material that the printer does not print."""
    name = coupon.get("material")
    for _, printer in typed.tables("printer"):
        materials = printer.get("materials")
        known = [one for one in materials if isinstance(one, str)] if isinstance(materials, list) else []
        if printer.get("id") == coupon.get("printer") and name in typed.ids("material") and name not in known:
            yield typed.fault(
                (*path, "material"),
                allowed=f"a material of this printer: {listed(known)}",
                remedy=f"Add {show(name)} to the materials of {show(printer['id'])}, or correct the coupon.",
            )
