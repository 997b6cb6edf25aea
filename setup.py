"""What goes into a wheel: the package, and the themes, which in a checkout stand beside it for designers to find."""

from pathlib import Path

from setuptools import find_packages, setup

THEMES = "generator.themes"

setup(
    packages=[*find_packages(include=["generator*"]), THEMES],
    package_dir={THEMES: "themes"},
    package_data={
        "generator": ["**/*.toml", "*.json", "starter/**/*", "preview/client/*"],
        THEMES: [
            place.relative_to("themes").as_posix()
            for place in sorted(Path("themes").rglob("*"))
            if place.is_file() and not place.name.startswith(".")
        ],
    },
)
