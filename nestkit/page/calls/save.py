"""The draft written into the job file, unless that has changed since the draft began."""

from __future__ import annotations

import codecs
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response

from nestkit.errors import JobError, UserError
from nestkit.job.reader import toml_data
from nestkit.job.starter import starter_text
from nestkit.page.answers import Refused, answer, with_mistakes
from nestkit.page.calls.job import cannot_read
from nestkit.page.desk import Desk, text_of, version_of
from nestkit.page.objects import Object
from nestkit.page.state import State
from nestkit.page.trees import asked, text_in, tree_in, tree_of
from nestkit.writers.names import file_stem

LARGEST_NAME = 60


async def save(request: Request, state: State) -> Response:
    """Save the draft and answer with it anew; its mistakes are told beside, they keep nobody from saving."""
    wanted = asked(await request.body())
    tree, version = tree_in(wanted), text_in(wanted, "version")
    name = text_in(wanted, "name")
    saved, text = await run_in_threadpool(_saved, state.desk, tree, version, name)
    try:
        await state.light.do("saved", text, state.desk.folder)
    except Refused as refused:
        saved["mistakes"] = refused.more.get("mistakes", [])
    return answer(saved)


def _saved(desk: Desk, tree: Object, version: str, name: str) -> tuple[Object, str]:
    """Write the draft, and return what is answered and the file's text.

    Raises :class:`Refused`, with both sides where the file is another by now.
    """
    with desk.saving:
        try:
            content = desk.content()
            now = "" if content is None else version_of(content)
            if now != version:
                raise _conflict(content, now, tree)
            if content is None:
                fresh = _written(None, tree)
                _write_new(desk, name, fresh)
            else:
                fresh = _written(content, tree)
                _write_over(desk, content, fresh)
            text = text_of(fresh)
            tree = tree_of(toml_data(text))
            return {"version": version_of(fresh), "name": desk.name, "tree": tree, "mistakes": []}, text
        except JobError as error:
            raise with_mistakes(error.mistakes) from None
        except UserError as error:
            raise cannot_read(error) from None


def _written(content: bytes | None, tree: Object) -> bytes:
    """Return the bytes of a job file with the draft in it; byte order mark and line ends as they were."""
    # What writes TOML is loaded only by who saves.
    from nestkit.job.saving.save import saved_text

    mark = codecs.BOM_UTF8 if content is not None and content.startswith(codecs.BOM_UTF8) else b""
    text = starter_text() if content is None else text_of(content)
    return mark + saved_text(text, tree).encode()


def _write_over(desk: Desk, content: bytes, fresh: bytes) -> None:
    from nestkit.job.saving.disk import write_over

    path = desk.path
    assert path is not None
    if fresh != content:
        write_over(path, fresh)


def _write_new(desk: Desk, name: str, fresh: bytes) -> None:
    """Write a job that has no file yet under a plain name, and let the desk have it."""
    from nestkit.job.saving.disk import write_new

    if desk.name is None:
        bare = name.replace("\\", "/").rpartition("/")[2].strip().removesuffix(".toml")
        if not bare:
            raise Refused(422, "The job has no file yet, and no name was given", "Give the job file a name")
        own = f"{file_stem(bare)[:LARGEST_NAME]}.toml"
        write_new(desk.folder / own, fresh)
        desk.name = own
    else:
        write_new(desk.folder / desk.name, fresh)


def _conflict(content: bytes | None, now: str, tree: Object) -> Refused:
    """Return the refusal with what the file has now, and what the draft would make of it."""
    theirs: dict[str, Any] = {"version": now, "text": "", "tree": {}}
    mine = ""
    try:
        theirs["text"] = "" if content is None else text_of(content)
        theirs["tree"] = tree_of(toml_data(theirs["text"]))
        mine = _written(content, tree).decode("utf-8-sig")
    except JobError as error:
        theirs["mistakes"] = [str(mistake) for mistake in error.mistakes]
        mine = _written(b"", tree).decode()
    more = {"theirs": theirs, "mine": {"text": mine}}
    return Refused(
        409,
        "The job file has changed on the disk",
        "Look at both, then keep one or bring them together",
        more,
    )
