"""Whatever a job file holds, reading it ends in a job or in mistakes, never in a fault."""

from __future__ import annotations

import tempfile
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from nestkit.errors import JobError, Mistake, UserError
from nestkit.job.reader import read_job, read_text
from nestkit.job.schema import LEVELS
from tests.job.joint_texts import SOUND_JOINT
from tests.job.texts import SIDE, SOUND, SOUND_TUBE, TOP

KEYS = sorted({key for level in LEVELS.values() for key in level.keys} | {"x", '"a b"', "'ü'"})
ODD_VALUES = """\
1
-1
0
1.5
nan
inf
-inf
1e400
0x10
1_000
99999999999999999999
true
false
""
"in"
"1/8"
".118"
"saw"
"router"
"polycarbonate"
"letter"
"10-32"
"#7"
"A"
"end 1"
"a / b"
"wrap"
"1 x 1 x 1/16"
"round 25 x 1.5 mm"
"angle 1 x 1 x 1/8"
"roll 1"
"top"
"top left"
"centre"
"=cmd"
"../x.csv"
"\\u202e"
"0123456789012345678901234567890123456789012345678901234567890123456789"
[]
{}
[1, 2]
[[0, 0], [4, 0], [4, 4]]
[[0, 0], [4, 4], [4, 0], [0, 4]]
[1e999999999, '9 m']
2026-03-01
07:30:00
2026-03-01T00:00:00Z
{ start = [1, 1], end = [2, 2], count = 2 }
{ side = 'top', inset = 1, count = 2, ends = 1 }
{ start = 1, pitch = 2, count = 3 }
{ angle_deg = 45, long = 'A' }
{ part = 'hinge', at = [1, 2] }
[{ part = 'spacer', at = [1, 2], turn_deg = 90 }]
{ template = '0.1 mm' }
["console lid / hinge : 2,3", "hinge / leaf"]
["console lid / hinge : 3", "hinge / : 1", "spacer", "deck frame"]
["hinge", "x", 3]
["#7", "1/4", 3]
[0, 45]
"template"
"tapped hole"
"hinge"
"3/16"
0.9
{ angle_deg = 89.9999, long_deg = -90 }
{ a.b.c = 1 }
[{ name = 'a' }]
"""
HEADERS = """\
[cutting]
[cutting.sponsor]
[cutting.margin]
[printing]
[marking]
[dxf]
[[sheet]]
[[panel]]
[[panel.holes]]
[[panel.slots]]
[[panel.cutouts]]
[[panel.notches]]
[[panel.marks]]
[[import]]
[[bar]]
[[tube]]
[[tube.holes]]
[tube.mitre_0]
[[bought]]
[[bought.holes]]
[[joint]]
[joint.position]
[[practice]]
[fit]
[fit.accuracy]
[shop]
[joint]
[panel]
[[cutting]]
[holes]
"""
VALUES = st.one_of(
    st.sampled_from(ODD_VALUES.splitlines()),
    st.text(max_size=8).map(lambda t: '"' + t.encode("unicode_escape").decode().replace('"', "'") + '"'),
)
LINE = st.one_of(
    st.tuples(st.sampled_from(KEYS), VALUES).map(" = ".join),
    st.sampled_from(HEADERS.splitlines()),
)


def mistakes_of(text: str, folder: Path) -> tuple[Mistake, ...]:
    """Return the mistakes of a text, none where it is a job."""
    try:
        read_text(text, folder)
    except JobError as wrong:
        return wrong.mistakes
    return ()


def read_or_mistakes(text: str) -> None:
    """Read a text; what is raised must be mistakes that are printable, short, and say what to do."""
    for mistake in mistakes_of(text, Path("nowhere")):
        assert mistake.place
        assert mistake.text
        assert mistake.remedy
        assert len(str(mistake)) < 1500
        assert mistake.line is None or 1 <= mistake.line <= text.count("\n") + 1


@given(st.lists(LINE, max_size=12))
@settings(max_examples=300)
def test_any_keys_with_any_values_give_a_job_or_mistakes(lines):
    """Lines made of known keys, odd values and table headers never raise anything else."""
    read_or_mistakes("\n".join(lines))


@given(st.lists(LINE, max_size=6), st.integers(0, 12))
@settings(max_examples=300)
def test_a_sound_job_with_odd_lines_gives_a_job_or_mistakes(lines, place):
    """Odd lines put into a sound job never raise anything else."""
    sound = SOUND.split("\n")
    read_or_mistakes("\n".join(sound[:place] + lines + sound[place:]))


@given(st.lists(LINE, max_size=6), st.integers(0, 22))
@settings(max_examples=300)
def test_a_sound_job_of_tubes_with_odd_lines_gives_a_job_or_mistakes(lines, place):
    """Odd lines put into a sound job of bar and tube never raise anything else."""
    sound = (SOUND_TUBE + SIDE).split("\n")
    read_or_mistakes("\n".join(sound[:place] + lines + sound[place:]))


@given(st.lists(LINE, max_size=5), st.integers(30, 72))
@settings(max_examples=200)
def test_a_sound_job_of_joints_with_odd_lines_gives_a_job_or_mistakes(lines, place):
    """Odd lines put into a sound job with a joint never raise anything else."""
    sound = SOUND_JOINT.split("\n")
    read_or_mistakes("\n".join(sound[:place] + lines + sound[place:]))


@given(st.text(max_size=80))
def test_any_text_gives_a_job_or_mistakes(text):
    """Random text never raises anything but a JobError."""
    read_or_mistakes(text)


@given(st.binary(max_size=200))
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
def test_any_bytes_give_a_job_or_a_user_error(data):
    """Random bytes in a file never raise anything but a UserError."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "job.toml"
        path.write_bytes(data)
        with pytest.raises(UserError):
            read_job(path)


@given(st.binary(max_size=300), st.sampled_from(["csv", "xlsx"]))
@settings(deadline=None)
def test_any_bytes_for_a_spreadsheet_give_mistakes(data, kind):
    """Random bytes for a spreadsheet are a mistake, whatever its kind."""
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / f"p.{kind}").write_bytes(data)
        text = TOP + f"[cutting]\nhow = 'saw'\nkerf = 0\n[[import]]\nfile = 'p.{kind}'\n"
        with pytest.raises(JobError) as caught:
            read_text(text, Path(folder))
        assert caught.value.mistakes


@given(st.text(alphabet="name,material;thickness\t\"'\n=1/8#REF!\0\r", max_size=120))
@settings(deadline=None)
def test_any_csv_gives_mistakes_or_parts(text):
    """A CSV of any make gives parts or mistakes."""
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "p.csv").write_text(
            "name,material,thickness,width,height\n" + text, encoding="utf-8", newline=""
        )
        job = TOP + "[cutting]\nhow = 'saw'\nkerf = 0\n[[import]]\nfile = 'p.csv'\n"
        mistakes = mistakes_of(job, Path(folder))
    assert all(m.place and m.text and m.remedy for m in mistakes)
