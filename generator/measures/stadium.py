"""Ovals: two straight sides and two half circles, as a chain worked along both sides gives."""

from math import pi


def straight(length: float, width: float) -> float:
    """Straight middle of an oval; it is what the foundation chain measures."""
    return length - width


def area(length: float, width: float) -> float:
    """Area of an oval."""
    return straight(length, width) * width + pi * width**2 / 4
