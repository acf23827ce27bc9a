"""Progress in sentences on standard error: one line that is written over on a terminal."""

from __future__ import annotations

import sys
from types import TracebackType

from nestkit.layout.events import Progress


class Teller:
    """Says how the search goes. On a terminal one line changes; in a pipe notices are said, each once."""

    def __init__(self, *, quiet: bool) -> None:
        self._quiet = quiet
        self._live = not quiet and sys.stderr.isatty()
        self._shown = ""
        self._noticed: set[str] = set()

    def __enter__(self) -> Teller:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        if self._shown:
            sys.stderr.write("\r" + " " * len(self._shown) + "\r")

    def __call__(self, event: Progress) -> None:
        """Show where the search stands."""
        text = event.sentence()[:100]
        if event.notice and not self._live and text not in self._noticed:
            self._noticed.add(text)
            note(text, quiet=self._quiet)
        if not self._live:
            return
        sys.stderr.write("\r" + text.ljust(len(self._shown)))
        sys.stderr.flush()
        self._shown = text


def note(text: str, *, quiet: bool) -> None:
    """Say something that is not the result, on standard error."""
    if not quiet:
        sys.stderr.write(text + "\n")
