"""Files that no part can be cut by: one mistake each, never a guess."""

from __future__ import annotations

import pytest

from nestkit.errors import JobError
from nestkit.job.reader import read_text
from tests.job.outlines.broken import DXF, SVG
from tests.job.outlines.drawings import job_text

CASES = {
    f"{name}.{kind}": (kind, *case)
    for kind, cases in (("dxf", DXF), ("svg", SVG))
    for name, case in cases.items()
}


def only(folder, file="part.dxf", more="", name="part"):
    """Return the one mistake of a job with this outline."""
    with pytest.raises(JobError) as raised:
        read_text(job_text(file, more, name=name), folder)
    (mistake,) = raised.value.mistakes
    return mistake


@pytest.mark.parametrize(("kind", "data", "said", "remedy"), CASES.values(), ids=CASES)
def test_a_broken_file_is_one_mistake_with_place_and_remedy(kind, data, said, remedy, tmp_path):
    """The mistake names the panel, the file, what is wrong, where in the drawing, and what to do."""
    (tmp_path / f"part.{kind}").write_bytes(data)
    mistake = only(tmp_path, f"part.{kind}")
    assert mistake.place == 'panel "part", outline'
    assert mistake.text.startswith(f'"part.{kind}": ')
    assert said in mistake.text
    assert remedy in mistake.remedy
    assert mistake.line == 16


def test_a_file_that_is_not_there_or_lies_elsewhere(tmp_path):
    """Missing files, folders, other endings, and ways out of the job's folder, also by links, are refused."""
    folder = tmp_path / "job"
    (folder / "sub.dxf").mkdir(parents=True)
    (tmp_path / "out.dxf").write_bytes(b"")
    (folder / "link.dxf").symlink_to(tmp_path / "out.dxf")
    (folder / "round.dxf").symlink_to(folder / "round.dxf")
    for file, said in (
        ("lid.dxf", "is not there"),
        ("sub.dxf", "is not a file"),
        ("../out.dxf", "outside the job's folder"),
        ("link.dxf", "outside the job's folder"),
        ("/etc/passwd.dxf", "outside the job's folder"),
        ("round.dxf", "leads nowhere"),
        ("lid.dwg", "neither DXF nor SVG"),
        ("lid", "neither DXF nor SVG"),
    ):
        mistake = only(folder, file)
        assert mistake.place == 'panel "part", outline'
        assert said in mistake.text, file


def test_a_file_over_20_mb_is_not_read(tmp_path):
    """Its size alone is the mistake."""
    (tmp_path / "part.dxf").write_bytes(b" " * 20_000_001)
    assert "larger than 20 MB" in only(tmp_path).text
