"""Random recipes: trees of regions and solids, as deep as is asked for. What the rules refuse is drawn again."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, TypeVar

from fuzz.chance import Chance
from nookwright.ground.errors import RecipeError
from nookwright.shapes.regions import (
    Circle,
    Glyphs,
    Offset,
    Path,
    Polygon,
    Rect,
    Region,
    RegionDifference,
    RegionIntersection,
    RegionMove,
    RegionRepeat,
    RegionUnion,
    Stroke,
)
from nookwright.shapes.solids import (
    Bowl,
    Difference,
    Intersection,
    Move,
    Named,
    Prism,
    Repeat,
    Revolution,
    Solid,
    Taper,
    Tip,
    Union,
)

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

Node = TypeVar("Node", bound=Region | Solid)
DEPTH = 2


class Shapes(Chance):
    """Random regions and solids."""

    def bulge(self) -> float:
        """A straight side as often as an arc."""
        return self.pick((0.0, self.length(-1, 1)))

    def some(self, make: Callable[[], Node]) -> tuple[Node, ...]:
        """One to three of a kind."""
        return tuple(make() for _ in range(self.whole(1, 3)))

    def shift(self) -> float:
        """How far something is moved."""
        return self.length(-9, 9)

    def places(self) -> tuple[tuple[float, float], ...]:
        """Where copies go."""
        return tuple((self.length(-30, 30), self.length(-30, 30)) for _ in range(self.whole(1, 4)))

    def star(self, x: float = 0.0) -> tuple[tuple[float, float], ...]:
        """Corners of a star-shaped polygon about a point of the x axis."""
        count = self.whole(3, 7)
        angles = [2 * math.pi * n / count for n in range(count)]
        return tuple((x + r * math.cos(a), r * math.sin(a)) for a in angles for r in (self.length(2, 9),))

    def region(self, depth: int = DEPTH) -> Region:
        """A region that the rules let pass."""
        n = self.length
        leaves: list[Callable[[], Region]] = [
            lambda: Rect(n(2, 30), n(2, 30), n(0, 6)),
            lambda: Circle(n(1, 15)),
            lambda: Polygon(self.star()),
            lambda: Path(tuple((x, y, self.bulge()) for x, y in self.star())),
            lambda: Stroke(n(-9, 9), n(-9, 9), n(-9, 9), n(-9, 9), n(1, 4), self.bulge()),
            lambda: Glyphs("".join(self.pick("ABCdeg0568&") for _ in range(self.whole(1, 2))), n(4, 12), 0.8),
        ]

        def inner() -> Region:
            return self.region(depth - 1)

        nodes: list[Callable[[], Region]] = [
            lambda: Offset(inner(), n(-3, 4)),
            lambda: RegionUnion(self.some(inner)),
            lambda: RegionDifference(inner(), self.some(inner)),
            lambda: RegionIntersection(self.some(inner)),
            lambda: RegionMove(inner(), self.shift(), self.shift(), self.whole(0, 3)),
            lambda: RegionRepeat(inner(), self.places()),
        ]
        return self._passed([*leaves, *(nodes if depth else [])])

    def solid(self, depth: int = DEPTH) -> Solid:
        """A solid that the rules let pass."""
        n = self.length
        leaves: list[Callable[[], Solid]] = [
            lambda: Prism(self.region(), n(1, 20)),
            self._taper,
            lambda: Revolution(self.star(10)),
            lambda: Bowl(n(3, 30), n(3, 30), n(0, 6), n(0, 4), n(1, 20)),
        ]

        def inner() -> Solid:
            return self.solid(depth - 1)

        nodes: list[Callable[[], Solid]] = [
            lambda: Union(self.some(inner)),
            lambda: Difference(inner(), self.some(inner)),
            lambda: Intersection(self.some(inner)),
            lambda: Move(inner(), self.shift(), self.shift(), self.shift(), self.whole(0, 3)),
            lambda: Tip(inner(), self.pick(("x", "y"))),
            lambda: Repeat(inner(), self.places()),
            lambda: Named(inner(), self.pick("ab")),
        ]
        return self._passed([*leaves, *(nodes if depth else [])])

    def _taper(self) -> Solid:
        return Taper(self.region(0), self.length(1, 20), self.length(-3, 3))  # type: ignore[arg-type] # others are refused

    def _passed(self, makers: Sequence[Callable[[], Node]]) -> Node:
        """One of some kinds of node, drawn again until the rules let it pass."""
        while True:
            try:
                return self.pick(makers)()
            except RecipeError:
                continue
