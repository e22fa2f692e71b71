"""Stocks measured here: kept, printed on, taken away; what cannot be right is refused and the file stays as it was."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from findsdesk import places
from findsdesk.desk.desk import Desk
from findsdesk.desk.laying_out import frames_of, lay_out_field_tags, read_back, stocks
from findsdesk.desk.own_stocks import (
    MeasuredSheet,
    add_paper_to_cut,
    add_roll,
    add_sheet,
    own_stocks,
    take_stock_away,
)
from findsdesk.desk.printers import draw_test_page, forget_printer, printers, set_printer
from findsdesk.domain.refusals import Refusal
from tests.printed import MOMENT, Sheet
from tests.yard import put_container

SHEET = MeasuredSheet(21000, 29700, 3, 7, 6350, 3810, 720, 1515, 720 + 2 * 6600, 1515 + 6 * 3810)


@pytest.fixture(autouse=True)
def own_settings(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Let each test begin at a machine on which nothing was measured."""
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "settings"))


def test_a_measured_sheet_is_kept_and_printed_on(desk: Desk) -> None:
    put_container(desk, 131)
    kept = add_sheet("shop labels", "A4", SHEET)
    assert (kept.across, kept.down) == (6600, 3810)
    assert own_stocks() == (kept,)
    mine = next(one for one in stocks() if one.own)
    assert mine.title == "shop labels: A4 sheet, 3 × 7 of 63.5 × 38.1 mm"
    sheets = lay_out_field_tags(desk, stock="shop labels", first_place=21)
    assert read_back(sheets).all_well
    assert sheets.placed[0].place == 21
    assert draw_test_page("laser", paper="shop labels", moment=MOMENT).pdf[:5] == b"%PDF-"
    page = Sheet(frames_of("shop labels", moment=MOMENT))
    assert (round(page.width), round(page.height)) == (210, 297)


def test_a_roll_keeps_its_gap_and_paper_to_cut_its_page(desk: Desk) -> None:
    put_container(desk, 131)
    roll, cut = add_roll("awning roll", 5700, 3200, 300), add_paper_to_cut("slips", "A4", 6000, 3000)
    assert (roll.gap, roll.kind, cut.kind, cut.columns, cut.rows) == (300, "roll", "cut", 3, 9)
    for name in ("awning roll", "slips"):
        assert read_back(lay_out_field_tags(desk, stock=name)).all_well


def test_a_stock_is_taken_away_and_its_name_is_free_again() -> None:
    add_roll("awning roll", 5700, 3200, 300)
    assert take_stock_away("Awning Roll").name == "awning roll"
    assert own_stocks() == ()
    add_roll("awning roll", 5700, 3200, 200)
    assert own_stocks()[0].gap == 200


def refused(code: str, call: object) -> str:
    file = places.settings_folder() / "stocks.json"
    before = file.read_bytes() if file.exists() else b""
    with pytest.raises(Refusal) as no:
        call()  # type: ignore[operator]
    assert no.value.code == code
    assert (file.read_bytes() if file.exists() else b"") == before
    return no.value.in_words()


def test_what_cannot_be_a_stock_is_refused() -> None:
    add_roll("awning roll", 5700, 3200, 300)
    wide = MeasuredSheet(21000, 29700, 3, 7, 9000, 3810, 720, 1515, 720 + 2 * 9200, 1515 + 6 * 3810)
    assert "281.2 mm" in refused("columns_wider_than_page", lambda: add_sheet("wide", "A4", wide))
    refused("stock_there", lambda: add_roll("AWNING roll", 5700, 3200, 300))
    refused("stock_there", lambda: add_roll("roll-57x32", 5700, 3200, 300))
    refused("stock_without_name", lambda: add_roll(" ", 5700, 3200, 300))
    refused("unknown_own_stock", lambda: take_stock_away("a4-3x8-70x37"))
    refused("unknown_page", lambda: add_paper_to_cut("slips", "A6", 6000, 3000))
    refused("label_larger_than_page", lambda: add_paper_to_cut("posters", "A4", 60000, 3000))


@pytest.mark.parametrize(
    "content",
    ["{", '{"x": 3}', '{"x": {"page": "A4", "kind": "sheet", "page_width": 1}}'],
    ids=["cut", "other", "half"],
)
def test_a_file_that_cannot_be_read_is_not_written_over(content: str) -> None:
    file = places.settings_folder() / "stocks.json"
    file.parent.mkdir(parents=True)
    file.write_text(content)
    refused("stocks_unreadable", lambda: add_roll("awning roll", 5700, 3200, 300))


def test_a_full_disk_leaves_the_old_file_whole(monkeypatch: pytest.MonkeyPatch) -> None:
    add_roll("awning roll", 5700, 3200, 300)

    def full(_stream: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    said = refused("cannot_write", lambda: add_roll("second roll", 5700, 3200, 300))
    assert "No space left" in said
    assert [one.name for one in own_stocks()] == ["awning roll"]


def test_a_printer_is_forgotten_with_what_was_measured() -> None:
    set_printer("Trestle laser", dpi=600)
    set_printer("awning roll", dpi=203)
    assert forget_printer("trestle LASER").dpi == 600
    assert [one.name for one in printers()] == ["awning roll"]
    with pytest.raises(Refusal) as no:
        forget_printer("trestle laser")
    assert no.value.code == "unknown_printer"
    with pytest.raises(Refusal) as no:
        forget_printer(" ")
    assert no.value.code == "printer_without_name"
