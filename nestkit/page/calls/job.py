"""The job as it lies on the disk now."""

from __future__ import annotations

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response

from nestkit.errors import JobError, UserError
from nestkit.job.reader import toml_data
from nestkit.job.starter import starter_text
from nestkit.job.text import job_text
from nestkit.page.answers import Refused, answer, cannot
from nestkit.page.desk import Desk, version_of
from nestkit.page.objects import Object, mistake_object
from nestkit.page.state import State
from nestkit.page.trees import tree_of


async def job(request: Request, state: State) -> Response:
    """Answer with the job file as a tree; a file that is not TOML with its text and what is wrong."""
    return answer(await run_in_threadpool(job_object, state.desk))


async def version(request: Request, state: State) -> Response:
    """Answer with the version of the file alone."""
    try:
        return answer({"version": await run_in_threadpool(state.desk.version)})
    except UserError as error:
        raise cannot(error, state.desk.name) from None


def job_object(desk: Desk) -> Object:
    """Return the job of a desk, the starter job where it has no file."""
    try:
        content = desk.content()
    except UserError as error:
        raise cannot(error, desk.name) from None
    found: Object = {
        "name": desk.name,
        "folder": desk.folder.name or desk.folder.anchor,
        "version": "" if content is None else version_of(content),
        "tree": {},
        "starter": desk.name is None,
        "broken": None,
    }
    text = ""
    try:
        if content is None and desk.name is not None:
            raise Refused(404, "The job file is gone", "Save the job, or put the file back")
        text = starter_text() if content is None else job_text(content)
        found["tree"] = tree_of(toml_data(text))
    except JobError as error:
        found["broken"] = {"mistakes": [mistake_object(m) for m in error.mistakes], "text": text}
    return found
