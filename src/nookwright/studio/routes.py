"""What is fetched and not drawn: solids, and the files of a kit. Names come from ids, never from a path that was sent."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fastapi import HTTPException
from fastapi.responses import FileResponse

if TYPE_CHECKING:
    from fastapi import FastAPI

    from nookwright.studio.state import Studio


def add(app: FastAPI, studio: Studio) -> None:
    """Serve them.

    Args:
        app: of the studio.
        studio: whose files they are.
    """

    @app.get("/solids/{space}.glb")
    def solid(space: str) -> FileResponse:
        """The solids of a space, if they were made."""
        file = studio.solids.get(space)
        if file is None or not file.is_file():
            raise HTTPException(404, "These solids are not made.")
        return FileResponse(file, media_type="model/gltf-binary", headers={"cache-control": "no-cache"})
