"""The starter job: commented, without mistakes, to be changed into one's own."""

from __future__ import annotations

from importlib import resources


def starter_text() -> str:
    """Return the text of the starter job."""
    return resources.files("nestkit.job").joinpath("starter.toml").read_text(encoding="utf-8")
