"""The public names are those that nestkit lists, and importing it has no effects."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

import nestkit


@pytest.mark.parametrize("name", nestkit.__all__)
def test_every_public_name_is_there_and_told(name):
    """Each listed name can be had and is documented."""
    value = getattr(nestkit, name)
    assert name == "__version__" or value.__doc__


def test_an_unknown_name_is_an_error():
    """A name that nestkit does not list is refused like any other attribute."""
    with pytest.raises(AttributeError, match="no attribute 'nest'"):
        _ = nestkit.nest


def test_a_job_goes_the_whole_way_by_public_names(tmp_path):
    """What the package's first lines show works as shown."""
    sample = Path(__file__).resolve().parent.parent / "sample_parts" / "rescue_float.toml"
    made = nestkit.work_out(nestkit.read_job(sample))
    files = nestkit.job_files(made.job, made.findings, made.fit, made.layout, made.estimate)
    count = nestkit.write_folder(tmp_path / "float", files)
    assert count == len([p for p in (tmp_path / "float").rglob("*") if p.is_file()])
    assert made.complete


def test_importing_loads_nothing_heavy():
    """The name alone brings in no writer, no geometry library, no spreadsheet reader."""
    heavy = "ezdxf shapely reportlab openpyxl svgwrite numpy typer rectpack"
    code = f"import sys, nestkit; print([m for m in '{heavy}'.split() if m in sys.modules])"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
