"""What messages repeat of the input."""

from __future__ import annotations

from nestkit.job.shown import shown
from tests.job.texts import SOUND, only


def test_shown_input_is_cut_and_escaped(tmp_path):
    """What a message repeats of the input is one line of at most 80 letters."""
    hostile = "x\u202e\x1b[31m" + "y" * 10_000
    assert len(shown(hostile)) <= 80
    assert shown("a\u202eb\n") == '"a\\u202eb\\n"'
    found = only(SOUND.replace('"lid"', '"x\\u202e\\u001b[31m' + "y" * 10_000 + '"'), tmp_path)
    assert len(str(found)) < 400
    assert found.place.isprintable()
    assert found.text.isprintable()
