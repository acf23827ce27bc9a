"""The print test, and the printer's scale from what was read on it."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from starlette.requests import Request
from starlette.responses import Response

from nestkit.job.saving.same import without_was
from nestkit.page.answers import Refused, answer, attachment
from nestkit.page.objects import Object
from nestkit.page.state import State
from nestkit.page.trees import asked, text_in, tree_in


async def calibrate(request: Request, state: State) -> Response:
    """Answer with the scale that readings of the rulers give, and what it leaves open."""
    wanted = asked(await request.body())
    tree, paper = _with_paper(wanted)
    readings = _readings(wanted, "x"), _readings(wanted, "y")
    read_to = _readings({"read_to": [wanted.get("read_to", "")]}, "read_to")[0]
    return answer(await state.light.do("calibrate", tree, state.desk.folder, paper, readings, read_to))


def _with_paper(wanted: dict[str, Any]) -> tuple[Object, str]:
    """Return the draft and the paper that is chosen; a paper by its sides becomes the draft's own."""
    tree, paper = without_was(tree_in(wanted)), wanted.get("paper")
    if not isinstance(paper, list):
        return tree, text_in(wanted, "paper")
    printing = tree.get("printing")
    return {**tree, "printing": {**(printing if isinstance(printing, dict) else {}), "paper": paper}}, ""


def _readings(wanted: dict[str, Any], key: str) -> tuple[str, ...]:
    value = wanted.get(key)
    fit = isinstance(value, list) and len(value) <= 20
    if not fit or not all(_is_reading(one) for one in value or ()):
        raise Refused(400, f"The request's {key} is no list of readings as typed")
    return tuple(str(one) for one in value or ())


def _is_reading(value: Any) -> bool:
    """Say whether a value is what a field holds: a short text, or a number."""
    if isinstance(value, str):
        return len(value) <= 100
    if isinstance(value, bool) or not isinstance(value, int | Decimal):
        return False
    return -(10**9) < value < 10**9


async def print_test(request: Request, state: State) -> Response:
    """Answer with the print test as PDF."""
    wanted = asked(await request.body())
    tree, paper = _with_paper(wanted)
    content, name = await state.light.do("print_test", tree, state.desk.folder, paper)
    return attachment(content, name, "application/pdf")
