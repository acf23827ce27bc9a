"""The server from its start to its end."""

from __future__ import annotations

import hashlib
import logging
import os
import secrets
import signal
import socket
import threading
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from types import FrameType

from nestkit.errors import UserError
from nestkit.page.desk import Desk, desk_for

_OWN_PORTS = 20_000, 10_000
"""The first port that a folder may have for its own, and how many there are; none is the system's."""
_TRIED = 20
"""Ports that are tried, one after the other, before any free one is taken."""
LOOPBACK = "127.0.0.1"
_CONNECTIONS = 400
"""Open at once at most; a browser needs six."""
_LAST_WORD_S = 1
"""Seconds that answers have to go out when the server ends."""


def serve(job: Path | None, *, port: int, tell: Callable[[str], None], open_browser: bool) -> None:
    """Serve the page of a job file until Ctrl-C; ``port`` 0 takes a free one. ``tell`` gets its address.

    Raises :class:`~nestkit.errors.UserError` for a job that cannot be read, and for a port in use.
    """
    desk = desk_for(job)
    with _bound(port, desk) as listening:
        # What a browser needs is loaded only once it is plain that there will be a page.
        import uvicorn

        from nestkit.page.app import app_for
        from nestkit.page.heads import HeadsInTime
        from nestkit.page.state import State

        port = listening.getsockname()[1]
        token = secrets.token_urlsafe(32)
        state = State(desk)
        config = uvicorn.Config(
            app_for(state, port=port, token=token),
            http=HeadsInTime,
            loop="asyncio",
            ws="none",
            lifespan="off",
            log_config=None,
            access_log=False,
            server_header=False,
            proxy_headers=False,
            timeout_keep_alive=30,
            timeout_graceful_shutdown=_LAST_WORD_S,
            limit_concurrency=_CONNECTIONS,
        )
        # Faults are told by the guard; that an answer was cut short at the end is none.
        logging.getLogger("uvicorn.error").disabled = True
        address = f"http://{LOOPBACK}:{port}/#token={token}"
        listening.listen(128)
        before = signal.signal(signal.SIGTERM, _end)
        try:
            with suppress(KeyboardInterrupt, _Ended):
                tell(address)
                if open_browser:
                    threading.Thread(target=_open, args=(address,), daemon=True).start()
                uvicorn.Server(config).run(sockets=[listening])
        finally:
            signal.signal(signal.SIGTERM, before)
            state.end()


class _Ended(BaseException):
    """Somebody asked the process to end."""


def _end(number: int, frame: FrameType | None) -> None:
    raise _Ended


def _bound(port: int, desk: Desk) -> socket.socket:
    """Return a socket on this computer's own address, which no other computer reaches.

    A browser keeps what was typed by address. So a folder has the same port again, also for a job that got
    its file only meanwhile; a second server there takes the next that is free.
    """
    if port:
        return _bound_to(port)
    place = hashlib.sha256(str(desk.folder).encode("utf-8", "surrogateescape")).digest()
    first, (low, count) = int.from_bytes(place[:4]), _OWN_PORTS
    for step in range(_TRIED):
        with suppress(UserError):
            return _bound_to(low + (first + step) % count)
    return _bound_to(0)


def _bound_to(port: int) -> socket.socket:
    listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    try:
        if os.name == "posix":
            # Elsewhere it would let another process in on the same port.
            listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        listening.bind((LOOPBACK, port))
    except OSError as fault:
        listening.close()
        raise UserError(
            f"port {port} cannot be had ({fault.strerror}); leave --port out for a free one"
        ) from None
    return listening


def _open(address: str) -> None:
    import webbrowser

    webbrowser.open(address)
