"""Where papers are proposed to be kept: never where the program happens to have been started."""

from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import QStandardPaths

from findsdesk.ui.paper_memory import PaperMemory, write_paper
from findsdesk.ui.paper_out import hand_over, paper_folder, unused
from findsdesk.ui.surroundings import Surroundings
from tests.ui.conftest import KeptNotices
from tests.yard import new_yard


class AskedWhere(KeptNotices):
    """Keeps what the scan line said while a place was asked for, and chooses none."""

    def __init__(self, around: Surroundings) -> None:
        super().__init__()
        self.said: list[str] = []
        around.said.connect(lambda answer: self.said.append(answer.in_one_line()))
        self.said_when_asked: list[str] = []

    def file_to_write(self, head: str, proposal: Path, kinds: str) -> Path | None:
        self.said_when_asked = list(self.said)
        return None


@pytest.fixture(autouse=True)
def folders(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Let the station remember nothing, and let the person's documents lie (or not) in the test's folder."""
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "settings"))
    monkeypatch.setattr(QStandardPaths, "writableLocation", lambda _kind: str(tmp_path / "Documents"))


def test_the_folder_used_last_comes_before_the_papers_of_the_excavation_before_documents(tmp_path: Path) -> None:
    desk = new_yard(tmp_path / "quay", by="Mika", station="dig house")
    try:
        assert paper_folder(desk) == tmp_path / "quay", "no documents, no papers: beside the store"
        (tmp_path / "Documents").mkdir()
        assert paper_folder(desk) == tmp_path / "Documents"
        (tmp_path / "quay" / "papers").mkdir()
        assert paper_folder(desk) == tmp_path / "quay" / "papers"
        (tmp_path / "last").mkdir()
        write_paper("dig house", PaperMemory(folder=str(tmp_path / "last")))
        assert paper_folder(desk) == tmp_path / "last"
        (tmp_path / "last").rmdir()
        assert paper_folder(desk) == tmp_path / "quay" / "papers"
    finally:
        desk.close()


def test_the_question_where_to_keep_it_says_why_it_comes(tmp_path: Path, around: Surroundings) -> None:
    notices = AskedWhere(around)
    around.notices = notices
    around.desk = new_yard(tmp_path / "quay", by="Mika", station="dig house")
    try:
        assert not hand_over(around, b"", "labels")
        assert notices.said_when_asked == ["Where is the PDF kept? It is printed from your viewer."]
        assert notices.said[-1] == "Nothing is kept: no place was chosen for the PDF"
    finally:
        around.desk.close()


@pytest.mark.parametrize("below", ["a file", "nothing"])
def test_a_path_that_lies_in_no_folder_is_refused_in_words(
    qtbot: Any, tmp_path: Path, around: Surroundings, monkeypatch: pytest.MonkeyPatch, below: str
) -> None:
    folder = tmp_path / below
    if below == "a file":
        folder.write_bytes(b"no folder")
    notices = around.notices
    assert isinstance(notices, KeptNotices)
    monkeypatch.setattr(notices, "file_to_write", lambda *_asked: folder / "labels.pdf")
    around.desk = new_yard(tmp_path / "quay", by="Mika", station="dig house")
    try:
        assert hand_over(around, b"%PDF", "labels", show=False)
        qtbot.waitUntil(lambda: bool(notices.told))
        said = f"labels.pdf cannot be written: there is no folder {folder}. Choose another folder, or make it first."
        assert notices.told == [(said, "", "")]
    finally:
        around.desk.close()


def test_a_second_print_of_the_day_has_a_name_of_its_own(tmp_path: Path) -> None:
    assert unused(tmp_path, "labels") == tmp_path / "labels.pdf"
    for name in ("labels.pdf", "labels-2.pdf"):
        (tmp_path / name).touch()
    assert unused(tmp_path, "labels") == tmp_path / "labels-3.pdf"
