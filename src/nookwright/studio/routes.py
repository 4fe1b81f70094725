"""What is fetched and not drawn: solids, and files of a kit. Names come from ids, never from a path that was sent."""

from __future__ import annotations

import io
import zipfile
from typing import TYPE_CHECKING

from fastapi import HTTPException
from fastapi.responses import FileResponse, Response

if TYPE_CHECKING:
    from pathlib import Path

    from fastapi import FastAPI

    from nookwright.studio.state import Studio


def add(app: FastAPI, studio: Studio) -> None:
    """Serve them.

    Args:
        app: of the studio.
        studio: whose files they are.
    """
    _add_solids(app, studio)
    _add_kit(app, studio)


def _add_solids(app: FastAPI, studio: Studio) -> None:
    """Serve what a plan has."""

    @app.get("/solids/{name}.glb")
    def solid(name: str) -> FileResponse:
        """The solids of a space, or of a lot, if they were made."""
        return _solids(studio.solid_file(name))

    @app.get("/solids/{name}/{number}.glb")
    def piece(name: str, number: int) -> FileResponse:
        """Some parts of what is being made, as soon as they are there."""
        return _solids(studio.solid_file(name, number))

    @app.get("/module.svg")
    def module() -> FileResponse:
        """The chart of the pitches of the last plan."""
        if studio.planned is None:
            raise HTTPException(404, "There is no plan yet.")
        file = studio.planned.folder / "module.svg"
        return FileResponse(file, media_type="image/svg+xml", headers={"cache-control": "no-cache"})


def _solids(file: Path | None) -> FileResponse:
    if file is None or not file.is_file():
        raise HTTPException(404, "These solids are not made.")
    return FileResponse(file, media_type="model/gltf-binary", headers={"cache-control": "no-cache"})


def _add_kit(app: FastAPI, studio: Studio) -> None:
    """Serve what a kit has."""

    @app.get("/kit/schedule.svg")
    def schedule() -> FileResponse:
        """The chart of the schedule of the kit that was built last, if there is one.

        Also where the room was changed just now: a page that still shows the kit may ask for it then.
        """
        file = studio.kit_folder / "schedule.svg"
        if studio.kit is None or not file.is_file():
            raise HTTPException(404, "There is no kit with a schedule.")
        return FileResponse(file, media_type="image/svg+xml", headers={"cache-control": "no-cache"})

    @app.get("/kit.zip")
    def whole_kit() -> Response:
        """The whole kit, packed."""
        if studio.fresh_kit is None:
            raise HTTPException(404, "There is no kit of the room as it is now.")
        headers = {"content-disposition": 'attachment; filename="kit.zip"'}
        return Response(_packed(studio.kit_folder), media_type="application/zip", headers=headers)


def _packed(folder: Path) -> bytes:
    """A folder as a ZIP file."""
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        for file in sorted(folder.rglob("*")):
            if file.is_file():
                archive.write(file, f"kit/{file.relative_to(folder)}")
    return packed.getvalue()
