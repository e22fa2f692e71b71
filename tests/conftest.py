"""What every test stands on: no screen needed, nobody's own folders touched, no window that waits for an answer."""

import os
import sys

# Before anything loads Qt: without a screen Qt would end the whole run.
if sys.platform.startswith("linux") and not (os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY")):
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtGui import QFont, QFontDatabase
from PySide6.QtWidgets import QApplication, QColorDialog, QDialog, QFileDialog, QInputDialog, QMenu, QMessageBox

from findsdesk import places, words

# Everything in Qt that stops the program until somebody answers.
WAITING_CALLS: tuple[tuple[type, tuple[str, ...]], ...] = (
    (QDialog, ("exec",)),
    (QMessageBox, ("exec", "about", "aboutQt", "critical", "information", "question", "warning")),
    (QInputDialog, ("exec", "getDouble", "getInt", "getItem", "getMultiLineText", "getText")),
    (QFileDialog, ("exec", "getExistingDirectory", "getOpenFileName", "getOpenFileNames", "getSaveFileName")),
    (QColorDialog, ("exec", "getColor")),
    (QMenu, ("exec",)),
)


@pytest.fixture(autouse=True)
def own_folders(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> None:
    """Keep the settings and stores of whoever runs the tests out of them."""
    home = tmp_path_factory.getbasetemp() / "home"
    for variable in ("XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_STATE_HOME", "XDG_DOCUMENTS_DIR"):
        monkeypatch.setenv(variable, str(home / variable.lower()))


@pytest.fixture(autouse=True)
def english() -> Iterator[None]:
    """Leave each test in the language it found."""
    yield
    words.use_language("en")


@pytest.fixture(autouse=True)
def nothing_waits(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Fail a test that opens a dialog nobody is there to answer."""
    opened: list[str] = []

    def refuse(name: str) -> Callable[..., Any]:
        def opens(*_arguments: object, **_named: object) -> None:
            opened.append(name)
            raise RuntimeError(f"{name} would wait for an answer for ever")

        return opens

    for kind, names in WAITING_CALLS:
        for name in names:
            monkeypatch.setattr(kind, name, refuse(f"{kind.__name__}.{name}"))
    yield
    if opened:
        pytest.fail(f"a dialog was opened that waits for an answer: {', '.join(opened)}")


@pytest.fixture(scope="session")
def qapp(qapp: QApplication) -> QApplication:
    """Return the application, writing in the bundled font on every machine."""
    for file in sorted(places.resource("fonts").glob("*.ttf")):
        assert QFontDatabase.addApplicationFont(str(file)) >= 0, file
    qapp.setFont(QFont("DejaVu Sans", 10))
    return qapp


@pytest.fixture
def top() -> Path:
    """Return the folder of the checkout."""
    return Path(__file__).resolve().parent.parent
