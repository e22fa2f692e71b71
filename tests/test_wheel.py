"""The wheel that is tested is the wheel that ships: built, installed apart from the checkout, and played from there."""

import json
import os
import subprocess
import sys
import sysconfig
import venv
import zipfile
from pathlib import Path

import pytest

from findsdesk import __version__

TOP = Path(__file__).resolve().parent.parent


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Build the wheel from the checkout with the hatchling at hand."""
    folder = tmp_path_factory.mktemp("wheel")
    command = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(folder)]
    subprocess.run(command, cwd=TOP, check=True, capture_output=True)
    (built,) = folder.glob("*.whl")
    return built


@pytest.fixture(scope="module")
def machine(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the scripts folder of an environment with the wheel and the libraries in it, and no way to the checkout.

    The libraries are reached by path, the project by unpacking its wheel: no index is asked, and an editable install
    of the checkout beside the libraries is not followed (its .pth file counts in its own site-packages only).
    """
    home = tmp_path_factory.mktemp("machine") / "venv"
    venv.EnvBuilder(with_pip=True, symlinks=os.name != "nt").create(home)
    scripts = home / ("Scripts" if os.name == "nt" else "bin")
    python = scripts / ("python.exe" if os.name == "nt" else "python")
    asked = "import sysconfig; print(sysconfig.get_path('purelib'))"
    packages = Path(subprocess.check_output([python, "-c", asked], text=True).strip())
    (packages / "libraries.pth").write_text(sysconfig.get_path("purelib") + "\n")
    command = [str(python), "-m", "pip", "install", "--no-deps", "--no-index", str(wheel)]
    subprocess.run(command, check=True, capture_output=True)
    return scripts


def outside(machine: Path, folder: Path, *command: str) -> subprocess.CompletedProcess[str]:
    """Run a command of the installed wheel in another folder, with nothing that leads back to the checkout."""
    environment = {name: value for name, value in os.environ.items() if not name.startswith(("PYTHON", "COV_"))}
    environment |= {"QT_QPA_PLATFORM": "offscreen", "PYTHONSAFEPATH": "1"}
    return subprocess.run(
        [str(machine / command[0]), *command[1:]], cwd=folder, env=environment, capture_output=True, text=True
    )


def test_the_wheel_carries_program_and_data(wheel: Path) -> None:
    names = set(zipfile.ZipFile(wheel).namelist())
    data = [file for folder in ("resources", "demo_db") for file in (TOP / folder).rglob("*") if file.is_file()]
    assert len(data) > 10
    assert {f"findsdesk/{file.relative_to(TOP).as_posix()}" for file in data} <= names
    assert {"findsdesk/__main__.py", "findsdesk/py.typed", f"findsdesk-{__version__}.dist-info/METADATA"} <= names
    assert not [name for name in names if name.startswith(("tests/", "docs/")) or name.endswith(".pyc")]


def test_the_installed_program_is_not_the_checkout(machine: Path, tmp_path: Path) -> None:
    said = outside(machine, tmp_path, "python", "-c", "import findsdesk; print(findsdesk.__file__)")
    assert said.returncode == 0, said.stderr
    assert Path(said.stdout.strip()).is_relative_to(machine.parent)


def test_the_demo_plays_from_the_wheel(machine: Path, tmp_path: Path) -> None:
    season = tmp_path / "season"
    said = outside(machine, tmp_path, "findsdesk", "demo", "--no-window", "--into", str(season))
    assert said.returncode == 0, said.stdout + said.stderr
    (store,) = season.glob("*.findsdesk")
    assert list(season.rglob("*.pdf")), said.stdout
    proved = outside(machine, tmp_path, "findsdesk", "prove", str(store), "--json")
    assert proved.returncode == 0, proved.stdout + proved.stderr
    assert json.loads(proved.stdout) is not None
