import json
import os
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from findsdesk.cli.main import main
from tests.yard import new_yard, put_containers

TOP = Path(__file__).resolve().parents[2]


@dataclass(frozen=True)
class Said:
    """What a call said: its exit code and what it printed."""

    code: int
    out: str
    err: str

    def json(self) -> Any:
        return json.loads(self.out)


Terminal = Callable[..., Said]


@pytest.fixture
def terminal(capsys: pytest.CaptureFixture[str]) -> Terminal:
    """Return a way to call the terminal, in this very process."""

    def call(*words: object) -> Said:
        capsys.readouterr()
        code = main([str(word) for word in words])
        printed = capsys.readouterr()
        return Said(code, printed.out, printed.err)

    return call


@pytest.fixture
def store(tmp_path: Path) -> str:
    """Return a store of the invented excavation with buckets 1 to 3 checked in, closed again."""
    desk = new_yard(tmp_path)
    put_containers(desk, (1, 2, 3))
    put_containers(desk, (4,), material="bone")
    desk.close()
    return str(tmp_path / "tannery")


@pytest.fixture(scope="session")
def demo(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, subprocess.CompletedProcess[str]]:
    """Make the example once, from another folder, in a process of its own that has no screen."""
    elsewhere = tmp_path_factory.mktemp("elsewhere")
    environment = {name: value for name, value in os.environ.items() if name not in ("DISPLAY", "WAYLAND_DISPLAY")}
    environment |= {"PYTHONPATH": str(TOP), "QT_QPA_PLATFORM": "offscreen"}
    said = subprocess.run(
        [sys.executable, "-m", "findsdesk", "demo", "--into", "season"],
        cwd=elsewhere,
        env=environment,
        capture_output=True,
        text=True,
    )
    return elsewhere / "season", said
