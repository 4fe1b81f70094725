"""The frame of a tray: its sizes as all that is built into it needs them, and the core that trims what is built in."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, NoReturn

from nookwright.ground.sources import Fact, Kind
from nookwright.module.floor import CORNER_RADIUS
from nookwright.module.seat import outer_size, whole_layers
from nookwright.parts.model import size_name
from nookwright.parts.refusals import refuse_part
from nookwright.parts.trays.option_rules import check_numbers
from nookwright.shapes.regions import Rect
from nookwright.shapes.solids import Intersection, Move, Prism, Solid
from nookwright.sizing.ways import SHELL_FILLET, SMOOTH_FILLET
from nookwright.survey.models import FloorStyle

if TYPE_CHECKING:
    from nookwright.layout.liner import Side
    from nookwright.module.module import Module
    from nookwright.parts.trays.tray_options import TrayOptions

ROOT_LAYERS = Fact(
    2,
    unit="layers",
    kind=Kind.CHOICE,
    source="What is built in starts this deep in the floor: it overlaps, never touches.",
)
LEAST_CLEAR = Fact(
    3.0,
    unit="mm",
    kind=Kind.CHOICE,
    source="A tray that is lower over what things lie on is a plate, and has no fillet.",
)


@dataclass(frozen=True)
class TrayFrame:
    """One tray: module, footprint in cells, outer height in mm, options."""

    module: Module
    cols: int
    rows: int
    height: float
    options: TrayOptions

    def __post_init__(self) -> None:
        check_numbers(
            f"tray of {self.cols} x {self.rows} cells", self.options, cells=(self.cols, self.rows), height=self.height
        )
        if not self.height - self.rest_height >= LEAST_CLEAR:
            refuse_part(
                self.called, "the height counts floor and inlay, and leaves room above them", found=self.height,
                allowed=f"at least {self.rest_height + LEAST_CLEAR:g}", remedy="Make the tray higher.",
            )  # fmt: skip

    @property
    def called(self) -> str:
        """What messages call it."""
        return f"tray {size_name(self.width, self.depth)} h{self.height:g}"

    @cached_property
    def width(self) -> float:
        """Outer size along x."""
        return outer_size(self.cols, self.module.pitch)

    @cached_property
    def depth(self) -> float:
        """Outer size along y."""
        return outer_size(self.rows, self.module.pitch)

    @property
    def wall(self) -> float:
        """Thickness of the wall."""
        return self.module.wall

    @property
    def smooth(self) -> bool:
        """Whether its floor is flat."""
        return self.options.floor is FloorStyle.SMOOTH

    @property
    def floor(self) -> float:
        """Upper side of the floor between the domes."""
        return self.module.seat.dome if self.smooth else self.module.seat.shell_floor

    @property
    def fillet(self) -> float:
        """Radius between floor and walls."""
        return float(SMOOTH_FILLET if self.smooth else SHELL_FILLET)

    @property
    def rest_height(self) -> float:
        """Height of what things lie on: the domes, or the smooth floor, and the inlay."""
        return self.module.seat.dome + self.options.inlay

    @property
    def root(self) -> float:
        """Where what is built in starts, inside the floor."""
        return self.floor - ROOT_LAYERS * self.layer

    @property
    def layer(self) -> float:
        """The common layer."""
        return self.module.seat.layer

    def whole(self, height: float) -> float:
        """A height rounded up to whole layers."""
        return whole_layers(height, self.layer)

    def length(self, side: Side) -> float:
        """Outer length of a side."""
        return self.depth if side.upright else self.width

    def trimmed(self, solid: Solid) -> Solid:
        """What of a solid lies between the middles of the walls, from the root up to the rim."""
        inset = self.wall / 2
        plan = Rect(self.width - self.wall, self.depth - self.wall, CORNER_RADIUS - inset)
        core = Move(Prism(plan, self.height - self.root), x=inset, y=inset, z=self.root)
        return Intersection((solid, core))

    def refuse(self, rule: str, *, found: object, allowed: str, remedy: str) -> NoReturn:
        """Say that this tray cannot be made.

        Raises:
            RecipeError: always.
        """
        refuse_part(self.called, rule, found=found, allowed=allowed, remedy=remedy)


@dataclass(frozen=True)
class Addition:
    """What an option does to a tray.

    Attributes:
        adds: bodies united with walls and floor, rooted in them.
        cuts: cutters taken away afterwards.
        body_mm3: what it adds to the closed body, closed form; negative where it takes away.
        sparse_mm3: of it, what is printed sparsely.
        handles: holes through the body that it makes.
    """

    adds: tuple[Solid, ...] = ()
    cuts: tuple[Solid, ...] = ()
    body_mm3: float = 0.0
    sparse_mm3: float = 0.0
    handles: int = 0


NOTHING = Addition()
