"""Numbered steps that bring a logbook of any released version up to this one.

Each step is a file `step_<number>.py` in this folder with a function `step(connection)`; it may
count on the schema that the steps before it left and is never changed once released. Steps run with foreign
keys off, each in a transaction of its own, and foreign keys are checked before it is committed.
"""

from __future__ import annotations

import pkgutil
from collections.abc import Callable
from importlib import import_module
from typing import cast

from sqlalchemy import Connection

Step = Callable[[Connection], None]

_PREFIX = "step_"


def all_steps() -> tuple[Step, ...]:
    """Give the steps in order; the first makes the schema in an empty file."""
    numbers = sorted(
        int(module.name.removeprefix(_PREFIX))
        for module in pkgutil.iter_modules(__path__)
        if module.name.startswith(_PREFIX)
    )
    if numbers != list(range(1, len(numbers) + 1)):
        raise RuntimeError(f"the schema's steps are not numbered without a gap: {numbers}")
    return tuple(cast("Step", import_module(f"{__name__}.{_PREFIX}{number}").step) for number in numbers)
