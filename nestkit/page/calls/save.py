"""The draft written into the job file, unless that has changed since the draft began."""

from __future__ import annotations

import codecs
from dataclasses import dataclass

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response

from nestkit.errors import JobError, Mistake, ToolFault, UserError
from nestkit.job.reader import toml_data
from nestkit.job.starter import starter_text
from nestkit.job.text import job_text
from nestkit.page.answers import Refused, answer, cannot
from nestkit.page.desk import Desk, version_of
from nestkit.page.guard import say_fault
from nestkit.page.objects import Object, mistake_object
from nestkit.page.state import State
from nestkit.page.trees import asked, flag_in, text_in, tree_in, tree_of
from nestkit.writers.names import file_stem

LARGEST_NAME = 60


@dataclass(frozen=True)
class Draft:
    """What is to be saved: the tree, the version that it began from, a name for a job that has no file.

    ``whole``: a file that cannot be read is written whole in its place.
    """

    tree: Object
    version: str
    name: str
    whole: bool


@dataclass(frozen=True)
class Found:
    """The job file as it lies on the disk now: None where there is none.

    ``text`` is what a draft is written into, and ``tree`` says the same; of a file that cannot be read there
    is neither, but ``mistakes``.
    """

    content: bytes | None
    text: str
    tree: Object
    mistakes: tuple[Mistake, ...] = ()

    @property
    def version(self) -> str:
        """The version that a draft must have begun from, to be saved."""
        return "" if self.content is None else version_of(self.content)


async def save(request: Request, state: State) -> Response:
    """Save the draft and answer with it anew, mistakes and all: a check tells of those."""
    wanted = asked(await request.body())
    draft = Draft(
        tree_in(wanted), text_in(wanted, "version"), text_in(wanted, "name"), flag_in(wanted, "whole")
    )
    return answer(await run_in_threadpool(_saved, state.desk, draft))


def _saved(desk: Desk, draft: Draft) -> Object:
    """Write the draft, and return what is answered.

    Raises :class:`Refused`, with both sides where the file is another by now or cannot be read.
    """
    with desk.saving:
        try:
            found = _found(desk)
            if found.version != draft.version or (found.mistakes and not draft.whole):
                raise _conflict(desk, found, draft)
            fresh = _written(found, draft.tree)
            if found.content is None:
                _write_new(desk, draft.name, fresh)
            elif fresh != found.content:
                _write_over(desk, fresh)
        except UserError as error:
            raise cannot(error, desk.name) from None
        desk.last = fresh
        return {"version": version_of(fresh), "name": desk.name, "tree": tree_of(toml_data(job_text(fresh)))}


def _found(desk: Desk) -> Found:
    """Return the job file as it is now; raises :class:`~nestkit.errors.UserError` where it cannot be had."""
    last = desk.last
    content = desk.content()
    if content is None and desk.name is None:
        return _understood(None, starter_text())
    try:
        return _understood(content, job_text(last if content is None else content))
    except JobError as error:
        # Of a file that is gone only what it said last could not be read: nothing is in the way.
        return Found(content, "", {}, () if content is None else error.mistakes)


def _understood(content: bytes | None, text: str) -> Found:
    return Found(content, text, tree_of(toml_data(text)))


def _written(found: Found, tree: Object) -> bytes:
    """Return the bytes of a job file with the draft in it; byte order mark and line ends as they were."""
    # What writes TOML is loaded only by who saves.
    from nestkit.job.saving.save import saved_text

    marked = found.content is not None and found.content.startswith(codecs.BOM_UTF8)
    return (codecs.BOM_UTF8 if marked else b"") + saved_text(found.text, tree).encode()


def _write_over(desk: Desk, fresh: bytes) -> None:
    from nestkit.job.saving.disk import write_over

    path = desk.path
    assert path is not None
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


def _conflict(desk: Desk, found: Found, draft: Draft) -> Refused:
    """Return the refusal with what the file has now, and what the draft would make of it."""
    theirs: Object = {"version": found.version, "text": "", "tree": found.tree}
    if found.content is not None:
        theirs["text"] = found.content.decode("utf-8-sig", "replace")
    elif desk.name is not None:
        theirs["gone"] = True
    if found.mistakes:
        theirs["mistakes"] = [mistake_object(mistake) for mistake in found.mistakes]
    mine: Object = {"text": ""}
    try:
        mine["text"] = _written(found, draft.tree).decode("utf-8-sig")
    except UserError as error:
        mine["mistake"] = cannot(error).error
    except ToolFault as fault:
        # What the file has now is to be seen all the same.
        say_fault(str(fault))
        mine["mistake"] = "What yours would make of the file cannot be shown"
    said, remedy = (
        "The job file has changed on the disk",
        "Look at both, then keep one or bring them together",
    )
    if "gone" in theirs:
        said, remedy = "The job file is gone", "Keep yours to write it anew, or put the file back"
    elif found.mistakes:
        said = "The job file has changed on the disk, and cannot be read"
        remedy = "Mend it in a text editor, or keep yours: what it has now is then kept beside it"
    return Refused(409, said, remedy, {"theirs": theirs, "mine": mine})
