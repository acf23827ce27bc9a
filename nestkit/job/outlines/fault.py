"""What makes an outline file one that no part can be cut by."""

from __future__ import annotations

from nestkit.errors import UserError


class OutlineFault(UserError):
    """A file that gives no outline: ``text`` says what and where in the drawing, ``remedy`` what to do."""

    def __init__(self, text: str, remedy: str) -> None:
        self.text, self.remedy = text, remedy
        super().__init__(f"{text}. {remedy}")
