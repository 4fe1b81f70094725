"""Random parts: a kind, a module, parameters; what comes of them is a part, or a clear refusal.

Where a refusal names a value and the least or most that would do, that is tried next: so the edges of what is allowed
are met in every kind, and a refusal that promises too much is found out.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, Any

from pydantic import ValidationError

from fuzz.designs import DESIGNS
from fuzz.orders import order_keys
from nookwright.ground.errors import RecipeError
from nookwright.module.choice import module_of, pitches
from nookwright.parts.orders.orders import MAKERS, made_to_order
from nookwright.survey.models import Order

if TYPE_CHECKING:
    from collections.abc import Callable

    from fuzz.chance import Chance
    from nookwright.module.module import Module
    from nookwright.parts.model import Part

KINDS = (*MAKERS, *DESIGNS)
LAYERS = (0.16, 0.2, 0.25, 0.3)
RISES = (4.0, 5.0, 6.0, 8.0)
TRIES = 4  # how often a refusal's own words are followed
_CLEAR = re.compile(r"(.+?): (.+); found (.*), allowed: (.+?)\. (.+\.)", re.DOTALL)
_NUMBER = re.compile(r"-?\d+(?:\.\d+)?(?:e[+-]?\d+)?")


@dataclass(frozen=True)
class Case:
    """What was drawn, and what was made of it.

    Attributes:
        kind: of the part.
        module: that it is made in.
        parameters: the keys of the order, or the record of the design.
        parts: that came of it; none where it was refused.
        refusal: why it was, empty where it was not.
        clear: whether the refusal has a subject, a rule, the value found, what is allowed, and a remedy.
    """

    kind: str
    module: Module
    parameters: object
    parts: tuple[Part, ...]
    refusal: str = ""
    clear: bool = True

    @property
    def rule(self) -> str:
        """The rule of a refusal, without its values."""
        match = _CLEAR.fullmatch(self.refusal)
        return _NUMBER.sub("..", match[2] if match else self.refusal.partition(";")[0])


def case(chance: Chance, kind: str) -> Case:
    """One case of a kind.

    Args:
        chance: what it is drawn from.
        kind: one of ``KINDS``.
    """
    module = random_module(chance)
    if kind in DESIGNS:
        draw, make = DESIGNS[kind]
        parameters = draw(chance, module)
        return _tried(kind, module, parameters, lambda: (make(module, parameters),))
    return _ordered(kind, module, order_keys(chance, kind, module))


def random_module(chance: Chance) -> Module:
    """A module of any pitch that is a candidate, any layer, any rise."""
    pitch = chance.pick(pitches())
    return module_of(pitch, chance.pick(RISES), chance.pick(LAYERS), "drawn")


def _ordered(kind: str, module: Module, keys: dict[str, Any]) -> Case:
    """An order; where it is refused, what its refusal allows is tried."""
    for _ in range(TRIES):
        found = _tried(kind, module, keys, partial(_made, kind, module, keys))
        better = followed(keys, found.refusal) if found.refusal else None
        if better is None:
            break
        keys = better
    return found


def _made(kind: str, module: Module, keys: dict[str, Any]) -> tuple[Part, ...]:
    return made_to_order(Order(id="it", kind=kind, keys=keys), module, "mm")


def _tried(kind: str, module: Module, parameters: object, make: Callable[[], tuple[Part, ...]]) -> Case:
    try:
        return Case(kind, module, parameters, make())
    except ValidationError as error:
        said = "; ".join(f"{'.'.join(map(str, one['loc']))}: {one['msg']}" for one in error.errors())
        return Case(kind, module, parameters, (), f"keys: {said}")
    except RecipeError as error:
        return Case(kind, module, parameters, (), str(error), clear=is_clear(str(error)))


def is_clear(refusal: str) -> bool:
    """Whether a refusal has a subject, a rule, the value found, what is allowed, and a remedy."""
    return bool(_CLEAR.fullmatch(refusal))


def followed(keys: dict[str, Any], refusal: str) -> dict[str, Any] | None:
    """The keys with the value that a refusal found replaced by one that it allows; ``None`` where it names none."""
    match = _CLEAR.fullmatch(refusal)
    if not match:
        return None
    found = [float(number) for number in _NUMBER.findall(match[3])]
    allowed = _NUMBER.findall(match[5] if "multiples" in match[4] else match[4])
    if not found or not allowed:
        return None
    changed = [False]

    def replaced(value: Any) -> Any:  # noqa: ANN401 - a tree of plain data
        if isinstance(value, dict):
            return {key: replaced(one) for key, one in value.items()}
        if isinstance(value, list):
            return [replaced(one) for one in value]
        plain = isinstance(value, int | float) and not isinstance(value, bool)
        if plain and any(math.isclose(value, number, rel_tol=1e-5) for number in found):
            better = min(map(float, allowed), key=lambda number: abs(number - value))
            changed[0] = changed[0] or better != value
            return type(value)(better)
        return value

    made = replaced(keys)
    return made if changed[0] else None
