"""What tests of the labels bench share: settled containers, keys where the keyboard is, and symbols read back."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pypdfium2
import pytest
import zxingcpp
from PIL import Image
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from findsdesk.desk.bagging import bag_settled
from findsdesk.desk.desk import Desk
from findsdesk.desk.printing import came_out_well, lay_out_bag_labels
from findsdesk.desk.sorting import add_group, settle
from findsdesk.ui.benches.labels.page import LabelsBench
from findsdesk.ui.benches.labels.state import Phase
from findsdesk.ui.program import Program
from tests.desk.at_the_table import dry_container
from tests.ui.at_work import go_to, opened, settled
from tests.yard import new_yard

SHEET = "a4-3x8-70x37"


def settled_container(desk: Desk, number: int, deposit: str = "2017") -> str:
    """Wash, sort and settle a container: 3 rims and 7 body sherds stay."""
    code = dry_container(desk, number, 10, deposit=deposit)
    add_group(desk, code, ware="QRS", part="rim", pieces=3, tenths=600)
    add_group(desk, code, ware="TGY", part="body", pieces=7, tenths=900)
    settle(desk, code)
    return code


def press(qtbot: Any, program: Program, key: Qt.Key, *modifiers: Qt.KeyboardModifier) -> None:
    """Press a key where the keyboard is, and wait for what follows."""
    focus = QApplication.focusWidget()
    assert focus is not None, "the keyboard is nowhere"
    held = Qt.KeyboardModifier.NoModifier
    for modifier in modifiers:
        held |= modifier
    QTest.keyClick(focus, key, held)
    settled(qtbot, program)


def ctrl(qtbot: Any, program: Program, key: Qt.Key) -> None:
    """Press a key with Ctrl."""
    press(qtbot, program, key, Qt.KeyboardModifier.ControlModifier)


def tab_to(qtbot: Any, program: Program, widget: QWidget) -> None:
    """Press Tab until the keyboard is there."""
    for _press in range(80):
        if QApplication.focusWidget() is widget:
            return
        press(qtbot, program, Qt.Key.Key_Tab)
    pytest.fail(f"Tab does not come to {widget!r}")


def symbols_of(pdf: Path) -> list[str]:
    """Return the codes an independent decoder (ZXing) reads from a PDF rasterised by another (PDFium) at 203 dpi."""
    read: list[str] = []
    document = pypdfium2.PdfDocument(pdf.read_bytes())
    try:
        for number in range(len(document)):
            page: Image.Image = document[number].render(scale=203 / 72, grayscale=True).to_pil()
            found = {(one.format, one.text) for one in zxingcpp.read_barcodes(page)}
            read.extend(text for kind, text in found if kind == zxingcpp.BarcodeFormat.Code128)
    finally:
        document.close()
    return sorted(read)


def text_of(pdf: Path, page: int = 1) -> str:
    document = pypdfium2.PdfDocument(pdf.read_bytes())
    try:
        return str(document[page - 1].get_textpage().get_text_bounded())
    finally:
        document.close()


@pytest.fixture(autouse=True)
def own_memory(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Let each test begin at a station that remembers nothing of its paper."""
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "settings"))


@pytest.fixture(autouse=True)
def opened_files(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Keep what would be opened in the machine's viewer."""
    files: list[str] = []

    def keep(url: Any) -> bool:
        files.append(url.toLocalFile())
        return True

    monkeypatch.setattr("findsdesk.ui.paper_out.QDesktopServices.openUrl", keep)
    return files


def two_settled(folder: Path) -> Desk:
    """Return a yard with two settled containers, of two deposits, that are not in bags."""
    desk = new_yard(folder, by="Mika", station="dig house")
    settled_container(desk, 104)
    settled_container(desk, 106, deposit="2003")
    return desk


@pytest.fixture
def program(qtbot: Any, tmp_path: Path) -> Iterator[Program]:
    """Return a program on a yard with two settled containers."""
    with opened(qtbot, two_settled(tmp_path), station="dig house") as made:
        made.notices.to_write = tmp_path / "labels.pdf"  # type: ignore[attr-defined]
        # What is typed here is typed by a person; the filter would hold each first key until its clock has run on.
        made.filter.uninstall()
        yield made


@pytest.fixture
def bench(qtbot: Any, program: Program) -> LabelsBench:
    """Return the labels bench, shown."""
    shown = go_to(qtbot, program, "labels")
    assert isinstance(shown, LabelsBench)
    return shown


def printed_out(qtbot: Any, program: Program, bench: LabelsBench) -> None:
    """Pack, and hand the labels over by keyboard."""
    ctrl(qtbot, program, Qt.Key.Key_Return)
    ctrl(qtbot, program, Qt.Key.Key_P)
    assert bench.state.phase is Phase.OUT


def labelled(bench: LabelsBench, qtbot: Any, program: Program) -> list[str]:
    """Pack and label everything by the use cases; return the codes of the bags."""
    desk = bench.surroundings.desk
    bags = bag_settled(desk)
    came_out_well(desk, lay_out_bag_labels(desk, stock=SHEET))
    settled(qtbot, program)
    return [one.code for one in bags]
