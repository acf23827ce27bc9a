"""All that the server answers, in one list."""

from __future__ import annotations

from collections.abc import Awaitable, Callable

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from nestkit.page.answers import Refused, refusal
from nestkit.page.calls import (
    calibrate,
    check,
    fit,
    job,
    layout,
    part,
    prints,
    save,
    static,
    template,
    upload,
    what_if,
    words,
)
from nestkit.page.guard import Guard, our_fault
from nestkit.page.state import State

Call = Callable[[Request, State], Awaitable[Response]]

CALLS: tuple[tuple[str, str, Call], ...] = (
    ("GET", "/", static.front),
    ("GET", "/static/{name:path}", static.file),
    ("GET", "/api/job", job.job),
    ("GET", "/api/version", job.version),
    ("GET", "/api/words", words.words),
    ("POST", "/api/part", part.part),
    ("POST", "/api/check", check.check),
    ("POST", "/api/layout", layout.begin),
    ("GET", "/api/layout/{run}", layout.after),
    ("POST", "/api/layout/{run}/stop", layout.stop),
    ("POST", "/api/fit", fit.fit),
    ("POST", "/api/what_if", what_if.what_if),
    ("POST", "/api/prints", prints.begin),
    ("GET", "/api/prints/{prints}/file", prints.file),
    ("GET", "/api/prints/{prints}/all.zip", prints.archive),
    ("POST", "/api/template", template.template),
    ("POST", "/api/calibrate", calibrate.calibrate),
    ("POST", "/api/print_test", calibrate.print_test),
    ("POST", "/api/upload", upload.upload),
    ("POST", "/api/save", save.save),
)

_SAID = {
    404: ("There is nothing of this name", "Open the page anew"),
    405: ("It cannot be asked for in this way", "Open the page anew"),
}


def app_for(state: State, *, port: int, token: str) -> Guard:
    """Return the server's app for one run."""
    routes = [Route(path, _endpoint(call, state), methods=[method]) for method, path, call in CALLS]
    inner = Starlette(routes=routes, exception_handlers=_HANDLERS)
    # An address with one stroke too many or too few is none of ours: it is not led on to another.
    inner.router.redirect_slashes = False
    return Guard(inner, port=port, token=token)


def _endpoint(call: Call, state: State) -> Callable[[Request], Awaitable[Response]]:
    async def endpoint(request: Request) -> Response:
        if request.method == "POST" and request.url.path != "/api/upload" and await request.body():
            kind = request.headers.get("content-type", "").partition(";")[0].strip().lower()
            if kind != "application/json":
                raise Refused(415, "The request is not of the kind application/json", "Load the page again")
        return await call(request, state)

    return endpoint


async def _refused(request: Request, error: Exception) -> Response:
    assert isinstance(error, Refused)
    return refusal(error)


async def _not_there(request: Request, error: Exception) -> Response:
    assert isinstance(error, HTTPException)
    said = _SAID.get(error.status_code, ("The request cannot be answered", "Open the page anew"))
    return refusal(Refused(error.status_code, *said))


async def _at_fault(request: Request, error: Exception) -> Response:
    # It goes on to the guard, which says on the terminal what it was.
    return refusal(our_fault())


_HANDLERS = {HTTPException: _not_there, Refused: _refused, Exception: _at_fault}
