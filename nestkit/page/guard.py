"""Who may ask: this computer's own browser, with the token of this run, and no more than can be read.

Every request passes here first, and every answer leaves with the headers that keep the page to itself.
"""

from __future__ import annotations

import asyncio
import secrets
import sys
import traceback
from collections.abc import Iterable

from starlette.types import ASGIApp, Message, Receive, Scope, Send

from nestkit.page.answers import Refused, refusal

LARGEST_BODY = 20_000_000
"""Bytes of a request at most: what a job file may have."""
READ_S = 10.0
"""Seconds in which a request must have come whole."""
TOKEN = b"x-nestkit-token"

_POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; connect-src 'self'; "
    "form-action 'none'; base-uri 'none'; frame-ancestors 'none'"
)
HEADERS = (
    (b"content-security-policy", _POLICY.encode()),
    (b"x-content-type-options", b"nosniff"),
    (b"referrer-policy", b"no-referrer"),
    (b"cache-control", b"no-store"),
    (b"cross-origin-opener-policy", b"same-origin"),
    (b"cross-origin-resource-policy", b"same-origin"),
)
_LOAD_AGAIN = "Open the page by the address that the command printed"


class Guard:
    """Lets requests through to ``app`` that come from the page itself, whole and within limits."""

    def __init__(self, app: ASGIApp, *, port: int, token: str) -> None:
        self._app, self._token = app, token.encode()
        self._hosts = {f"{name}:{port}".encode() for name in ("127.0.0.1", "localhost")}
        self._origins = {b"http://" + host for host in self._hosts}

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        if scope["type"] != "http":
            return
        begun = False

        async def sending(message: Message) -> None:
            nonlocal begun
            if message["type"] == "http.response.start":
                begun = True
                message = {**message, "headers": [*message.get("headers", ()), *HEADERS]}
            await send(message)

        try:
            self._check(scope)
            body = await _whole(scope, receive)
            await self._app(scope, _again(body, receive), sending)
        except Refused as refused:
            await refusal(refused)(scope, receive, sending)
        except Exception:  # the last resort: whatever is left is a fault of ours, told on the terminal alone
            say_fault(traceback.format_exc())
            if not begun:
                await refusal(our_fault())(scope, receive, sending)

    def _check(self, scope: Scope) -> None:
        headers = [(name.lower(), value) for name, value in scope["headers"]]
        hosts, origins = _all(headers, b"host"), _all(headers, b"origin")
        if len(hosts) != 1 or hosts[0].lower() not in self._hosts:
            raise Refused(403, "This page answers to its own address only", _LOAD_AGAIN)
        if any(origin.lower() not in self._origins for origin in origins):
            raise Refused(403, "Another page asked, and this one does not answer it", _LOAD_AGAIN)
        if scope["path"].startswith("/api/"):
            tokens = _all(headers, TOKEN)
            if len(tokens) != 1 or not secrets.compare_digest(tokens[0], self._token):
                raise Refused(403, "The request has no token of this run", _LOAD_AGAIN)


def _all(headers: Iterable[tuple[bytes, bytes]], wanted: bytes) -> list[bytes]:
    return [value for name, value in headers if name == wanted]


async def _whole(scope: Scope, receive: Receive) -> bytes:
    """Return the whole body; refuses one that is too large, or too slow."""
    for name, value in scope["headers"]:
        if name.lower() == b"content-length" and (not value.isdigit() or int(value[:20]) > LARGEST_BODY):
            raise _too_large()
    parts, size = [], 0
    try:
        async with asyncio.timeout(READ_S):
            while True:
                message = await receive()
                if message["type"] == "http.disconnect":
                    raise Refused(400, "The request broke off")
                parts.append(message.get("body", b""))
                size += len(parts[-1])
                if size > LARGEST_BODY:
                    raise _too_large()
                if not message.get("more_body", False):
                    return b"".join(parts)
    except TimeoutError:
        raise Refused(408, "The request came too slowly", "Try again") from None


def _again(body: bytes, receive: Receive) -> Receive:
    """Return what gives the whole body at once, and after it what comes next."""
    given = False

    async def whole() -> Message:
        nonlocal given
        if given:
            return await receive()
        given = True
        return {"type": "http.request", "body": body, "more_body": False}

    return whole


def _too_large() -> Refused:
    return Refused(413, "The request is larger than 20 MB", "Split the file into smaller ones")


def our_fault() -> Refused:
    """Return what is said where nestkit itself is at fault."""
    return Refused(
        500, "This is a fault of nestkit, not of your job", "What happened is said on the terminal"
    )


def say_fault(text: str) -> None:
    """Say on the terminal what went wrong; the browser never gets to see it."""
    sys.stderr.write(f"{text.rstrip()}\nnestkit: this is a fault of nestkit, not of your job.\n")
    sys.stderr.flush()
