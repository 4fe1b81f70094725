"""The search of ``kernels`` without numba: same arguments, same packing, tens of times slower.

It answers before numba is loaded, takes spaces that are more than 64 cells both ways, and is what the tests hold the
kernels against. A space is one big integer here (see ``layout/bits``), so a step is undone by forgetting it.
"""

from __future__ import annotations



