"""A job file on the disk is written whole or not at all."""

from __future__ import annotations

import errno
import os
import stat

import pytest

from nestkit.errors import UserError
from nestkit.job.saving.disk import write_new, write_over


def test_the_former_version_is_kept(tmp_path):
    """What was there is kept beside it under one name, and nothing else is left in the folder."""
    job = tmp_path / "job.toml"
    job.write_bytes(b"one")
    for content, former in ((b"two", b"one"), (b"three", b"two")):
        write_over(job, content)
        assert job.read_bytes() == content
        assert (tmp_path / "job.toml.before").read_bytes() == former
    assert {path.name for path in tmp_path.iterdir()} == {"job.toml", "job.toml.before"}


def test_rights_and_links_stay(tmp_path):
    """Who may read the file stays, and a link to it goes on leading to it."""
    (tmp_path / "real").mkdir()
    job = tmp_path / "real" / "job.toml"
    job.write_bytes(b"one")
    job.chmod(0o640)
    link = tmp_path / "link.toml"
    link.symlink_to(job)
    write_over(link, b"two")
    assert link.is_symlink()
    assert job.read_bytes() == b"two"
    assert stat.S_IMODE(job.stat().st_mode) == 0o640


def test_nothing_is_written_over(tmp_path):
    """A new file never takes the name of one that is there, nor of a link that leads nowhere."""
    job = tmp_path / "job.toml"
    job.write_bytes(b"mine")
    (tmp_path / "link.toml").symlink_to(tmp_path / "nowhere")
    for path in (job, tmp_path / "link.toml"):
        with pytest.raises(UserError, match="is there already"):
            write_new(path, b"other")
    assert job.read_bytes() == b"mine"
    write_new(tmp_path / "new.toml", b"new")
    assert (tmp_path / "new.toml").read_bytes() == b"new"
    assert {path.name for path in tmp_path.iterdir()} == {"job.toml", "link.toml", "new.toml"}


@pytest.mark.parametrize("write", [write_over, write_new])
def test_a_folder_that_is_gone(tmp_path, write):
    """Where nothing can be written it is said in a sentence."""
    with pytest.raises(UserError, match="cannot be written"):
        write(tmp_path / "gone" / "job.toml", b"x")


def test_a_write_that_fails_leaves_the_file(tmp_path, monkeypatch):
    """When the disk fails in the middle the file is as it was, and nothing lies about."""
    job = tmp_path / "job.toml"
    job.write_bytes(b"one")

    def full(handle):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(UserError, match="No space left"):
        write_over(job, b"two")
    assert job.read_bytes() == b"one"
    assert [path.name for path in tmp_path.iterdir()] == ["job.toml"]


def test_a_file_that_is_marked_read_only_is_left(tmp_path, monkeypatch):
    """Who marks a file read-only wants it left as it is: it is refused, and nothing is written."""
    job = tmp_path / "job.toml"
    job.write_bytes(b"one")
    # Who runs the tests as administrator may write all files, so the answer is put in the system's mouth.
    monkeypatch.setattr(os, "access", lambda path, mode: not (mode & os.W_OK and job.samefile(path)))
    with pytest.raises(UserError, match="read-only"):
        write_over(job, b"two")
    assert job.read_bytes() == b"one"
    assert [path.name for path in tmp_path.iterdir()] == ["job.toml"]


def test_a_first_save_where_there_are_no_links(tmp_path, monkeypatch):
    """A disk that knows no links takes a new file all the same, and still none is written over."""

    def none(source, target):
        raise OSError(errno.EPERM, "Operation not permitted")

    monkeypatch.setattr(os, "link", none)
    job = tmp_path / "job.toml"
    write_new(job, b"one")
    with pytest.raises(UserError, match="is there already"):
        write_new(job, b"two")
    assert job.read_bytes() == b"one"
    assert [path.name for path in tmp_path.iterdir()] == ["job.toml"]


@pytest.mark.parametrize("linked", [True, False])
def test_a_new_file_has_the_rights_of_any_new_file(tmp_path, monkeypatch, linked):
    """What the user's own mask leaves is what a new job file may be; the mask is never touched."""
    if not linked:
        monkeypatch.setattr(os, "link", _no_link)
    before = os.umask(0o027)
    monkeypatch.setattr(os, "umask", _no_mask)
    try:
        write_new(tmp_path / "job.toml", b"one")
    finally:
        monkeypatch.undo()
        mask = os.umask(before)
    assert mask == 0o027
    assert stat.S_IMODE((tmp_path / "job.toml").stat().st_mode) == 0o640


def _no_link(source, target):
    raise OSError(errno.EOPNOTSUPP, "Operation not supported")


def _no_mask(mask):
    raise AssertionError("the mask is the whole process's")
