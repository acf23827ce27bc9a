"""The draft with other spares, other stock, another way of cutting, side by side."""

from __future__ import annotations

from typing import Any

from starlette.requests import Request
from starlette.responses import Response

from nestkit.job.saving.same import without_was
from nestkit.page.answers import Refused, answer
from nestkit.page.state import State
from nestkit.page.trees import asked, count_in, text_in, tree_in

MOST = 8
MOST_S = 900.0


async def what_if(request: Request, state: State) -> Response:
    """Answer with what each case takes, the job as it is first."""
    wanted = asked(await request.body())
    tree, cases = without_was(tree_in(wanted)), wanted.get("cases", [])
    if not isinstance(cases, list) or len(cases) > MOST or not all(isinstance(case, dict) for case in cases):
        raise Refused(400, f"The request's cases are no list of at most {MOST}")
    given = [_case(case) for case in cases]
    return answer(
        await state.wanted(request, state.heavy, "what_if", tree, state.desk.folder, given, most_s=MOST_S)
    )


def _case(case: dict[str, Any]) -> tuple[str, int, tuple[str, ...], str]:
    """Return a case's name, spares, stock that it does without, and way of cutting."""
    without = case.get("without_stock", [])
    if not isinstance(without, list) or not all(isinstance(name, str) for name in without):
        raise Refused(400, "The request's without_stock is no list of names")
    return text_in(case, "name"), count_in(case, "spare", 0, 1000), tuple(without), text_in(case, "how")
