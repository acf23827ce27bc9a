"""One part as it is typed: what is wrong with it, its picture, its holes."""

from __future__ import annotations

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response

from nestkit.job.saving.same import without_was
from nestkit.page.answers import Refused, answer
from nestkit.page.objects import Object
from nestkit.page.state import State
from nestkit.page.trees import asked, check_values, flag_in, unread_tree

KINDS = ("panel", "tube", "bought", "sheet", "bar")


async def part(request: Request, state: State) -> Response:
    """Answer with one part; here and at once, in a thread of its own, whatever else is at work."""
    body = await request.body()
    return answer(await run_in_threadpool(_part, body, state))


def _part(body: bytes, state: State) -> Object:
    from nestkit.page.work.part import part_object

    request = asked(body)
    tree = unread_tree(request)
    path = request.get("path")
    if not (isinstance(path, list) and len(path) == 2 and path[0] in KINDS):
        raise Refused(400, "The request names no part")
    kind, index = path
    listed = tree.get(kind)
    if not isinstance(listed, list) or not isinstance(index, int) or isinstance(index, bool):
        raise Refused(400, "The request names no part")
    if not 0 <= index < len(listed) or not isinstance(listed[index], dict):
        raise Refused(400, "The request names a part that the job does not have")
    head = {key: value for key, value in tree.items() if key not in KINDS or key in ("sheet", "bar")}
    head.pop("import", None)
    # Of a large job only this part is looked at: it is drawn while it is typed.
    check_values([head, listed[index]])
    data, item = without_was(head), without_was(listed[index])
    return part_object(data, item, kind, index, state.desk.folder, opposite=flag_in(request, "opposite_hand"))
