"""A closed skin of triangles that can be changed one at a time, each with a label that it keeps.

Who touches which vertex is looked up in a table made once; what changes afterwards is kept beside it, so a change costs
the triangles around it and not all of them.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[np.float64]
    Faces = NDArray[np.int64]


class Skin:
    """Triangles over vertices that stay where they are.

    Attributes:
        vertices: (n, 3), mm.
    """

    def __init__(self, vertices: Array, faces: Faces, labels: NDArray[np.int64] | None = None) -> None:
        self.vertices = vertices
        self._faces = faces
        self._labels = np.zeros(len(faces), dtype=np.int64) if labels is None else labels
        self._there = np.ones(len(faces), dtype=bool)
        corners = faces.ravel()
        self._order = np.argsort(corners, kind="stable") // 3
        self._first = np.concatenate([[0], np.cumsum(np.bincount(corners, minlength=len(vertices)))])
        self._changed: dict[int, Faces] = {}

    def around(self, vertex: int) -> Faces:
        """The numbers of the triangles that touch a vertex."""
        if vertex in self._changed:
            return self._changed[vertex]
        return self._order[self._first[vertex] : self._first[vertex + 1]]

    def corners(self, numbers: Faces) -> Faces:
        """The corners of some triangles, (k, 3)."""
        found: Faces = self._faces[numbers]
        return found

    def labels(self, numbers: Faces) -> NDArray[np.int64]:
        """The labels of some triangles."""
        found: NDArray[np.int64] = self._labels[numbers]
        return found

    def number_of(self, face: tuple[int, ...]) -> int | None:
        """The number of the triangle with these corners in this order, or nothing where it is gone."""
        near = self.around(face[0])
        hits = near[np.all(self._faces[near] == face, axis=1)]
        return int(hits[0]) if len(hits) else None

    def beside(self, start: int, end: int) -> int:
        """The number of the triangle that has the edge from start to end."""
        near = self.around(start)
        faces = self._faces[near]
        hits = (faces == start) & (np.roll(faces, -1, axis=1) == end)
        return int(near[np.nonzero(hits.any(axis=1))[0][0]])

    def replace(self, gone: Faces, faces: Faces, labels: NDArray[np.int64]) -> None:
        """Take some triangles away and put others in their place."""
        first = len(self._faces)
        new = np.arange(first, first + len(faces))
        touched = np.unique(np.concatenate([self._faces[gone].ravel(), faces.ravel()])).tolist()
        before = {vertex: self.around(vertex) for vertex in touched}
        self._there[gone] = False
        self._faces = np.concatenate([self._faces, faces])
        self._labels = np.concatenate([self._labels, labels])
        self._there = np.concatenate([self._there, np.ones(len(faces), dtype=bool)])
        for vertex, near in before.items():
            mine = new[np.any(faces == vertex, axis=1)]
            self._changed[vertex] = np.concatenate([near[self._there[near]], mine])

    def left(self) -> tuple[Faces, NDArray[np.int64]]:
        """The triangles that are there, and their labels."""
        return self._faces[self._there], self._labels[self._there]
