"""The joints of the draft, what they need, and the drills."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response

from nestkit.job.saving.same import without_was
from nestkit.page.answers import answer
from nestkit.page.state import State
from nestkit.page.trees import asked, tree_in


async def fit(request: Request, state: State) -> Response:
    """Answer with every joint, its chance and what would help."""
    tree = without_was(tree_in(asked(await request.body())))
    return answer(await state.wanted(request, state.heavy, "fit", tree, state.desk.folder))
