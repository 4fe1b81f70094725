"""Solids and settings that the tests of estimates share."""

from __future__ import annotations

import numpy as np
from manifold3d import CrossSection, Manifold, OpType

from nookwright.making.estimate.settings import PrintSettings, settings_of
from nookwright.solids.triangles import Mesh
from nookwright.survey.models import Printer
from nookwright.survey.printer_profile import PrinterProfile


def mesh_of(solid: Manifold) -> Mesh:
    """A solid of the kernel as a mesh."""
    made = solid.to_mesh64()
    return Mesh(np.array(made.vert_properties[:, :3]), np.array(made.tri_verts, dtype=np.uint32))


def printer(**profile: object) -> Printer:
    """A printer with a profile."""
    return Printer(
        id="bench", bed_width=200, bed_depth=200, bed_height=200, materials=("white",),
        profile=PrinterProfile.model_validate(profile),
    )  # fmt: skip


def settings(**profile: object) -> PrintSettings:
    """The settings of a printer with this profile, for walls of 1.2 mm."""
    return settings_of(printer(**profile), 1.2)


def block(width: float = 40.0, depth: float = 30.0, height: float = 6.0) -> Mesh:
    """A block on the bed."""
    return mesh_of(Manifold.cube((width, depth, height)))


def box(width: float = 60.0, depth: float = 40.0, height: float = 20.0, wall: float = 1.2) -> Mesh:
    """A box without a lid."""
    inside = Manifold.cube((width - 2 * wall, depth - 2 * wall, height)).translate((wall, wall, 1.0))
    return mesh_of(Manifold.cube((width, depth, height)) - inside)


def cones(count: int, height: float = 3.0) -> Mesh:
    """Cones on a strip."""
    strip = Manifold.cube((18.0 * count, 12.0, 0.6))
    cone = Manifold.cylinder(height, 4.0, 3.2, 40)
    return mesh_of(
        Manifold.batch_boolean([strip, *(cone.translate((18.0 * n + 9, 6, 0.6)) for n in range(count))], OpType.Add)
    )


def peg(radius: float = 8.0, height: float = 10.0, facets: int = 64) -> Mesh:
    """A round peg."""
    return mesh_of(CrossSection.circle(radius, facets).extrude(height))
