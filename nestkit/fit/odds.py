"""Chances in plain words, never said better than they are; turns in words."""

from __future__ import annotations

import math

from nestkit.units import decimal_text


def odds(chance: float) -> str:
    """Return a chance as a count that can be pictured, rounded down.

    >>> [odds(p) for p in (0.9996, 0.997, 0.978, 0.949)]
    ['practically all', 'more than 99 in 100', '97 in 100', '9 in 10']
    >>> [odds(p) for p in (0.3, 0.099, 0.004)]
    ['3 in 10', '9 in 100', 'hardly any']
    """
    if chance >= 0.9995:
        return "practically all"
    if chance >= 0.995:
        return "more than 99 in 100"
    if chance >= 0.95 or 0.01 <= chance < 0.1:
        return f"{math.floor(chance * 100 + 1e-9)} in 100"
    return f"{math.floor(chance * 10 + 1e-9)} in 10" if chance >= 0.1 else "hardly any"


def in_100(chance: float) -> str:
    """Return a chance as a count in a hundred, rounded down.

    >>> [in_100(p) for p in (0.9996, 0.997, 0.158, 0.004)]
    ['practically always', 'more than 99 in 100', '15 in 100', 'hardly ever']
    """
    if chance >= 0.9995:
        return "practically always"
    if chance >= 0.995:
        return "more than 99 in 100"
    return f"{math.floor(chance * 100 + 1e-9)} in 100" if chance >= 0.01 else "hardly ever"


def figure(chance: float, error: float = 0.0) -> str:
    """Return a chance as a figure: three places, rounded down, with its standard error where that shows.

    >>> figure(0.30649, 0.0032), figure(1.0), figure(0.99999, 0.00002)
    ('.306 +- .003', '1.000', '.999')
    """
    said = f"{math.floor(chance * 1000 + 1e-6) / 1000:.3f}".lstrip("0")
    return said if error < 0.0005 else f"{said} +- {error:.3f}".replace(" 0.", " .")


def turn_said(turn_deg: float) -> str:
    """Return a turn in words, empty for none.

    >>> turn_said(90.0), turn_said(270.0), turn_said(-180.0), turn_said(0.02)
    ('turned 90 degrees to the left', 'turned 90 degrees to the right', 'turned 180 degrees', '')
    """
    turn = round((turn_deg + 180.0) % 360.0 - 180.0, 1)
    if turn == 0:
        return ""
    if abs(turn) == 180:
        return "turned 180 degrees"
    return f"turned {decimal_text(abs(turn), 1)} degrees to the {'left' if turn > 0 else 'right'}"
