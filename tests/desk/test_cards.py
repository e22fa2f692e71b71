"""The command card as it comes out of the printer: every symbol read back by an independent decoder."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pypdfium2
import pytest
import zxingcpp

from findsdesk.desk.cards import command_card
from findsdesk.desk.desk import Desk
from findsdesk.desk.setting_up import open_season
from findsdesk.domain.codes import read_code
from findsdesk.domain.command_cards import Command, command_code, command_of, tub_code, tub_of
from tests.printed import Sheet, overlapping
from tests.yard import new_yard, with_settings

BARS = zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.Code128)


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    opened = new_yard(tmp_path, by="Tessa")
    yield opened
    opened.close()


def read_back(pdf: bytes, dpi: int) -> list[str]:
    """Return what a scanner would send for each symbol on all pages."""
    said = []
    for page in pypdfium2.PdfDocument(pdf):
        picture = page.render(scale=dpi / 72, grayscale=True).to_pil()
        said += [found.text for found in zxingcpp.read_barcodes(picture, formats=BARS)]
    return said


@pytest.mark.parametrize("dpi", [203, 300, 600])
def test_every_command_and_every_tub_is_read_from_the_paper(desk: Desk, dpi: int) -> None:
    said = read_back(command_card(desk), dpi)
    codes = [read_code(text, "TQ") for text in said]
    assert {command_of(code) for code in codes} - {None} == set(Command)
    assert {tub_of(code, 5) for code in codes} - {None} == {"1", "2", "3", "4", "5"}
    assert len(said) == len(Command) + 5


def test_the_card_says_whose_it_is_and_fits_its_page(desk: Desk) -> None:
    sheet = Sheet(command_card(desk))
    text = sheet.text()
    for said in ("Tannery Quay", "VE-26-014", "Tessa Quill", "2026-07-14", desk.head(), "page 1 of 1", "nothing seen"):
        assert said in text, said
    assert command_code("TQ", Command.WRITE) in text
    assert tub_code("TQ", 5) in text
    assert overlapping(sheet.boxes()) == []
    assert all(box.left >= 10 - 0.5 and box.right <= sheet.width - 10 + 0.5 for box in sheet.boxes())


def test_a_yard_with_many_tubs_gets_a_second_page(desk: Desk) -> None:
    with_settings(desk, tubs=40)
    pdf = command_card(desk)
    assert "page 2 of 3" in Sheet(pdf, 2).text()
    assert len(read_back(pdf, 203)) == len(Command) + 40


def test_a_card_is_printed_before_a_season_is_open_and_in_the_language_of_the_paper(tmp_path: Path) -> None:
    desk = new_yard(tmp_path / "later", by="Tessa")
    open_season(desk, name="2027", permit="VE-27-003", starts=date(2027, 7, 5), ends=date(2027, 8, 15))
    assert command_card(desk).startswith(b"%PDF")
    desk.close()
