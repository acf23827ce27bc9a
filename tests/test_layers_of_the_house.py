"""The way of the data runs forward only: no module imports what stands on its right."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent / "nestkit"

ORDER = [
    "errors",
    "units",
    "text",
    "geometry",
    "trade",
    "parts",
    "stock",
    "job",
    "checks",
    "layout",
    "fit",
    "estimate",
    "drawing",
    "writers",
    "make",
    "page",
    "cli",
    "__main__",
]


def arrows(path: Path) -> set[str]:
    """Return the top rooms of nestkit that a module imports."""
    found = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        names = []
        if isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: relative import"
            names = [node.module or ""]
            if node.module == "nestkit":
                names = [f"nestkit.{alias.name}" for alias in node.names]
        elif isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        found |= {n.split(".")[1] for n in names if n.startswith("nestkit.") and n.count(".") >= 1}
    return found - {"__version__"}


def room(path: Path) -> str:
    """Return the top room that a module stands in."""
    return path.relative_to(ROOT).parts[0].removesuffix(".py")


@pytest.mark.parametrize("path", sorted(ROOT.rglob("*.py")), ids=lambda p: p.relative_to(ROOT).as_posix())
def test_no_arrow_points_back(path):
    """A module imports only from its own room and from rooms on its left."""
    here = room(path)
    if here == "__init__":
        return
    for target in arrows(path):
        assert target in ORDER, f"{path.name} imports {target}, which has no place in the house"
        assert ORDER.index(target) <= ORDER.index(here), f"{here} imports {target}, which stands on its right"


def test_a_planted_arrow_is_caught(tmp_path):
    """The reader of imports sees an import however it is written."""
    for text in ("from nestkit.cli import app", "import nestkit.cli.app", "from nestkit import cli"):
        planted = tmp_path / "planted.py"
        planted.write_text(text, encoding="utf-8")
        assert arrows(planted) == {"cli"}
