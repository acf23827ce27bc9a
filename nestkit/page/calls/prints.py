"""All files of the job folder, each by itself and in one archive."""

from __future__ import annotations

import io
import zipfile
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response

from nestkit.job.saving.same import without_was
from nestkit.page.answers import Refused, answer, attachment
from nestkit.page.state import State
from nestkit.page.trees import asked, tree_in

MOST_S = 900.0
KINDS = {
    ".pdf": "application/pdf",
    ".svg": "image/svg+xml",
    ".dxf": "image/vnd.dxf",
    ".csv": "text/csv; charset=utf-8",
    ".txt": "text/plain; charset=utf-8",
    ".json": "application/json",
    ".html": "text/html; charset=utf-8",
}
_FIRST_DAY = (1980, 1, 1, 0, 0, 0)
"""No archive knows an earlier one; the same files give the same archive."""


async def begin(request: Request, state: State) -> Response:
    """Make all files of the job folder, of the layout that is named if any; answer with the list."""
    wanted = asked(await request.body())
    tree = without_was(tree_in(wanted))
    run = wanted.get("run")
    pickled = b""
    if run is not None:
        known = state.runs.named(run) if isinstance(run, str) else None
        if known is None or not known.pickled:
            raise Refused(404, "This layout is no longer known", "Lay out again")
        if known.tree != tree:
            raise Refused(409, "The job has changed since this layout", "Lay out again, then make the prints")
        pickled = known.pickled
    made: list[tuple[str, bytes, str]]
    made = await state.wanted(request, state.heavy, "prints", tree, state.desk.folder, pickled, most_s=MOST_S)
    name = state.prints.keep({file: content for file, content, _ in made})
    files = [{"name": file, "bytes": len(content), "what": what} for file, content, what in made]
    return answer({"prints": name, "files": files})


async def file(request: Request, state: State) -> Response:
    """Answer with one file of a set."""
    name = request.query_params.get("name", "")
    content = _files(request, state).get(name)
    if content is None:
        raise Refused(404, "There is no file of this name", "Make the prints again")
    last = name.rpartition("/")[2]
    kind = KINDS.get(last[last.rfind(".") :], "application/octet-stream")
    return attachment(content, last, kind)


async def archive(request: Request, state: State) -> Response:
    """Answer with all files of a set in one archive."""
    content = await run_in_threadpool(_zipped, _files(request, state))
    return attachment(content, "prints.zip", "application/zip")


def _files(request: Request, state: State) -> dict[str, bytes]:
    found = state.prints.named(request.path_params["prints"])
    if found is None:
        raise Refused(404, "These prints are no longer kept", "Make the prints again")
    return found


def _zipped(files: dict[str, Any]) -> bytes:
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in files.items():
            entry = zipfile.ZipInfo(name, _FIRST_DAY)
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.external_attr = 0o644 << 16
            archive.writestr(entry, content)
    return stream.getvalue()
