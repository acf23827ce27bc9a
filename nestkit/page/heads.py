"""Requests whose head does not come whole in time: their connection is closed."""

from __future__ import annotations

import asyncio
from typing import Any

from uvicorn.protocols.http.h11_impl import H11Protocol

HEAD_S = 5.0
"""Seconds that a client has for the head of a request."""


class HeadsInTime(H11Protocol):
    """HTTP, with a limit on how long a client may take over the head of a request."""

    _late: asyncio.TimerHandle | None = None

    def connection_made(self, transport: Any) -> None:
        """Begin to wait for the first head."""
        super().connection_made(transport)
        self._wait()

    def connection_lost(self, exc: Exception | None) -> None:
        """Wait no more."""
        self._no_wait()
        super().connection_lost(exc)

    def data_received(self, data: bytes) -> None:
        """Take what came; where it is still no whole head, go on waiting since its first byte."""
        super().data_received(data)
        if self.cycle is not None and not self.cycle.response_complete:
            self._no_wait()
        elif self._late is None:
            self._wait()

    def on_response_complete(self) -> None:
        """Leave an idle connection to the limit on those; a head begun meanwhile is waited for anew."""
        self._no_wait()
        super().on_response_complete()

    def _wait(self) -> None:
        self._late = self.loop.call_later(HEAD_S, self._close)

    def _no_wait(self) -> None:
        if self._late is not None:
            self._late.cancel()
            self._late = None

    def _close(self) -> None:
        if self.transport is not None and not self.transport.is_closing():
            self.transport.close()
