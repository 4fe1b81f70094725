"""Whether one mesh is the surface of one solid body.

A mesh that passes is closed, has its outside outside, encloses a volume, hangs together, has no triangle without area
and does not pass through itself. Reference readers let several of these through without a word.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.crossing import crossings
from nookwright.checks.in_words import OURS
from nookwright.ground.findings import Finding, Severity
from nookwright.ground.sources import Fact, Kind
from nookwright.ground.tolerances import CROSSING, FLAT

if TYPE_CHECKING:
    from nookwright.checks.boxes import Floats, Indices
    from nookwright.checks.verdicts import Verdicts
    from nookwright.exchange.stl import Triangles, Vertices

FEWEST_TRIANGLES = Fact(
    4, unit="1", kind=Kind.STANDARD, source="3MF core specification 4.1: a mesh has at least 4 triangles."
)


def unsoundness(subject: str, vertices: Vertices, triangles: Triangles) -> tuple[Finding, ...]:
    """What is wrong with a mesh, self-intersection aside.

    Args:
        subject: name of the file or body.
        vertices: (n, 3), mm.
        triangles: (m, 3).

    Returns:
        Findings of severity stop; none for a sound mesh.
    """
    if not np.isfinite(vertices).all():
        return (_stop("mesh-not-finite", subject, "A coordinate is not a finite number."),)
    if len(triangles) < FEWEST_TRIANGLES:
        text = f"It has {len(triangles)} triangles; a solid has at least {FEWEST_TRIANGLES:.0f}."
        return (_stop("mesh-too-small", subject, text),)
    corners = vertices[triangles]
    return (*_flat(subject, corners), *_topology(subject, triangles, corners))


def is_sound(key: str, vertices: Vertices, triangles: Triangles, verdicts: Verdicts) -> bool:
    """Whether ``unsoundness`` finds nothing.

    Args:
        key: hash of the mesh, under which the verdict is kept.
        vertices: (n, 3), mm.
        triangles: (m, 3).
        verdicts: those reached before.
    """
    (faults,) = verdicts.of(f"sound {key}", lambda: (float(len(unsoundness(key, vertices, triangles))),))
    return faults == 0


def self_crossing(
    subject: str, key: str, vertices: Vertices, triangles: Triangles, verdicts: Verdicts
) -> tuple[Finding, ...]:
    """Whether a mesh passes through itself by more than is allowed.

    Args:
        subject: name of the file or body.
        key: hash of the mesh, under which the verdict is kept.
        vertices: (n, 3), mm.
        triangles: (m, 3).
        verdicts: those reached before.
    """

    def reach() -> tuple[float, ...]:
        found = crossings(vertices, triangles)
        return (float(found.pairs), *found.where)

    pairs, x, y, z = verdicts.of(f"crossing {key} {CROSSING}", reach)
    if not pairs:
        return ()
    how = "1 pair of triangles passes" if pairs == 1 else f"{pairs:.0f} pairs of triangles pass"
    text = f"{how} through each other by more than {CROSSING:g} mm"
    return (_stop("mesh-crosses-itself", subject, f"{text}, first near ({x:.2f}, {y:.2f}, {z:.2f})."),)


def volume_of(corners: Floats) -> float:
    """Signed volume inside a closed surface, mm3; negative if it is inside out.

    Args:
        corners: (m, 3, 3).
    """
    near = corners - corners[0, 0]
    return float((near[:, 0] * np.cross(near[:, 1], near[:, 2])).sum() / 6)


def _flat(subject: str, corners: Floats) -> tuple[Finding, ...]:
    """Triangles whose least height is nothing."""
    edges = np.roll(corners, -1, axis=1) - corners
    longest = np.sqrt((edges**2).sum(axis=2).max(axis=1))
    double_area = np.sqrt((np.cross(edges[:, 0], edges[:, 1]) ** 2).sum(axis=1))
    height = double_area / np.where(longest > 0, longest, 1)
    bad = int((height < FLAT).sum())
    if not bad:
        return ()
    x, y, z = corners[int(height.argmin())].mean(axis=0).tolist()
    how = "1 triangle is" if bad == 1 else f"{bad} triangles are"
    text = f"{how} less than {FLAT:g} mm high, the flattest near ({x:.2f}, {y:.2f}, {z:.2f})."
    return (_stop("mesh-flat-triangle", subject, text),)


def _topology(subject: str, triangles: Triangles, corners: Floats) -> tuple[Finding, ...]:
    """Closed, oriented, in one piece, outside out; each question only makes sense after the one before."""
    rows = triangles.astype(np.int64)
    start, end = rows.ravel(), np.roll(rows, -1, axis=1).ravel()
    size = int(triangles.max()) + 1
    forward, backward = np.sort(start * size + end), np.sort(end * size + start)
    undirected, uses = np.unique(np.minimum(start, end) * size + np.maximum(start, end), return_counts=True)
    open_edges = int((uses != 2).sum())  # noqa: PLR2004 - two triangles meet at an edge
    if open_edges:
        text = f"{open_edges} of its {len(undirected)} edges do not join exactly two triangles: it is not closed."
        return (_stop("mesh-open", subject, text),)
    if not np.array_equal(forward, backward):
        return (_stop("mesh-not-oriented", subject, "Neighbouring triangles of it face different sides."),)
    bodies = _bodies(start, end, size)
    if bodies > 1:
        return (_stop("mesh-in-pieces", subject, f"It is {bodies} bodies that do not hang together; allowed is one."),)
    volume = volume_of(corners)
    if volume <= 0:
        text = f"Its faces look inwards: by them it holds {volume:.0f} mm3, less than nothing."
        return (_stop("mesh-inside-out", subject, text),)
    return ()


def _bodies(start: Indices, end: Indices, size: int) -> int:
    """Number of bodies of a closed mesh: sets of triangles that are connected across edges."""
    order = np.argsort(np.minimum(start, end) * size + np.maximum(start, end), kind="stable")
    left, right = (order // 3).reshape(-1, 2).T
    label = np.arange(len(start) // 3)
    while True:
        least = np.minimum(label[left], label[right])
        if np.array_equal(label[left], label[right]):
            return len(np.unique(label))
        for side in (left, right):
            np.minimum.at(label, label[side], least)
        while not np.array_equal(label, label[label]):
            label = label[label]


def _stop(code: str, subject: str, text: str) -> Finding:
    return Finding(code, Severity.STOP, subject, text, OURS)
