"""One bench of a job: ``--for`` writes what it needs, all of it and nothing else."""

from __future__ import annotations

import json
from pathlib import Path

import pypdfium2
import pytest
from typer.testing import CliRunner

from nestkit.cli.app import app
from nestkit.job.reader import read_job
from nestkit.writers.plan import part_files

BOAT = Path(__file__).resolve().parent.parent.parent / "sample_parts" / "solar_boat.toml"

JOB = """
job = "two benches"
unit = "mm"
[cutting]
how = "saw"
kerf = 3
[[sheet]]
name = "PC"
material = "polycarbonate"
thickness = 3
size = [600, 400]
[[panel]]
name = "lid"
for = "Bow"
material = "polycarbonate"
thickness = 3
size = [200, 100]
opposite_hand = 1
[[panel.holes]]
name = "a"
drill = "5"
at = [[20, 20], [180, 20]]
[[panel]]
name = "spare lid"
material = "polycarbonate"
thickness = 3
size = [200, 100]
[[panel]]
name = "tray"
for = "bow!"
material = "polycarbonate"
thickness = 3
size = [100, 100]
"""


def cli(*arguments: str | Path) -> tuple[int, str, str]:
    """Run a command in this process; return its exit code, standard output and standard error."""
    result = CliRunner().invoke(app, [str(a) for a in arguments])
    return result.exit_code, result.stdout, result.stderr


def files(folder: Path) -> list[str]:
    """Return the relative paths of all files below a folder, sorted."""
    return sorted(p.relative_to(folder).as_posix() for p in folder.rglob("*") if p.is_file())


def words(pdf: Path) -> list[str]:
    """The words of each page as pdfium reads them."""
    document = pypdfium2.PdfDocument(pdf)
    pages = [" ".join(page.get_textpage().get_text_range().split()) for page in document]
    document.close()
    return pages


@pytest.fixture
def job(tmp_path, monkeypatch) -> Path:
    """A job of two benches with like names and a part for none, in a folder of its own."""
    monkeypatch.chdir(tmp_path)
    path = tmp_path / "boat.toml"
    path.write_text(JOB, encoding="utf-8")
    return path


def test_the_pack_of_a_bench_is_all_that_it_needs(tmp_path, monkeypatch):
    """Cards, tables, labels and templates of both hands of the console's parts; no other part in any."""
    monkeypatch.chdir(tmp_path)
    code, out, err = cli("nest", BOAT, "--for", "console", "--effort", "quick", "--quiet")
    assert code == 0, err
    folder = tmp_path / "output" / "solar_boat-for-console"
    read = read_job(BOAT)
    own = {p.name for p in read.panels if p.used_for == "console"}
    stems = [stem for (name, _), stem in part_files(read).items() if name in own]
    prints = ["bench_cards.pdf", "files.txt", "labels.pdf", "marking_out.pdf"]
    assert files(folder) == sorted(
        [*prints, *(f"templates/{stem}.{end}" for stem in stems for end in ("pdf", "svg"))]
    )
    assert (folder / "files.txt").read_text().splitlines() == files(folder)
    cards = words(folder / "bench_cards.pdf")
    assert len(cards) == len(stems)
    assert all("For console" in page for page in cards)
    for name in ("marking_out.pdf", "labels.pdf"):
        said = " ".join(words(folder / name))
        assert "console lid" in said
        assert "OFFCUT" not in said
        assert not any(p.name in said for p in read.panels if p.used_for != "console")
    last = out.strip().splitlines()[-1]
    assert last.startswith(f"Written: {len(files(folder))} files in output/solar_boat-for-console")
    assert f"{len(stems)} templates" in last
    assert "bench_cards.pdf" in last


def test_the_whole_job_is_laid_out_as_ever(job):
    """The result of --json is that of the whole job, whatever bench the pack is for."""
    code, all_of_it, _ = cli("nest", job, "--json", "--quiet")
    assert code == 0
    assert cli("nest", job, "--json", "--quiet", "--for", "Bow") == (0, all_of_it, "")


def test_a_pack_is_as_in_the_whole_folder(job, tmp_path):
    """Templates of a pack are the same bytes under the same names as in the whole job folder."""
    assert cli("nest", job, "--out", tmp_path / "all")[0] == 0
    assert cli("nest", job, "--for", "Bow", "--out", tmp_path / "bow")[0] == 0
    templates = [name for name in files(tmp_path / "bow") if name.startswith("templates/")]
    assert len(templates) == 4
    for name in templates:
        assert (tmp_path / "bow" / name).read_bytes() == (tmp_path / "all" / name).read_bytes()
    assert "bench_cards.pdf" in files(tmp_path / "all")


def test_parts_left_over_end_with_1_and_the_pack_is_written(job, tmp_path):
    """The exit code is that of the whole job: 1 where any part found no place, also one of another bench."""
    job.write_text(JOB.replace("size = [100, 100]", "size = [900, 100]"), encoding="utf-8")
    code, out, _ = cli("nest", job, "--for", "Bow", "--out", tmp_path / "bow")
    assert code == 1
    assert "ERROR" in out
    assert "bench_cards.pdf" in files(tmp_path / "bow")


@pytest.mark.parametrize("command", ["nest", "template"])
@pytest.mark.parametrize(
    ("name", "hint"),
    [
        ("Boww", 'did you mean "Bow"?'),
        ("stern", "the job has Bow, bow!"),
        ("W" * 200, "the job has Bow, bow!"),
    ],
)
def test_an_unknown_bench_ends_with_2_and_names_those_there_are(command, name, hint, job, tmp_path):
    """The nearest bench is offered, else all are listed; nothing is written."""
    code, out, err = cli(command, job, "--for", name)
    assert (code, out) == (2, "")
    assert hint in err
    assert len(err) < 200
    assert files(tmp_path) == ["boat.toml"]


def test_json_gives_the_mistake_as_an_object(job):
    """With --json an unknown bench is a mistake in the check object."""
    code, out, _ = cli("nest", job, "--for", "stern", "--json")
    assert code == 2
    assert "the job has Bow" in json.loads(out)["mistakes"][0]["text"]


def test_case_does_not_count_and_like_names_have_folders_of_their_own(job, tmp_path):
    """``bow`` is ``Bow``; ``bow!`` is another bench, and its folder never replaces the first one's."""
    assert cli("nest", job, "--for", "bow", "--quiet")[0] == 0
    assert cli("nest", job, "--for", "bow!", "--quiet")[0] == 0
    folders = {p.name: words(p / "bench_cards.pdf") for p in (tmp_path / "output").iterdir()}
    assert set(folders) == {"boat-for-bow", "boat-for-bow-2"}
    assert [page.split()[0] for page in folders["boat-for-bow"]] == ["lid", "lid"]
    assert [page.split()[0] for page in folders["boat-for-bow-2"]] == ["tray"]


def test_an_empty_name_stands_for_the_parts_of_no_bench(job, tmp_path):
    """--for "" writes the parts that name no bench; where all do it is a mistake."""
    code, _, err = cli("nest", job, "--for", "", "--quiet")
    assert code == 0, err
    folder = tmp_path / "output" / "boat-for-no-bench"
    assert [page.split(" AS DRAWN")[0] for page in words(folder / "bench_cards.pdf")] == ["spare lid"]
    assert "marking_out.pdf" not in files(folder)
    job.write_text(JOB.replace('name = "spare lid"', 'name = "spare lid"\nfor = "Bow"'), encoding="utf-8")
    code, _, err = cli("nest", job, "--for", "")
    assert code == 2
    assert "every part of the job is for a bench" in err


def test_template_writes_the_templates_of_the_bench_alone(job, tmp_path):
    """Both hands, flat, in a folder that is not the pack's; a part of another bench is a mistake."""
    code, out, err = cli("template", job, "--for", "Bow")
    assert code == 0, err
    folder = tmp_path / "output" / "boat-for-bow-templates"
    stems = ("lid", "lid-opposite-hand")
    assert files(folder) == sorted(["files.txt", *(f"{s}.{e}" for s in stems for e in ("pdf", "svg"))])
    assert "boat-for-bow-templates" in out
    assert cli("template", job, "lid", "--for", "Bow", "--out", tmp_path / "one")[0] == 0
    assert files(tmp_path / "one") == files(folder)
    code, _, err = cli("template", job, "lid", "tray", "--for", "Bow")
    assert code == 2
    assert '"tray" is for "bow!", not "Bow"' in err
    code, _, err = cli("template", job, "spare lid", "--for", "Bow")
    assert code == 2
    assert '"spare lid" is for no bench' in err


def test_a_job_without_benches_says_so(job):
    """Where no part has a bench, any name is a mistake that says why."""
    job.write_text(JOB.replace('for = "Bow"\n', "").replace('for = "bow!"\n', ""), encoding="utf-8")
    code, _, err = cli("nest", job, "--for", "Bow")
    assert code == 2
    assert 'no part of the job has a "for"' in err
