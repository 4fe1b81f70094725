"""Level sections of a written mesh as a beam sees them: area, middle, second moments, and how far they reach."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.standing import moments_of
from nookwright.ground.errors import SolidError

if TYPE_CHECKING:
    from manifold3d import CrossSection, Manifold

    from nookwright.checks.bodies import Shape

_LEAST_MM2 = 0.05  # smaller pieces of a section are left over by rounding


@dataclass(frozen=True)
class Outline:
    """A connected section; u and v are its two axes.

    Attributes:
        area: mm2.
        low, high: corners of its box, mm.
        middle: of its area, mm.
        about_u, about_v: second moments of area about axes through its middle along u and along v, mm4.
    """

    area: float
    low: tuple[float, float]
    high: tuple[float, float]
    middle: tuple[float, float]
    about_u: float
    about_v: float

    def modulus(self, axis: int) -> float:
        """Section modulus against bending along an axis (0 for u, 1 for v), mm3; moment by it is the largest stress."""
        reach = max(self.high[axis] - self.middle[axis], self.middle[axis] - self.low[axis])
        return (self.about_v if axis == 0 else self.about_u) / reach


def solid_of(shape: Shape, axis: int = 2) -> Manifold:
    """A shape for the kernel, turned so that an axis points up; u and v are the next two axes in the order x, y, z, x.

    Args:
        shape: closed.
        axis: 0, 1, 2 for x, y, z.

    Raises:
        SolidError: the kernel refuses it.
    """
    from manifold3d import Error, Manifold, Mesh64

    order = [(axis + 1) % 3, (axis + 2) % 3, axis]
    vertices = np.ascontiguousarray(shape.vertices[:, order])
    solid = Manifold(Mesh64(vertices, shape.triangles.astype(np.uint64)))
    if solid.status() != Error.NoError:
        raise SolidError(f"the solid kernel refuses a mesh: {solid.status().name}")
    return solid


def signed_mm2(ring: np.ndarray) -> float:
    """Area of a ring of points, (n, 2), mm2: positive for an outline, negative for a hole."""
    x, y = ring.T
    return float((x * np.roll(y, -1) - np.roll(x, -1) * y).sum() / 2)


def outlines_at(solid: Manifold, height: float) -> tuple[Outline, ...]:
    """The connected sections at a height, largest first.

    Args:
        solid: of ``solid_of``.
        height: along the axis that points up, mm.
    """
    return outlines_of(solid.slice(height))


def outlines_of(section: CrossSection) -> tuple[Outline, ...]:
    """The connected pieces of a section as beams, largest first."""
    found = [_outline(piece) for piece in section.decompose() if piece.area() > _LEAST_MM2]
    return tuple(sorted(found, key=lambda one: (-one.area, one.low)))


def _outline(piece: CrossSection) -> Outline:
    """A connected piece; holes run the other way round and count as less."""
    moments = moments_of(piece)
    low_u, low_v, high_u, high_v = piece.bounds()
    return Outline(moments.area, (low_u, low_v), (high_u, high_v), moments.middle, moments.yy, moments.xx)
