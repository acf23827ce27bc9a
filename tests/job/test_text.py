"""A job file that cannot be read, or is no UTF-8, is told apart."""

from __future__ import annotations

import os

import pytest

from nestkit.errors import JobError, UserError
from nestkit.job.reader import read_job
from tests.job.texts import SOUND, only


def test_a_file_that_cannot_be_read_is_told_apart(tmp_path):
    """No file, a folder, a file without rights, one too large and an odd name: each says so."""
    for path, said in [
        (tmp_path / "none.toml", "there is no file"),
        (tmp_path, "is a folder"),
        (tmp_path / "a\0b", "cannot be read"),
    ]:
        with pytest.raises(UserError, match=said) as caught:
            read_job(path)
        assert not isinstance(caught.value, JobError)
    large = tmp_path / "large.toml"
    large.write_bytes(b"#" * 20_000_001)
    with pytest.raises(UserError, match="20 MB"):
        read_job(large)


@pytest.mark.skipif(os.name != "posix" or os.geteuid() == 0, reason="rights do not bind this user")
def test_a_file_without_the_right_to_read_it(tmp_path):
    """A file that may not be read is said to be so."""
    path = tmp_path / "job.toml"
    path.write_text(SOUND)
    path.chmod(0)
    with pytest.raises(UserError, match="may not be read"):
        read_job(path)


@pytest.mark.parametrize(
    ("data", "line"),
    [
        (SOUND.encode("utf-16"), 1),
        (SOUND.encode("utf-16-le"), 1),
        (SOUND.encode("utf-32"), 1),
        ((SOUND + "# Maß\n").encode("latin-1"), SOUND.count("\n") + 1),
    ],
)
def test_other_encodings_are_told(tmp_path, data, line):
    """A file in UTF-16, UTF-32 or Latin-1 is one mistake, with the remedy to save it as UTF-8."""
    found = only(data, tmp_path)
    assert "UTF-8" in found.text
    assert "UTF-8" in found.remedy
    assert found.line == line
