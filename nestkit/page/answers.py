"""Answers to the browser: JSON, and refusals in a sentence with what to do."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from starlette.responses import Response

from nestkit.errors import Mistake, UserError
from nestkit.page.objects import Object, json_bytes, mistake_object


class Refused(Exception):
    """A request that is answered with an error: the status, what is wrong, what to do, what else is said."""

    def __init__(
        self, status: int, error: str, remedy: str = "", more: Mapping[str, Any] | None = None
    ) -> None:
        self.status, self.error, self.remedy, self.more = status, error, remedy, more or {}
        super().__init__(error)

    @property
    def body(self) -> Object:
        """What is answered."""
        return {"error": self.error, "remedy": self.remedy, **self.more}


def answer(value: Any, status: int = 200) -> Response:
    """Return an answer of JSON; bytes are JSON already."""
    body = value if isinstance(value, bytes) else json_bytes(value)
    return Response(body, status, media_type="application/json")


def refusal(refused: Refused) -> Response:
    """Return the answer that says why a request is refused."""
    return answer(refused.body, refused.status)


def attachment(content: bytes, name: str, kind: str) -> Response:
    """Return a file to be kept; ``name`` is of plain letters, as file names of the job folder are."""
    return Response(
        content, media_type=kind, headers={"Content-Disposition": f'attachment; filename="{name}"'}
    )


def cannot(error: UserError | str, name: str | None = None) -> Refused:
    """Return the refusal for what the user got wrong; a file's ``name`` at the front stays as it is."""
    reason, _, remedy = str(error).partition("; ")
    first = reason.partition(" ")[0]
    named = "." in first or bool(name and reason.startswith(name))
    return Refused(422, reason if named else _capital(reason), _capital(remedy))


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def with_mistakes(mistakes: tuple[Mistake, ...]) -> Refused:
    """Return the refusal of a job that cannot be worked on for its mistakes."""
    n = len(mistakes)
    said = f"The job has {n} {'mistake' if n == 1 else 'mistakes'}"
    return Refused(
        422, said, "Mend what is marked, then try again", {"mistakes": [mistake_object(m) for m in mistakes]}
    )
