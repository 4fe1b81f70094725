"""Random orders: for every kind of part, the keys of its model, drawn by their types and steered by ``hints``.

Nothing here knows a kind. A key that has no hint is drawn from its type and name, so a new kind is fuzzed at once. Now
and then a value is wild: nothing, negative, enormous, no number. It is refused, or it is a part.
"""

from __future__ import annotations

import types
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Literal, Union, get_args, get_origin

from fuzz import hints
from nookwright.parts.orders.orders import MAKERS, keys_of

if TYPE_CHECKING:
    from fuzz.chance import Chance
    from nookwright.module.module import Module

LEFT_OUT, WILD_CASES = 0.5, 0.12
TEXTS = "Aä\u00e9ß中 \n\t'\"#"
WILD_LENGTHS = (0.0, -1.0, 1e-6, 0.3, 1e4, 1e9, float("nan"), float("inf"))
WILD_COUNTS = (0, -1, 1000, 2.5)
WILD_OTHERS: tuple[object, ...] = ("", "anything", "1 1/2 in", 3.0, True, None, [], {})


def order_keys(chance: Chance, kind: str, module: Module) -> dict[str, Any]:
    """The keys of an order.

    Args:
        chance: what they are drawn from.
        kind: of the part.
        module: the household's module.
    """
    keys = Keys(chance, module, kind)
    keys.record(keys_of(kind), keys.order)
    for _ in range(chance.whole(1, 2) if chance.often(WILD_CASES) else 0):
        _spoil(chance, keys.order)
    return keys.order


def _spoil(chance: Chance, made: dict[str, Any]) -> None:
    """Put something wild in the place of one value, somewhere in a tree of values; or take it away."""
    if not made:
        return
    key = chance.pick(sorted(made))
    value = made[key]
    inner = [one for one in (value if isinstance(value, list) else [value]) if isinstance(one, dict)]
    if inner:
        _spoil(chance, chance.pick(inner))
    elif chance.often(0.1):
        del made[key]
    else:
        whole = isinstance(value, int) and not isinstance(value, bool)
        made[key] = chance.pick(WILD_COUNTS if whole else WILD_LENGTHS if isinstance(value, float) else WILD_OTHERS)


@dataclass
class Keys:
    """The keys of one order while they are drawn.

    Attributes:
        chance: what they are drawn from.
        module: the household's module.
        kind: of the part.
        order: the keys of the whole order that are drawn already, for hints.
    """

    chance: Chance
    module: Module
    kind: str
    order: dict[str, Any] = field(default_factory=dict)

    def record(self, model: Any, begun: dict[str, Any] | None = None) -> dict[str, Any]:  # noqa: ANN401 - made at run time
        """A record of a model, what may be left out often is; in a dict that is begun, where one is given."""
        made: dict[str, Any] = {} if begun is None else begun
        name = model.spec_class.__name__
        for key, about in model.model_fields.items():
            if not about.is_required() and self.chance.often(LEFT_OUT):
                continue
            made[key] = self.value(name, key, about.annotation, made)
        return hints.mended(self, name, made)

    def value(self, record: str, key: str, hint: Any, made: dict[str, Any]) -> Any:  # noqa: ANN401 - of any type
        """A value of one key."""
        steered = hints.HINTS.get((record, key)) or hints.BY_KEY.get(key)
        return steered(self, made) if steered else self._by_type(record, key, hint, made)

    def _by_type(self, record: str, key: str, hint: Any, made: dict[str, Any]) -> Any:  # noqa: ANN401 - of any type
        origin, inside = get_origin(hint), get_args(hint)
        if hasattr(hint, "spec_class"):
            return self.record(hint)
        if origin is tuple:
            return [self.value(record, key, inside[0], made) for _ in range(self.chance.whole(0, 3))]
        if origin in (Union, types.UnionType):
            some = [one for one in inside if one is not type(None)]
            return self.value(record, key, self.chance.pick(some), made)
        if hasattr(hint, "__metadata__"):
            return self.value(record, key, inside[0], made)
        return inside[0] if origin is Literal else self._plain(key, hint)

    def _plain(self, key: str, hint: Any) -> Any:  # noqa: ANN401 - of any type
        chance = self.chance
        if hasattr(hint, "__members__"):
            return chance.pick(tuple(hint)).value
        if hint is bool:
            return chance.often(0.5)
        if hint is int:
            return chance.whole(1, 6)
        if hint is str:
            letters = "ABMegx 0258-" if chance.often(0.9) else TEXTS
            return "".join(chance.pick(letters) for _ in range(chance.whole(0, 8)))
        return chance.within(0.0, 1.0) if key.endswith("share") else chance.length(1, 60)


def keys_there_are() -> set[tuple[str, str]]:
    """Every record that an order of any kind may hold, with each of its keys."""
    found: set[tuple[str, str]] = set()

    def walk(hint: Any) -> None:  # noqa: ANN401 - types
        for inner in get_args(hint):
            walk(inner)
        name = hint.spec_class.__name__ if hasattr(hint, "spec_class") else ""
        for key, about in hint.model_fields.items() if name else ():
            if (name, key) not in found:
                found.add((name, key))
                walk(about.annotation)

    for kind in MAKERS:
        walk(keys_of(kind))
    return found
