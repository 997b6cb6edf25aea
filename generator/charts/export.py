"""Charts as files: SVG with styles for a browser, PNG and PDF with their colours spelled out."""

from generator.charts.draw import draw
from generator.charts.options import ChartOptions
from generator.charts.svg import to_svg
from generator.fabric.model import Part

FORMATS = ("svg", "png", "pdf")


class NoRasteriser(Exception):
    """The cairo library is not installed here; SVG still works. Says so in one plain sentence."""


def chart_file(part: Part, kind: str, options: ChartOptions, form: str, width: int = 1200) -> bytes:
    """A chart as the bytes of a file.

    Args:
        form: one of `FORMATS`.
        width: pixels of a PNG.

    Raises:
        NoRasteriser: PNG or PDF is asked for and cairo is missing.
    """
    drawing = draw(part, kind, options)
    if form == "svg":
        return to_svg(drawing, standalone=True).encode()
    return rasterised(to_svg(drawing, plain=True), form, width)


def rasterised(svg: str, form: str, width: int = 1200) -> bytes:
    """A plain SVG as PNG or PDF bytes."""
    try:
        import cairosvg  # type: ignore[import-untyped]
    except OSError as error:  # the Python package is there, the C library is not
        raise NoRasteriser("PNG and PDF need the cairo library (libcairo2), which is not installed") from error
    make = cairosvg.svg2png if form == "png" else cairosvg.svg2pdf
    size = {"output_width": width} if form == "png" else {}
    result: bytes = make(bytestring=svg.encode(), **size)
    return result
