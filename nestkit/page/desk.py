"""The job file that the page is open on: read as it lies on the disk now, and named once it is saved."""

from __future__ import annotations

import hashlib
import threading
from dataclasses import dataclass, field
from pathlib import Path

from nestkit.errors import UserError
from nestkit.job.text import file_bytes


@dataclass
class Desk:
    """The folder of the job, and its file; ``name`` is None for a starter job that was not saved yet.

    ``saving`` is held by whoever writes the file: two tabs must not do so at once. ``last`` is what the file
    held when it was last read or written: one that is gone since is written anew from it.
    """

    folder: Path
    name: str | None
    saving: threading.Lock = field(default_factory=threading.Lock)
    last: bytes = b""

    @property
    def path(self) -> Path | None:
        """The job file."""
        return None if self.name is None else self.folder / self.name

    def content(self) -> bytes | None:
        """Return the bytes of the job file as it is now; None where there is none.

        Raises :class:`~nestkit.errors.UserError` where it cannot be read.
        """
        path = self.path
        if path is None or not path.exists():
            return None
        self.last = file_bytes(path, path.name)
        return self.last

    def version(self) -> str:
        """Return the version of the file on the disk, empty where there is none."""
        content = self.content()
        return "" if content is None else version_of(content)


def version_of(content: bytes) -> str:
    """Return what tells one content of a file from another."""
    return hashlib.sha256(content).hexdigest()


def desk_for(job: Path | None) -> Desk:
    """Return the desk of a job file; None: a starter job, to be saved in the current folder.

    Raises :class:`~nestkit.errors.UserError` for a file that is not there or cannot be read.
    """
    if job is None:
        return Desk(Path.cwd(), None)
    content = file_bytes(job)
    path = job.resolve()
    if not path.is_file():
        raise UserError(f"{job} is not a file; name the job file")
    return Desk(path.parent, path.name, last=content)
