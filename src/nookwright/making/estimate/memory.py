"""Estimates remembered on disk, by the hash of the recipe and of the settings; what cannot be read is made anew."""

from __future__ import annotations

import json
import os
import tempfile
from importlib.metadata import version
from pathlib import Path

from nookwright.ground.digest import digest
from nookwright.making.estimate.kinds import Laid, Spent
from nookwright.making.estimate.model import PieceEstimate

_ESTIMATOR = 2  # raised whenever the same piece and settings give another estimate


class EstimateStore:
    """A folder of estimates."""

    def __init__(self, folder: Path | None) -> None:
        """Open a store.

        Args:
            folder: where it lies; ``None`` to remember nothing.
        """
        self._folder = folder
        self._made_by = f"{_ESTIMATOR} {version('manifold3d')} {version('numpy')}"

    def load(self, recipe: str, settings: str) -> PieceEstimate | None:
        """A known estimate, or ``None``.

        Args:
            recipe: digest of the recipe.
            settings: key of the settings.
        """
        if self._folder is None:
            return None
        try:
            known = json.loads(self._path(self._folder, recipe, settings).read_text(encoding="utf-8"))
            return PieceEstimate(
                laid_mm3={Laid(kind): float(value) for kind, value in known.pop("laid_mm3").items()},
                spent_s={Spent(kind): float(value) for kind, value in known.pop("spent_s").items()},
                layer_s=tuple(float(value) for value in known.pop("layer_s")),
                **known,
            )
        except (OSError, ValueError, TypeError, KeyError, AttributeError):
            return None

    def keep(self, recipe: str, settings: str, found: PieceEstimate) -> None:
        """Remember an estimate; a folder that cannot be written is no fault."""
        if self._folder is None:
            return
        path = self._path(self._folder, recipe, settings)
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            handle, name = tempfile.mkstemp(dir=path.parent, suffix=".part")
            with os.fdopen(handle, "w", encoding="utf-8") as file:
                json.dump({name: getattr(found, name) for name in found.__dataclass_fields__}, file)
            Path(name).replace(path)
        except OSError:
            return

    def _path(self, folder: Path, recipe: str, settings: str) -> Path:
        key = digest(f"{self._made_by} {recipe} {settings}")
        return folder / "estimates" / key[:2] / f"{key}.json"
