"""How each piece lies on its bed, and why it prints so without support.

Every part of the family is drawn as it is printed; parts that stand in use and are printed lying say so. Whether a
piece really holds without support is measured on its file (``checks/printable``); here stands what was chosen and why.
"""

from __future__ import annotations

from typing import Final

from nookwright.parts.model import Kind

_OPEN_TOP: Final = "floor down, as it stands in use: walls rise upright, sockets close under bridges of a few mm"

HOW_IT_LIES: Final = {
    Kind.TRAY: _OPEN_TOP,
    Kind.CRADLE: "floor down, as it stands in use: pockets are open upwards, sockets close under bridges of a few mm",
    Kind.DRAWER: "floor down, as it stands in use: walls rise upright, its front is no steeper than it prints",
    Kind.NEST: _OPEN_TOP,
    Kind.SHOE: "floor down, as it stands in use: low walls on a frame, sockets close under bridges of a few mm",
    Kind.RISER: "as it stands in use: what carries a load grows straight up, layers are pressed together by it",
    Kind.REST: "as it stands in use: slots are open upwards, so that no roof needs support",
    Kind.RACK: "on its end, though it hangs in use: layers lie in the plane in which the load bends it",
    Kind.LID: "its whole smooth face on the bed: skirt, noses or cones grow upwards from it",
    Kind.CAP: "on its head: the skirt grows upwards from the plate",
    Kind.DIVIDER: "lying, though it stands in use: a thin plate upright would be knocked over and would bend",
    Kind.NAME_STRIP: "lying, letters up: they are printed in the last layers, and a colour can change there",
    Kind.PANEL: "as it lies in use: straps on the bed, cones are steep and taper upwards",
    Kind.FILLER: "as it lies in use: its base on the bed, its lips grow upright",
    Kind.KEY: "as it lies in use: flat on the bed, no higher than the panel",
    Kind.FENCE: "as it stands in use: its base on the bed, sockets close under bridges of a few mm",
    Kind.COUPON: "flat, as it is measured",
    Kind.GAUGE: "as the pocket lies that it tries: its errors are those of the part",
}


def how_it_lies(kind: Kind) -> str:
    """How pieces of a kind of part lie on the bed, and why.

    Args:
        kind: of the part.
    """
    return HOW_IT_LIES[kind]
