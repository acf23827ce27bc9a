"""Every error that nestkit raises on purpose.

::

    NestkitError
    |-- UserError            the job, a file or the command is wrong: exit 2
    |   |-- LengthError      a text is no length
    |   |-- JobError         the job file has mistakes, all of them listed
    |   `-- FolderError      the output folder cannot be written or is not ours
    `-- ToolFault            a fault of nestkit itself: exit 3, never shown as the user's

A message says what is wrong, where, and what to do.
"""

from __future__ import annotations

from dataclasses import dataclass


class NestkitError(Exception):
    """The root: catches whatever nestkit raises on purpose."""


class UserError(NestkitError):
    """The job, a file or the command is wrong; nothing was written."""


class LengthError(UserError, ValueError):
    """A text or number that is no length: ``reason`` says why, ``remedy`` what to write."""

    def __init__(self, reason: str, remedy: str = 'write it as "18 3/4", "18.75 in" or "152.4 mm"') -> None:
        self.reason, self.remedy = reason, remedy
        super().__init__(f"{reason}; {remedy}")


class FolderError(UserError):
    """The output folder is in the way, in use, or cannot be written."""


class ToolFault(NestkitError):
    """nestkit's own check of its own result failed. The result is not handed out."""


@dataclass(frozen=True, slots=True)
class Mistake:
    """One thing in a job that is wrong.

    ``place`` is where, in the words of the job file (``panel "lid", holes "vent", pitch[0]``);
    ``line`` its line in the file where known; ``remedy`` what to write instead. ``path`` leads to it from the
    top of the job by keys and places in lists, as in ``("panel", 3, "holes", 0, "pitch", 1)``; empty where it
    is of no key.
    """

    place: str
    text: str
    remedy: str
    line: int | None = None
    path: tuple[str | int, ...] = ()

    def __str__(self) -> str:
        at = f"line {self.line}: " if self.line is not None else ""
        return f"{at}{self.place}: {self.text}. {self.remedy}"


class JobError(UserError):
    """A job with mistakes; all of them, in file order."""

    def __init__(self, mistakes: tuple[Mistake, ...]) -> None:
        self.mistakes = mistakes
        super().__init__("\n".join(str(m) for m in mistakes))
