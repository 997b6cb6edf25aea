"""The editions of a pattern that lie beside its page: booklets, large print, spelled-out text, charts, data."""

from collections.abc import Mapping, Sequence

from generator.diagnostics.record import Finding
from generator.pages.editions import bind_all
from generator.pages.editions import editions as all_editions
from generator.pages.figures import Kept
from generator.pages.photos import Ready
from generator.pages.plates import photograph
from generator.pages.studio import Studio
from generator.pipeline import Compiled


def editions(
    compiled: Compiled,
    studio: Studio,
    templates: Mapping[str, str],
    sheets: Sequence[tuple[str, bytes]] = (),
    photo: Ready | None = None,
    kept: Kept | None = None,
) -> tuple[dict[str, bytes], tuple[Finding, ...]]:
    """All public editions by file name, and what there is to say of them. `sheets` are filled test sheets."""
    bound = bind_all(compiled, studio, sheets, photograph(photo) if photo else None, kept)
    checked = all_editions(bound, templates)
    return dict(checked.value), checked.findings
