"""The pages of one template, as they will be printed."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from starlette.requests import Request
from starlette.responses import Response

from nestkit.job.saving.same import without_was
from nestkit.page.answers import Refused, answer, attachment
from nestkit.page.state import State
from nestkit.page.trees import asked, flag_in, text_in, tree_in


async def template(request: Request, state: State) -> Response:
    """Answer with the pages of a part's template, or with ``pdf`` as a file true to size.

    Paper and printer's scale may be others than the job's.
    """
    wanted = asked(await request.body())
    tree = without_was(tree_in(wanted))
    part = text_in(wanted, "part")
    printing = {key: wanted[key] for key in ("paper", "scale_x", "scale_y") if wanted.get(key) is not None}
    if not all(_is_plain(value) for value in printing.values()):
        raise Refused(400, "The request's paper or scale is neither a text nor a number")
    hands = flag_in(wanted, "opposite_hand"), flag_in(wanted, "back")
    pdf = flag_in(wanted, "pdf")
    made = await state.light.do("template", tree, state.desk.folder, part, printing, *hands, pdf)
    if not pdf:
        return answer(made)
    content, name = made
    return attachment(content, name, "application/pdf")


def _is_plain(value: Any) -> bool:
    if isinstance(value, list):
        # A paper by its sides; whether they are any is told where the job is read.
        return len(value) == 2 and all(map(_is_plain, value))
    return isinstance(value, str | int | Decimal) and not isinstance(value, bool)
