"""Layouts: begun, watched, stopped."""

from __future__ import annotations

from typing import Any

from starlette.requests import Request
from starlette.responses import Response

from nestkit.job.saving.same import without_was
from nestkit.page.answers import Refused, answer
from nestkit.page.guard import our_fault
from nestkit.page.runs import WAITING, Run
from nestkit.page.state import State
from nestkit.page.trees import asked, count_in, text_in, tree_in

LONGEST_S = 3600.0
LAST_S = 60.0
"""Seconds for the pictures of the best layout, once the search has had its time."""
EFFORTS = ("quick", "normal", "thorough")


async def begin(request: Request, state: State) -> Response:
    """Begin a layout of the draft; it goes on while the browser asks how far it is."""
    wanted = asked(await request.body())
    tree, tab = without_was(tree_in(wanted)), text_in(wanted, "tab")
    effort, seed = text_in(wanted, "effort", "normal"), count_in(wanted, "seed", 1, 2**31)
    if effort not in EFFORTS:
        raise Refused(400, "The request's effort is not known", "Write quick, normal or thorough")
    name, run = state.runs.begin(tab, tree)
    run.task = state.background(_lay_out(state, run, (tree, state.desk.folder, seed, effort)))
    return answer({"run": name})


async def _lay_out(state: State, run: Run, given: tuple[Any, ...]) -> None:
    """Lay out at a worker, and keep what it tells."""

    def heard(what: dict[str, Any]) -> None:
        if run.state == "working":
            run.now(**what)

    await state.ready()
    if state.heavy.busy:
        heard({"say": WAITING})
    try:
        await state.heavy.do("layout", *given, order=run.order, heard=heard, most_s=LONGEST_S, last_s=LAST_S)
    except Refused as refused:
        if run.state == "working":
            run.now(state="failed", say=refused.error, error={**refused.body, "status": refused.status})
        return
    except Exception:
        run.now(state="failed", say=our_fault().error)
        raise
    if run.state == "working":
        run.now(state="stopped" if run.order.stopped else "done")


async def after(request: Request, state: State) -> Response:
    """Answer as soon as there is something newer than the browser has."""
    text = request.query_params.get("after", "0")
    if not (text.isascii() and text.isdigit() and len(text) < 10):
        raise Refused(400, "The request's after is no whole number")
    return answer(await _run(request, state).after(int(text)))


async def stop(request: Request, state: State) -> Response:
    """End a search and keep the best."""
    _run(request, state).order.stop()
    return answer({"ok": True})


def _run(request: Request, state: State) -> Run:
    run = state.runs.named(request.path_params["run"])
    if run is None:
        raise Refused(404, "This layout is no longer known", "Lay out again")
    return run
