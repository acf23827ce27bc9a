"""What may be chosen from: lists of the trade tables and of the job file's own words."""

from __future__ import annotations

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response

from nestkit.page.answers import answer
from nestkit.page.state import State


async def words(request: Request, state: State) -> Response:
    """Answer with the lists."""
    from nestkit.page.work.words import words_object

    return answer(await run_in_threadpool(words_object))
