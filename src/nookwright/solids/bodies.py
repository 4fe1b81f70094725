"""What the mesh kernel hands on from node to node: a body as triangles, as a body of the library, or both.

The library's form is made only where a boolean of the library needs it. Round bodies that stand on, or sink into, a
flat face far from everything else (``Stamp``) need none: they wait beside the core that they belong to, until triangles
are asked for.
"""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np
from manifold3d import Error, Manifold, Mesh64

from nookwright.ground.errors import SolidError
from nookwright.solids.stamps import Stamp, Triangles, stamped

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[np.float64]


class Body:
    """A closed body; its forms follow from each other, so what it is does not depend on who asks first."""

    def __init__(self, core: Triangles | Manifold, names: Names, stamps: tuple[Stamp, ...] = ()) -> None:
        self.given = core
        self._names = names
        self.stamps = stamps

    @cached_property
    def core(self) -> Triangles:
        """Its triangles, the stamps left out."""
        return self.given if isinstance(self.given, Triangles) else self._names.read(self.given)

    @cached_property
    def triangles(self) -> Triangles:
        """Its triangles."""
        return stamped(self.core, self.stamps) if self.stamps else self.core

    @cached_property
    def manifold(self) -> Manifold:
        """The library's form."""
        if isinstance(self.given, Manifold) and not self.stamps:
            return self.given
        return self._names.written(self.triangles)

    def moved(self, rows: Array) -> Body:
        """The body turned and shifted by three rows of four numbers."""
        if not self.stamps and isinstance(self.given, Manifold):
            return Body(self.given.transform(rows), self._names)
        found = self.triangles
        return Body(Triangles(found.vertices @ rows[:, :3].T + rows[:, 3], found.faces, found.labels), self._names)

    def named(self, label: int) -> Body:
        """The body with one label on all its triangles."""
        found = self.triangles
        return Body(Triangles(found.vertices, found.faces, np.full(len(found.faces), label)), self._names)


class Names:
    """The names of one kernel, and the library's ids that stand for them; ids get into no file."""

    def __init__(self) -> None:
        self.all: list[str] = []
        self._labels: dict[int, int] = {}
        self._ids: dict[int, int] = {}

    def label(self, name: str) -> int:
        """The label of a name."""
        if name not in self.all:
            self.all.append(name)
        return self.all.index(name) + 1

    def read(self, made: Manifold) -> Triangles:
        """The triangles of a body of the library's."""
        raw = made.to_mesh64()
        runs = np.array([self._labels.get(int(each), 0) for each in raw.run_original_id], dtype=np.int64)
        labels = np.repeat(runs, np.diff(raw.run_index) // 3)
        return Triangles(raw.vert_properties[:, :3], raw.tri_verts.astype(np.int64), labels)

    def written(self, found: Triangles) -> Manifold:
        """A body of the library's of these triangles.

        Raises:
            SolidError: the library refuses it.
        """
        order = np.argsort(found.labels, kind="stable")
        labels, starts = np.unique(found.labels[order], return_index=True)
        made = Manifold(
            Mesh64(
                np.array(found.vertices, order="C"),  # a copy: the library refuses what is read-only
                np.ascontiguousarray(found.faces[order], dtype=np.uint64),
                run_index=np.array([*starts, len(order)], dtype=np.uint64) * 3,
                run_original_id=np.array([self._id(int(label)) for label in labels], dtype=np.uint32),
            )
        )
        if made.status() != Error.NoError:
            raise SolidError(f"the mesh kernel refused a body: {made.status().name}")
        return made

    def in_order(self, labels: NDArray[np.int64]) -> tuple[NDArray[np.int64], tuple[str, ...]]:
        """Labels counted in the order of the names that are there, and these names."""
        there = {int(label): self.all[label - 1] for label in np.unique(labels) if label}
        names = tuple(sorted(there.values()))
        table = np.zeros(len(self.all) + 1, dtype=np.int64)
        for label, name in there.items():
            table[label] = names.index(name) + 1
        return table[labels], names

    def _id(self, label: int) -> int:
        """The library's id of a label."""
        if label not in self._ids:
            self._ids[label] = Manifold.reserve_ids(1)
            self._labels[self._ids[label]] = label
        return self._ids[label]
