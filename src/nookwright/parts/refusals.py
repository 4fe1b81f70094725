"""How parts refuse parameters that cannot be made, before any kernel sees them."""

from __future__ import annotations

import math
from typing import NoReturn

from nookwright.ground.errors import RecipeError
from nookwright.module.seat import whole_layers


def refuse_part(subject: str, rule: str, *, found: object, allowed: str, remedy: str) -> NoReturn:
    """Say that a part cannot be made.

    Args:
        subject: the part, in words.
        rule: what it must obey, as a sentence without its full stop.
        found: the value that breaks the rule.
        allowed: the values that would not.
        remedy: what to do about it, as an imperative sentence.

    Raises:
        RecipeError: always.
    """
    raise RecipeError(f"{subject}: {rule}; found {found}, allowed: {allowed}. {remedy}")


def require_whole_layers(subject: str, height: float, layer: float) -> None:
    """Refuse a height that is no whole number of layers; nought is one, and means that there is nothing.

    Args:
        subject: the part, in words.
        height: that it shall have, mm.
        layer: the common layer, mm.

    Raises:
        RecipeError: the printer would round it, or it is below nought.
    """
    wanted = max(layer, whole_layers(height, layer)) if math.isfinite(height) else layer
    if height != 0 and not abs(wanted - height) <= layer / 1000:
        refuse_part(
            subject,
            "a height is a whole number of layers",
            found=f"{height:g}",
            allowed=f"multiples of {layer:g}",
            remedy=f"Take {wanted:g}.",
        )
