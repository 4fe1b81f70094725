"""Files that pages ask for: what is made is served, and what is not there is none."""

from __future__ import annotations

import asyncio
import io
import shutil
import zipfile
from typing import TYPE_CHECKING, Any

import httpx
import pytest
from fastapi import FastAPI

from nookwright.studio import routes
from nookwright.studio.state import Studio

if TYPE_CHECKING:
    from pathlib import Path


def asked(studio: Studio, *paths: str) -> list[httpx.Response]:
    """What a studio answers."""
    app = FastAPI()
    routes.add(app, studio)

    async def ask() -> list[httpx.Response]:
        async with httpx.AsyncClient(transport=httpx.ASGITransport(app=app), base_url="http://studio") as client:
            return [await client.get(path) for path in paths]

    return asyncio.run(ask())


def test_solids_are_served_by_the_name_of_what_they_are_of(studio: Studio, tmp_path: Path) -> None:
    """Whole, and the parts of one that are there so far; they are looked for anew each time."""
    for name in ("whole", "first", "second"):
        (tmp_path / f"{name}.glb").write_bytes(name.encode())
    studio.solids["drawer"] = tmp_path / "whole.glb"  # type: ignore[index] # as the queue does
    studio.pieces["drawer"] = tmp_path / "first.glb", tmp_path / "second.glb"  # type: ignore[index]
    answers = asked(studio, "/solids/drawer.glb?of=plan", "/solids/drawer/0.glb", "/solids/drawer/1.glb")
    assert [one.content for one in answers] == [b"whole", b"first", b"second"]
    for one in answers:
        assert one.headers["content-type"] == "model/gltf-binary"
        assert one.headers["cache-control"] == "no-cache"


def test_what_a_page_was_told_of_is_served_although_a_new_plan_came(studio: Studio, tmp_path: Path) -> None:
    """It asks before it hears of the new plan; what the new plan has of that name goes first."""
    for name in ("old", "part", "new"):
        (tmp_path / f"{name}.glb").write_bytes(name.encode())
    studio.solids["drawer"] = tmp_path / "old.glb"  # type: ignore[index] # as the queue does
    studio.pieces["drawer"] = (tmp_path / "part.glb",)  # type: ignore[index]
    studio._queue.begin(tmp_path / "another plan")
    assert (studio.solids, studio.pieces) == ({}, {})
    paths = "/solids/drawer.glb", "/solids/drawer/0.glb"
    assert [one.content for one in asked(studio, *paths)] == [b"old", b"part"]
    studio.solids["drawer"] = tmp_path / "new.glb"  # type: ignore[index]
    assert asked(studio, *paths)[0].content == b"new"


@pytest.mark.parametrize(
    "path",
    [
        "/solids/drawer.glb", "/solids/drawer/0.glb", "/solids/half/1.glb", "/solids/half/-1.glb", "/solids/gone.glb",
        "/solids/..%2Froom.toml.glb", "/solids/gone/0.glb", "/kit.zip", "/kit/schedule.svg", "/kit/../room.toml",
    ],
)  # fmt: skip
def test_what_is_not_made_is_not_there(studio: Studio, tmp_path: Path, path: str) -> None:
    """Another space, one part more than there are, a file that somebody deleted, a path that leads elsewhere."""
    (tmp_path / "one.glb").write_bytes(b"one")
    studio.pieces["half"] = (tmp_path / "one.glb",)  # type: ignore[index] # as the queue does
    studio.pieces["gone"] = (tmp_path / "deleted.glb",)  # type: ignore[index]
    studio.solids["gone"] = tmp_path / "deleted.glb"  # type: ignore[index]
    (answer,) = asked(studio, path)
    assert answer.status_code in {404, 422}


def test_the_chart_of_the_module_is_that_of_the_plan(studio: Studio, tiny_file: Path, tmp_path: Path) -> None:
    """And there is none before there is a plan."""
    (answer,) = asked(studio, "/module.svg")
    assert answer.headers["content-type"] == "image/svg+xml"
    assert b"<svg" in answer.content
    file = tmp_path / "new" / "room.toml"
    file.parent.mkdir()
    file.write_bytes(tiny_file.read_bytes())
    (answer,) = asked(Studio(file, tmp_path / "scratch-two"), "/module.svg")
    assert answer.status_code == 404


def test_a_kit_is_packed_whole_while_it_is_of_the_room(
    tiny_file: Path, tmp_path: Path, planned: dict[str, Any]
) -> None:
    """Each file under one folder; the chart of an older kit is still served, its ZIP is not."""
    file, kit = tmp_path / "room.toml", tmp_path / "kit"
    file.write_bytes(tiny_file.read_bytes())
    (kit / "pieces").mkdir(parents=True)
    shutil.copy(planned["kit"], kit / "kit.json")
    (kit / "schedule.svg").write_text("<svg/>", encoding="utf-8")
    (kit / "pieces" / "one.stl").write_bytes(b"solid")
    studio = Studio(file, tmp_path / "scratch")
    packed, chart = asked(studio, "/kit.zip", "/kit/schedule.svg")
    assert packed.headers["content-disposition"] == 'attachment; filename="kit.zip"'
    with zipfile.ZipFile(io.BytesIO(packed.content)) as archive:
        assert archive.namelist() == ["kit/kit.json", "kit/pieces/one.stl", "kit/schedule.svg"]
        assert archive.read("kit/pieces/one.stl") == b"solid"
    assert (chart.status_code, chart.text) == (200, "<svg/>")
    (kit / "schedule.svg").unlink()
    (chart,) = asked(studio, "/kit/schedule.svg")
    assert chart.status_code == 404
    (kit / "schedule.svg").write_text("<svg/>", encoding="utf-8")
    studio.edit("a comment", f"{studio.desk.text}\n# changed\n")
    packed, chart = asked(studio, "/kit.zip", "/kit/schedule.svg")
    assert (packed.status_code, chart.status_code) == (404, 200)
