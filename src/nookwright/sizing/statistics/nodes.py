"""Fixed nodes on which doubts are integrated: the same input gives the same figure. And the worst of what scatters."""

from __future__ import annotations

import numpy as np
from scipy.special import ndtri


def normal_nodes(count: int) -> tuple[np.ndarray, np.ndarray]:
    """Nodes of a unit normal and their weights, which sum to 1 (Gauss-Hermite).

    Args:
        count: of the nodes.

    Returns:
        ``float64[count]`` each.
    """
    nodes, weights = np.polynomial.hermite_e.hermegauss(count)
    return nodes, weights / weights.sum()


def share_nodes(count: int) -> tuple[np.ndarray, np.ndarray]:
    """Nodes between 0 and 1 and their weights, which sum to 1 (Gauss-Legendre).

    Args:
        count: of the nodes.

    Returns:
        ``float64[count]`` each.
    """
    nodes, weights = np.polynomial.legendre.leggauss(count)
    return (nodes + 1) / 2, weights / 2


def smallest_of(count: int, shares: np.ndarray) -> np.ndarray:
    """Quantiles of the smallest of some unit normals, such as the tightest of pockets that scatter.

    Args:
        count: how many there are.
        shares: of the cases in which it lies below, between 0 and 1; any shape.
    """
    return np.asarray(ndtri(1 - (1 - shares) ** (1 / count)))
