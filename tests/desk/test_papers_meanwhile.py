"""Papers while things happen: somebody writes, work is called off, a photograph is gone, nothing is there yet."""

from __future__ import annotations

import errno
from pathlib import Path

import pytest

from findsdesk.desk.all_papers import make_paper
from findsdesk.desk.desk import Desk
from findsdesk.desk.kept_sheets import write_paper
from findsdesk.desk.sorting import add_group
from findsdesk.desk.whole_papers import Asked
from findsdesk.domain.refusals import Refusal
from tests.desk.at_the_table import dry_container, refused
from tests.desk.whole_yard import ON_A_FILE, text_of, whole_yard
from tests.yard import sitting, with_settings


def test_the_certificate_is_signed_by_an_inspector_where_the_permit_asks(tmp_path: Path) -> None:
    desk = whole_yard(tmp_path, photo=False)
    try:
        with_settings(desk, inspector_signs=False)
        assert "Inspector" not in text_of(make_paper(desk, "balance", Asked(material="pottery")))
        with_settings(desk, inspector_signs=True)
        made = make_paper(desk, "balance", Asked(material="Pottery"))
        assert (made.pages, made.rows) == (1, 1)
        assert "Inspector" in text_of(made)
        with refused(desk, "unknown_material"):
            make_paper(desk, "balance", Asked(material="cheese"))
        with refused(desk, "unknown_season"):
            make_paper(desk, "balance", Asked(season="1999"))
    finally:
        desk.close()


@pytest.mark.skipif(not ON_A_FILE, reason="photographs lie beside a store's file, and a server has none")
def test_a_photograph_whose_file_is_gone_keeps_no_report_from_paper(tmp_path: Path) -> None:
    desk = whole_yard(tmp_path)
    try:
        for path in (tmp_path / "whole.photos").rglob("*.jpg"):
            path.unlink()
        text = text_of(make_paper(desk, "pieces"))
        assert "The file of rim.jpg is gone or changed." in text
        assert "131.1" in text
    finally:
        desk.close()


def test_a_report_of_a_season_without_finds_is_whole_all_the_same(desk: Desk) -> None:
    made = make_paper(desk, "season")
    text = text_of(made)
    for said in (
        "No sherd is sorted yet.",
        "Nothing is counted yet.",
        "No tag is issued yet.",
        "Nothing needs a person.",
    ):
        assert said in text
    with refused(desk, "unknown_season"):
        make_paper(desk, "season", Asked(season="1999"))


def test_a_report_shows_one_moment_although_somebody_writes_meanwhile(tmp_path: Path) -> None:
    desk = whole_yard(tmp_path, photo=False)
    code = dry_container(desk, 150, 12)
    before = desk.head()
    wrote: list[int] = []

    def write(page: int, _pages: int) -> None:
        if page == 2 and not wrote:
            wrote.append(page)
            add_group(sitting(desk, "Oren"), code, ware="QRS", part="rim", pieces=12)

    try:
        text = text_of(make_paper(desk, "season", Asked(follow=write)))
        assert wrote
        assert desk.head() != before
        assert before in text
        assert desk.head() not in text
        assert "75 sherds sorted" in text
        assert "87 sherds sorted" in text_of(make_paper(desk, "season"))
    finally:
        desk.close()


def test_work_called_off_leaves_the_old_file_whole(desk: Desk, tmp_path: Path) -> None:
    folder = tmp_path / "papers"
    folder.mkdir()
    path = write_paper(make_paper(desk, "yard").pdf, folder / "report.pdf")
    old = path.read_bytes()

    def stop(page: int, _pages: int) -> None:
        if page == 3:
            raise Refusal("called_off", "Called off.")

    with pytest.raises(Refusal) as caught:
        write_paper(make_paper(desk, "season", Asked(follow=stop)).pdf, path)
    assert caught.value.code == "called_off"
    assert path.read_bytes() == old
    assert list(folder.iterdir()) == [path]


def test_a_full_disk_leaves_the_old_file_whole(desk: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = tmp_path / "papers"
    folder.mkdir()
    path = write_paper(make_paper(desk, "yard").pdf, folder / "yard.pdf")
    old = path.read_bytes()

    def full(_file: int) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr("findsdesk.exchange.writing.os.fsync", full)
    with refused(desk, "cannot_write") as caught:
        write_paper(make_paper(desk, "season").pdf, path)
    assert "No space left on device" in caught.value.in_words(desk.terms)
    assert path.read_bytes() == old
    assert list(folder.iterdir()) == [path]
