"""The one door to the files in assets/, found alike in a wheel and in a checkout."""

from __future__ import annotations

from functools import cache
from pathlib import Path


@cache
def assets_folder() -> Path:
    """Give the folder that holds icons, fonts, help pages and the demo scenario.

    The packaged folder wins; a checkout (or an editable install) keeps it beside `app/`.
    """
    here = Path(__file__).resolve().parent
    for folder in (here / "assets", here.parents[1] / "assets"):
        if folder.is_dir():
            return folder
    raise FileNotFoundError("the assets folder is missing from this installation")


def asset(name: str) -> Path:
    """Give the path of one asset, such as "help/first-steps.md"."""
    return assets_folder() / name
