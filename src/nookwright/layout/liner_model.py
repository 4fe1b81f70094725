"""What a liner is made of, as plain data: panels, fillers, slots, and where each of them lies."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum

from nookwright.ground.errors import RecipeError
from nookwright.ground.sources import Fact, Kind
from nookwright.module.pattern import Pattern, has_cone

EDGE_INSET = Fact(
    0.2,
    unit="mm",
    kind=Kind.CALCULATED,
    source="Edges of panels and fillers lie back by this, so that spread first layers never add up.",
)

Cell = tuple[int, int]


class Side(StrEnum):
    """A side of a panel or a space."""

    LEFT = "left"
    RIGHT = "right"
    FRONT = "front"
    BACK = "back"

    @property
    def upright(self) -> bool:
        """Whether it runs along y."""
        return self in (Side.LEFT, Side.RIGHT)


@dataclass(frozen=True, order=True)
class Slot:
    """A slot for a dovetail, at the ``at``-th cell border along a side, counted from the front left."""

    side: Side
    at: int


@dataclass(frozen=True)
class SetBack:
    """How far the edge of a panel lies back on each side beyond ``EDGE_INSET``, off the cove of the floor, mm."""

    left: float = 0.0
    right: float = 0.0
    front: float = 0.0
    back: float = 0.0

    @property
    def sides(self) -> tuple[float, float, float, float]:
        """Left, right, front, back."""
        return self.left, self.right, self.front, self.back


FLUSH = SetBack()


@dataclass(frozen=True)
class PanelSpec:
    """A panel: cells, those that are missing, which of them have a cone, and its slots.

    Attributes:
        cols, rows: cells of its bounding box.
        missing: cells that it does not cover, sorted.
        first_has_cone: whether the chessboard starts with a cone at cell (0, 0).
        slots: sorted.
        pattern: which cells have a cone.
        start: for every second cell both ways, the first column and row with cones.
        chosen: for cones only under the layout, the cells that have one, sorted.
        set_back: of its edges off a cove.
    """

    cols: int
    rows: int
    missing: tuple[Cell, ...]
    first_has_cone: bool
    slots: tuple[Slot, ...]
    pattern: Pattern = Pattern.CHESSBOARD
    start: Cell = (0, 0)
    chosen: tuple[Cell, ...] = ()
    set_back: SetBack = FLUSH

    @property
    def cells(self) -> tuple[Cell, ...]:
        """The cells that it covers, row by row."""
        gone = set(self.missing)
        return tuple((c, r) for r in range(self.rows) for c in range(self.cols) if (c, r) not in gone)

    @property
    def cones(self) -> tuple[Cell, ...]:
        """The cells with a cone."""
        if self.pattern is Pattern.UNDER_LAYOUT:
            chosen = set(self.chosen)
            return tuple(cell for cell in self.cells if cell in chosen)
        if self.pattern is Pattern.CHESSBOARD:
            return tuple((c, r) for c, r in self.cells if has_cone(c, r) is self.first_has_cone)
        left, front = self.start
        return tuple((c, r) for c, r in self.cells if has_cone(c - left, r - front, self.pattern))


class FillerForm(StrEnum):
    """What kind of filler."""

    PLAIN = "plain"  # a flat strip with lips
    TALL = "tall"  # a hollow wall, where things would fall beside the trays
    SPRUNG = "sprung"  # a strip with a leaf spring towards the wall, and a hard stop


class Lips(StrEnum):
    """Which long edges of a plain filler stand up."""

    BOTH = "both"
    WALL = "wall"


@dataclass(frozen=True)
class FillerSpec:
    """A filler: length along the wall, width from wall to panel, and where along its length its tongues are, mm.

    Its own axes: x along the wall, y from the wall to the panel.

    Attributes:
        length: along the wall.
        width: from the wall to the border of the panel.
        tongues: middles of the tongues towards the panel.
        form: plain, tall or sprung.
        lips: which long edges of a plain one stand up.
        far_tongues: middles of tongues on the other long side, for a strip between two panels; plain ones only.
        height: of a tall one.
        travel: of a sprung one: how far it reaches beyond its width while it is not pressed.
    """

    length: float
    width: float
    tongues: tuple[float, ...]
    form: FillerForm = FillerForm.PLAIN
    lips: Lips = Lips.BOTH
    far_tongues: tuple[float, ...] = ()
    height: float = 0.0
    travel: float = 0.0


@dataclass(frozen=True)
class PlacedPanel:
    """A panel with the cell of the space where its own cell (0, 0) lies."""

    spec: PanelSpec
    col: int
    row: int


@dataclass(frozen=True)
class PlacedFiller:
    """A filler at a side of the space; ``start`` is where it begins along that side, from the front left, mm."""

    spec: FillerSpec
    side: Side
    start: float


@dataclass(frozen=True)
class Liner:
    """The liner of a space."""

    panels: tuple[PlacedPanel, ...]
    fillers: tuple[PlacedFiller, ...]


def panel_spec(
    cells: tuple[Cell, ...],
    slots: tuple[Slot, ...],
    *,
    pattern: Pattern = Pattern.CHESSBOARD,
    chosen: tuple[Cell, ...] = (),
) -> PlacedPanel:
    """A panel of these cells of a space, in its own axes.

    Args:
        cells: that it covers, in the space's columns and rows.
        slots: in its own axes.
        pattern: of the space.
        chosen: for cones only under the layout, the cells of the space that have one.
    """
    col, row = min(c for c, _ in cells), min(r for _, r in cells)
    cols, rows = max(c for c, _ in cells) - col + 1, max(r for _, r in cells) - row + 1
    there = {(c - col, r - row) for c, r in cells}
    missing = tuple(sorted({(c, r) for c in range(cols) for r in range(rows)} - there))
    spec = PanelSpec(cols, rows, missing, has_cone(col, row), tuple(sorted(slots)))
    if pattern is not Pattern.CHESSBOARD:
        mine = tuple(sorted((c - col, r - row) for c, r in chosen if (c - col, r - row) in there))
        start = (col % 2, row % 2) if pattern is Pattern.EVERY_SECOND else (0, 0)
        spec = replace(spec, pattern=pattern, start=start, chosen=mine, first_has_cone=False)
        spec = replace(spec, first_has_cone=(0, 0) in spec.cones)
    return PlacedPanel(spec, col, row)


def part_of(whole: PanelSpec, cells: tuple[Cell, ...], slots: tuple[Slot, ...]) -> PlacedPanel:
    """A piece of a panel: some of its cells with the cones, and at its outer edges the set-back, of the whole.

    Args:
        whole: the panel.
        cells: of the piece, in the axes of the whole.
        slots: in the piece's own axes.
    """
    placed = panel_spec(cells, slots)
    col, row, spec = placed.col, placed.row, placed.spec
    first = whole.first_has_cone is ((col + row) % 2 == 0)
    if whole.pattern is not Pattern.CHESSBOARD:
        first = (col, row) in whole.cones
    start = (
        ((whole.start[0] - col) % 2, (whole.start[1] - row) % 2) if whole.pattern is Pattern.EVERY_SECOND else (0, 0)
    )
    there = set(spec.cells)
    mine = tuple(sorted((c - col, r - row) for c, r in whole.chosen if (c - col, r - row) in there))
    edge = SetBack(
        left=whole.set_back.left if col == 0 else 0.0,
        right=whole.set_back.right if col + spec.cols == whole.cols else 0.0,
        front=whole.set_back.front if row == 0 else 0.0,
        back=whole.set_back.back if row + spec.rows == whole.rows else 0.0,
    )
    same = replace(spec, first_has_cone=first, pattern=whole.pattern, start=start, chosen=mine, set_back=edge)
    return PlacedPanel(same, col, row)


def check_panel(spec: PanelSpec) -> None:
    """Refuse a panel that cannot be made or would not hold together.

    Raises:
        RecipeError: fewer than 2 x 2 cells, or a chosen cone outside its cells.
    """
    if min(spec.cols, spec.rows) < 2:  # noqa: PLR2004 - 2 x 2 cells
        raise RecipeError(
            f"panel: it covers 2 x 2 cells or more; found {spec.cols} x {spec.rows}, allowed: at least 2 x 2. "
            "Leave the cells without a liner."
        )
    stray = sorted(set(spec.chosen) - set(spec.cells))
    if stray:
        raise RecipeError(
            f"panel: cones stand on its cells; found {stray}, allowed: cells of the panel. Choose others."
        )
