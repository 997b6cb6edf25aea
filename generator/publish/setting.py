"""What every pattern of a build shares."""

from dataclasses import dataclass
from datetime import date
from pathlib import Path

from generator.pages.studio import Studio
from generator.publish.shelf import Shelved
from generator.publish.steps import EDITIONS, PAGE, SHARING, WORK


@dataclass(frozen=True, slots=True)
class Setting:
    """What every pattern of a build shares."""

    content: Path
    studio: Studio
    shelved: Shelved
    menu: tuple[tuple[str, str, str], ...]
    today: date
    editions: bool = True
    """Whether booklets and the other editions are made too."""
    pictures: bool = True
    """Whether pictures for sharing are made."""
    site: Path = Path()
    """The last site, from which steps are taken over."""

    def steps(self) -> tuple[str, ...]:
        """The steps of every pattern's folder, in the order they are made."""
        return (WORK, *((SHARING,) * self.pictures), *((EDITIONS,) * self.editions), PAGE)
