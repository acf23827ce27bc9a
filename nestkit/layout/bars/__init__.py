"""Lengths cut from sticks: bars, tubes, and goods off a roll that are only cut across."""
