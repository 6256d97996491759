"""The window is there before anything slow is loaded."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from tests.whole.conftest import Child

# Packages that cost start-up time; the window is painted before any of them is loaded.
SLOW = {"pandas", "scipy", "pvlib", "openpyxl", "pyqtgraph", "sqlalchemy"}

PROGRAM = """
import sys
from hearthload.main import Start

start = Start(None, demo={demo})

def look():
    print("painted", sorted({{name.split(".")[0] for name in sys.modules}} & {slow!r}))

def leave():
    print("ready", start.session.is_open)
    start.window.close()

start.painted.connect(look)
start.ready.connect(leave)
sys.exit(start.run())
"""


@pytest.mark.parametrize("demo", [True, False])
def test_first_paint_loads_nothing_slow(child: Child, demo: bool) -> None:
    answer = child(PROGRAM.format(demo=demo, slow=SLOW))
    assert (answer.code, answer.out.splitlines()) == (0, ["painted []", "ready True"]), answer.err
    assert answer.err == ""
