"""The whole draft checked: every mistake, every finding, what was understood of each part."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response

from nestkit.job.saving.same import without_was
from nestkit.page.answers import answer
from nestkit.page.crew import Order
from nestkit.page.state import State
from nestkit.page.trees import asked, text_in, tree_in


async def check(request: Request, state: State) -> Response:
    """Answer with all that is to be said of the draft; a newer check of the same tab drops the older."""
    wanted = asked(await request.body())
    tree, tab = without_was(tree_in(wanted)), text_in(wanted, "tab")
    order = Order()
    if tab:
        if tab in state.checks:
            state.checks[tab].drop()
        state.checks[tab] = order
    try:
        given = tree, state.desk.folder
        return answer(await state.wanted(request, state.light, "checked", *given, order=order))
    finally:
        if state.checks.get(tab) is order:
            del state.checks[tab]
