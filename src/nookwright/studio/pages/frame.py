"""What every page has: the head with the stages, the words of the studio, and the foot with what can be taken back."""

from __future__ import annotations

import html
from contextlib import contextmanager
from typing import TYPE_CHECKING, Final

from nicegui import app, ui

from nookwright.studio.jobs import State
from nookwright.studio.state import Topic

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from nookwright.studio.state import Studio

STAGES: Final = (
    ("survey", "Survey"),
    ("module", "Module"),
    ("layout", "Layout"),
    ("parts", "Parts"),
    ("make", "Make"),
    ("prove", "Prove"),
)


def button(words: str, do: Callable[..., object], *, main: bool = False, **props: str) -> ui.element:
    """A plain button of the page."""
    made = ui.element("button").classes("plain main" if main else "plain").props('type="button"')
    for name, value in props.items():
        made.props[name.replace("_", "-")] = value
    with made:
        text(words)
    made.on("click", do, [])
    return made


def text(words: str, tag: str = "span", classes: str = "") -> ui.html:
    """Words as they are; nothing in them is markup."""
    return ui.html(html.escape(words), sanitize=False, tag=tag).classes(classes)


@contextmanager
def page(studio: Studio, stage: str, title: str) -> Iterator[None]:
    """The frame of a page; what is made in the block is its body."""
    dark = ui.dark_mode(None)
    ui.page_title(f"{title}: {studio.room.room.name if studio.room else studio.file.name}")
    ui.add_css(_css())
    with ui.element("header").classes("sheet-head"):
        text("To the content", "a", "skip").props('href="#content"')
        with ui.element("div"):
            text("nookwright studio", "p", "overline")
            name = text(_name(studio), "h1")
        with ui.element("nav").props('aria-label="Stages of the job"'), ui.element("ol").classes("stages"):
            for path, word in STAGES:
                with ui.element("li"):
                    link = text(word, "a").props(f'href="/{path}"')
                    if path == stage:
                        link.props('aria-current="page"')
        undo = button("Take back", studio.undo, data_do="undo")
        redo = button("Make again", studio.redo, data_do="redo")
        button("Light or dark", lambda: dark.set_value(not dark.value), data_do="dark")
    words = text(studio.said, "p", "words sheet-foot").props('role="status" aria-live="polite" data-said')
    with ui.element("div").classes("sheet-body").props('id="content"'):
        text(title, "h2", "hear")
        yield
    with ui.element("footer").classes("sheet-foot"):
        job = text("", "span").props("data-job")
        kept = text("", "span").props("data-kept")

    def refresh(topic: Topic | None = None) -> None:
        undo.props["disabled"] = not studio.desk.done
        redo.props["disabled"] = not studio.desk.undone
        undo.props["title"] = f"Take back: {studio.desk.done[-1]}" if studio.desk.done else "Nothing to take back"
        redo.props["title"] = f"Make again: {studio.desk.undone[-1]}" if studio.desk.undone else "Nothing to make again"
        undo.update()
        redo.update()
        if topic in {None, Topic.WORDS}:
            reword(words, studio.said)
        reword(job, _job(studio))
        reword(kept, _kept(studio))
        reword(name, _name(studio))

    refresh()
    follow(studio, refresh)


def follow(studio: Studio, refresh: Callable[[Topic], None]) -> None:
    """Have a part of this page refreshed at every change, until the page is closed."""
    client = ui.context.client

    def told(topic: Topic) -> None:
        with client:
            refresh(topic)

    leave = studio.on_change(told)
    client.on_delete(leave)


def reword(element: ui.html, words: str) -> None:
    """Other words in an element that ``text`` made; nothing is sent where they are the same."""
    content = html.escape(words)
    if element.content != content:
        element.set_content(content)


def _name(studio: Studio) -> str:
    return studio.room.room.name if studio.room else studio.file.name


def _job(studio: Studio) -> str:
    running = [job for job in studio.running.values() if job.state is State.RUNNING]
    if running:
        share = "" if running[0].share is None else f" ({100 * running[0].share:.0f} %)"
        return f"Working: {running[0].stage}{share}"
    if studio.room is None:
        return "No new plan while something is wrong: the page Survey says what"
    return "The plan is being made" if studio.outdated else "Nothing to wait for"


def _kept(studio: Studio) -> str:
    if not studio.settled:
        return "Being written down"
    return f"All of it is in {studio.file.name}" if studio.desk.folded else f"In the journal of {studio.file.name}"


def _css() -> str:
    from importlib.resources import files

    return files("nookwright.studio").joinpath("web", "sheet.css").read_text(encoding="utf-8")


__all__ = ["STAGES", "app", "button", "follow", "page", "reword", "text"]
