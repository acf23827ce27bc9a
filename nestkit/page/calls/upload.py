"""A spreadsheet or an outline file brought in: put beside the job file under a plain name of its own."""

from __future__ import annotations

from pathlib import Path

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response

from nestkit.page.answers import Refused, answer
from nestkit.page.state import State
from nestkit.writers.names import file_stem

ENDINGS = (".csv", ".xlsx", ".dxf", ".svg")
MOST_S = 60.0
_MOST_ALIKE = 1000


async def upload(request: Request, state: State) -> Response:
    """Keep a file and answer with what it adds to the job; one that cannot be read is not kept."""
    name = request.query_params.get("name", "")
    ending = name[name.rfind(".") :].lower() if "." in name else ""
    if ending not in ENDINGS:
        raise Refused(
            415, "Only .csv, .xlsx, .dxf and .svg files can be brought in", "Save it as one of these first"
        )
    unit = request.query_params.get("unit", "in")
    if unit not in ("in", "mm"):
        raise Refused(400, "The request's unit is neither in nor mm")
    content = await request.body()
    if not content:
        raise Refused(422, "The file is empty", "Save it anew, then bring it in again")
    stem = file_stem(name.replace("\\", "/").rpartition("/")[2][: -len(ending)])[:60]
    path = await run_in_threadpool(kept, state.desk.folder, stem, ending, content)
    try:
        return answer(await state.light.do("uploaded", path.name, path.parent, unit, most_s=MOST_S))
    except BaseException:
        path.unlink(missing_ok=True)
        raise


def kept(folder: Path, stem: str, ending: str, content: bytes) -> Path:
    """Write a new file and return its path; one that is there already is never written over."""
    for number in range(1, _MOST_ALIKE):
        path = folder / (f"{stem}{ending}" if number == 1 else f"{stem}-{number}{ending}")
        try:
            with path.open("xb") as stream:
                stream.write(content)
        except FileExistsError:
            continue
        except OSError as fault:
            path.unlink(missing_ok=True)
            raise Refused(422, f"The file cannot be written ({fault.strerror})", "Make room there") from None
        return path
    raise Refused(422, f"There are too many files called {stem}{ending}", "Give the file another name")
