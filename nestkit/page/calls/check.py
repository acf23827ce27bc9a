"""The whole draft checked: every mistake, every finding, what was understood of each part."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response

from nestkit.page.answers import answer
from nestkit.page.state import State
from nestkit.page.trees import asked, plain, tree_in


async def check(request: Request, state: State) -> Response:
    """Answer with all that is to be said of the draft."""
    tree = plain(tree_in(asked(await request.body())))
    return answer(await state.light.do("checked", tree, state.desk.folder))
