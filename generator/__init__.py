"""Spiralbound: a pattern is a program, its fabric a graph of stitches, and all that is published follows from it."""

__version__ = "0.1.0"
