"""The wheel: built from the checkout, installed elsewhere, with its assets inside and found."""

from __future__ import annotations

import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]

ASK = """
from hearthload.resources import asset, assets_folder
import hearthload, pathlib
here = pathlib.Path(hearthload.__file__).parent
assert assets_folder() == here / "assets", assets_folder()
assert asset("fonts/Inter-Regular.otf").stat().st_size > 100_000
print(here)
"""


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "--target", "wheel", "--directory", folder],
        cwd=ROOT,
        check=True,
        capture_output=True,
    )
    (built,) = folder.glob("*.whl")
    return built


def test_wheel_holds_one_package_and_its_assets(wheel: Path) -> None:
    names = set(zipfile.ZipFile(wheel).namelist())
    tops = {name.split("/")[0] for name in names}
    assert tops == {"hearthload", next(top for top in tops if top.endswith(".dist-info"))}
    assets = {
        f"hearthload/{path.relative_to(ROOT)}" for path in (ROOT / "assets").rglob("*") if path.is_file()
    }
    assert assets <= names
    assert "hearthload/assets/fonts/LICENSE.txt" in names
    assert "hearthload/py.typed" in names


def test_wheel_holds_every_module_of_the_checkout(wheel: Path) -> None:
    names = set(zipfile.ZipFile(wheel).namelist())
    modules = {path.relative_to(ROOT / "app").as_posix() for path in (ROOT / "app").rglob("*.py")}
    assert modules == {name for name in names if name.endswith(".py")}


def test_installed_wheel_finds_its_assets(wheel: Path, tmp_path: Path) -> None:
    target = tmp_path / "target"
    subprocess.run(
        [
            sys.executable,
            "-m",
            "pip",
            "install",
            "--quiet",
            "--no-deps",
            "--no-index",
            "--target",
            target,
            wheel,
        ],
        check=True,
        capture_output=True,
    )
    # -S -I: neither site-packages nor the checkout, only what the wheel laid down.
    done = subprocess.run(
        [sys.executable, "-S", "-I", "-c", f"import sys; sys.path.insert(0, {str(target)!r})\n{ASK}"],
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=False,
    )
    assert (done.returncode, done.stdout.strip()) == (0, str(target / "hearthload")), done.stderr
