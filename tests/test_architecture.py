"""The rules of the house, read from the source itself: who imports whom, and how long things may be."""

from __future__ import annotations

import ast
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
PACKAGE = ROOT / "app" / "hearthload"

# Room of the house -> rooms it may use. A room is a package or module directly under hearthload.
LEAVES = {"errors", "resources"}
MAY_USE = {
    "errors": set[str](),
    "resources": set[str](),
    "domain": set[str](),
    "estimate": {"domain", "errors"},
    "outage": {"domain", "estimate", "errors", "resources"},
    "store": {"domain", "errors"},
    "service": {"domain", "estimate", "outage", "store", *LEAVES},
    "window": {"domain", "estimate", "outage", "service", *LEAVES},
    "commands": {"domain", "estimate", "outage", "service", "main", *LEAVES},
    "main": {"domain", "service", "window", "commands", *LEAVES},
    "cli": {"commands", "main", *LEAVES},
    "__main__": {"cli"},
    "__init__": set[str](),
}
# Of these rooms, those who may use them take only the values they pass about, not how they come about.
ONLY_THESE = {
    ("window", "estimate"): {"hearthload.estimate.answers", "hearthload.estimate.kinds"},
    ("commands", "estimate"): {"hearthload.estimate.answers"},
    ("window", "outage"): {"hearthload.outage.answers", "hearthload.outage.steps"},
    ("commands", "outage"): {"hearthload.outage.answers", "hearthload.outage.steps"},
}
# Package from outside -> rooms that may import it. What is not listed may not be imported at all.
OUTSIDE = {
    "PySide6": {"window", "main"},
    "shiboken6": {"window", "main"},
    "pyqtgraph": {"window"},
    "sqlalchemy": {"store"},
    "sqlite3": {"store"},
    "numpy": {"estimate", "outage", "window"},
    "scipy": {"estimate", "outage"},
    "pandas": {"estimate", "outage"},
    "pvlib": {"outage"},
    "platformdirs": {"service", "commands"},
}
# numpy enters the window at the charts alone, which hand arrays to pyqtgraph.
NUMPY_IN_WINDOW = "window/readings/"
TOP_LEVEL = {"README.md", "DEVELOPERS.md", "pyproject.toml", "app", "tests", "assets", "scripts"}
MOST_LINES = 400
LONGEST_BODY = 40
USUAL_BODY = 25
USUAL_SHARE = 0.90


def sources(*folders: str) -> list[Path]:
    return sorted(path for folder in folders for path in (ROOT / folder).rglob("*.py"))


def room_of(module: str) -> str:
    parts = module.split(".")
    return parts[1] if len(parts) > 1 else "__init__"


def imported(tree: ast.AST) -> Iterator[str]:
    """Give the full names of everything imported anywhere in a file, inside functions too."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, "relative import"
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def parsed(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"), filename=str(path))


def faults_of(path: Path, source: ast.Module) -> list[str]:
    where = path.relative_to(PACKAGE).as_posix()
    room = where.split("/")[0].removesuffix(".py")
    faults = []
    for name in imported(source):
        top = name.split(".")[0]
        if top == "hearthload":
            faults += inside_faults(room, name)
        elif top in OUTSIDE or top not in sys.stdlib_module_names:
            charts_only = top == "numpy" and room == "window" and not where.startswith(NUMPY_IN_WINDOW)
            if charts_only or room not in OUTSIDE.get(top, set()):
                faults.append(f"imports {name}")
    return [f"{where} {fault}" for fault in faults]


def inside_faults(room: str, name: str) -> list[str]:
    other = room_of(name)
    if other == room or name in {"hearthload", "hearthload.__version__"}:
        return []
    if other not in MAY_USE[room]:
        return [f"imports {name}"]
    allowed = ONLY_THESE.get((room, other))
    if allowed is not None and name.rsplit(".", 1)[0] not in allowed and name not in allowed:
        return [f"imports {name}"]
    return []


def test_every_import_follows_the_rule() -> None:
    faults = [fault for path in sources("app") for fault in faults_of(path, parsed(path))]
    assert faults == []


def test_every_room_has_a_rule() -> None:
    rooms = {path.name.removesuffix(".py") for path in PACKAGE.iterdir() if path.suffix in {"", ".py"}}
    assert rooms - {"__pycache__", "assets"} == set(MAY_USE)


@pytest.mark.parametrize(
    ("where", "line"),
    [
        ("window/page.py", "from hearthload.store.tables import readings"),
        ("window/page.py", "from hearthload.estimate.api import estimate"),
        ("window/page.py", "import numpy as np"),
        ("domain/reading.py", "import hearthload.errors"),
        ("domain/reading.py", "import numpy"),
        ("service/queries.py", "def ask():\n    from PySide6 import QtCore"),
        ("service/queries.py", "import sqlalchemy"),
        ("estimate/energy.py", "from hearthload.service import queries"),
        ("store/rows.py", "import requests"),
        ("errors.py", "import hearthload.domain.units"),
    ],
)
def test_the_rule_sees_a_breach(where: str, line: str) -> None:
    assert faults_of(PACKAGE / where, ast.parse(line)) != []


def test_top_level_holds_what_the_design_names() -> None:
    names = {path.name for path in ROOT.iterdir() if not path.name.startswith(".")}
    assert names - {"out", "dist"} <= TOP_LEVEL


def test_no_file_is_too_long() -> None:
    lengths = {
        path: len(path.read_text(encoding="utf-8").splitlines())
        for path in sources("app", "tests", "scripts")
    }
    assert {str(path): length for path, length in lengths.items() if length > MOST_LINES} == {}


def body_lines(node: ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    """Count the lines of a function's body, its docstring left out."""
    body = node.body[1:] if ast.get_docstring(node) is not None else node.body
    if not body:
        return 0
    return (body[-1].end_lineno or body[-1].lineno) - body[0].lineno + 1


def functions() -> Iterator[tuple[str, int]]:
    for path in sources("app", "scripts", "tests"):
        for node in ast.walk(parsed(path)):
            if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
                yield f"{path.relative_to(ROOT)}:{node.lineno} {node.name}", body_lines(node)


def test_functions_are_short() -> None:
    lengths = dict(functions())
    assert {name: length for name, length in lengths.items() if length > LONGEST_BODY} == {}
    short = sum(length < USUAL_BODY for length in lengths.values())
    assert short >= USUAL_SHARE * len(lengths)


def test_nothing_is_left_to_do() -> None:
    marks = ("TO" + "DO", "FIX" + "ME", "X" + "XX")
    left = [
        str(path)
        for path in sources("app", "tests", "scripts")
        for mark in marks
        if mark in path.read_text("utf-8")
    ]
    assert left == []
