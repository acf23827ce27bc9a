"""The page's own files: a fixed list, made when the server begins to answer."""

from __future__ import annotations

import asyncio
from functools import cache
from importlib import import_module, resources
from importlib.resources.abc import Traversable

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response

from nestkit.page.answers import Refused
from nestkit.page.state import State

KINDS = {
    ".html": "text/html; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".css": "text/css; charset=utf-8",
    ".svg": "image/svg+xml",
    ".png": "image/png",
    ".woff2": "font/woff2",
}
FRONT = "index.html"


async def front(request: Request, state: State) -> Response:
    """Answer with the page, and begin to make ready what it will ask for."""
    if state.warming is None:
        state.warming = state.background(_warm(state))
    return _file(FRONT)


async def _warm(state: State) -> None:
    """Load what parts, checks and layouts need, in the order in which a browser asks for them."""
    await run_in_threadpool(import_module, "nestkit.page.work.part")
    await asyncio.gather(state.light.do("warm", False), state.heavy.do("warm", True))


async def file(request: Request, state: State) -> Response:
    """Answer with one file of the page."""
    return _file(request.path_params["name"])


def _file(name: str) -> Response:
    found = files().get(name)
    if found is None:
        raise Refused(404, "There is nothing of this name", "Open the page anew")
    return Response(found.read_bytes(), media_type=KINDS[name[name.rindex(".") :]])


@cache
def files() -> dict[str, Traversable]:
    """Return the page's files by their path below ``static``."""
    return dict(_below(resources.files("nestkit.page").joinpath("static"), ""))


def _below(folder: Traversable, before: str) -> list[tuple[str, Traversable]]:
    found: list[tuple[str, Traversable]] = []
    for entry in folder.iterdir():
        name = f"{before}{entry.name}"
        if entry.is_dir():
            found += _below(entry, f"{name}/")
        elif any(name.endswith(end) for end in KINDS):
            found.append((name, entry))
    return found
