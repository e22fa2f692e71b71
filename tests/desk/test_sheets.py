"""Lists on paper: what stands on them, and that every one says whose, what, which choice, when, who, and the head."""

from collections.abc import Callable
from datetime import date

import pypdfium2
import pytest

from findsdesk.desk.checking_in import check_in
from findsdesk.desk.counting import log_count
from findsdesk.desk.desk import Desk
from findsdesk.desk.redoing import Written
from findsdesk.desk.renumbering import renumber_deposit
from findsdesk.desk.sheets import (
    PrintedList,
    RegisterColumn,
    concordance_sheet,
    evening_sheet,
    missing_list,
    redo_sheet,
    register_sheet,
)
from findsdesk.desk.sorting import add_group, settle
from findsdesk.desk.tags import report_missing
from findsdesk.desk.unaccounted import unaccounted
from findsdesk.desk.washing import dip_and_look
from findsdesk.domain.standings import Standing, StepKind
from tests.desk.at_the_table import refused
from tests.yard import advance, put_container, sitting

DAY = date(2026, 7, 14)
TODAY = DAY.isoformat()


def texts_of(pdf: bytes) -> list[str]:
    """Return the text of each page with its blanks made one."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        return [" ".join(document[page].get_textpage().get_text_bounded().split()) for page in range(len(document))]
    finally:
        document.close()


def a_register(desk: Desk) -> PrintedList:
    columns = [RegisterColumn("Number"), RegisterColumn("Pieces", numbers=True)]
    rows = [(str(number), "1") for number in range(200)]
    return register_sheet(desk, title="Register of buckets", filter_words="dry, of 2017", columns=columns, rows=rows)


SHEETS: list[Callable[[Desk], PrintedList]] = [
    missing_list,
    lambda desk: evening_sheet(desk, DAY),
    concordance_sheet,
    redo_sheet,
    a_register,
]


@pytest.mark.parametrize("sheet", SHEETS)
def test_every_page_says_whose_when_who_and_the_head(desk: Desk, sheet: Callable[[Desk], PrintedList]) -> None:
    mika = sitting(desk, "Mika")
    printed = sheet(mika)
    pages = texts_of(printed.pdf)
    assert len(pages) == printed.pages
    for number, said in enumerate(pages, 1):
        assert printed.title in said
        assert "Tannery Quay (invented example)" in said
        assert "VE-26-014" in said
        assert "2026-07-14 06:50 +02:00" in said
        assert "Mika Sool" in said
        assert desk.head() in said
        assert f"page {number} of {printed.pages}" in said


def test_empty_lists_say_so(desk: Desk) -> None:
    assert "No bucket is missing." in texts_of(missing_list(desk).pdf)[0]
    assert "No context has changed its number." in texts_of(concordance_sheet(desk).pdf)[0]
    assert "Nothing has to be written again." in texts_of(redo_sheet(desk).pdf)[0]
    assert "on this day" in texts_of(evening_sheet(desk, DAY).pdf)[0]


def test_what_is_missing_is_listed_until_it_arrives(desk: Desk) -> None:
    code = put_container(desk, 122, steps=(StepKind.ISSUED, StepKind.LISTED))
    put_container(desk, 123, steps=(StepKind.ISSUED,))
    put_container(desk, 124)
    advance(desk, hours=1)
    report_missing(desk, code)
    (one,) = unaccounted(desk)
    assert (one.number, one.standing, one.supervisor, one.since) == ("122", Standing.MISSING, "Bryn Hallo", desk.now())
    said = texts_of(missing_list(desk).pdf)[0]
    assert "A1 2017 122" in said
    assert code in said
    assert "07:50" in said
    assert "123" not in said.replace(code, "")
    check_in(desk, code)
    assert missing_list(desk).rows == 0


def test_the_evening_sheet_counts_by_square(desk: Desk) -> None:
    code = put_container(desk, 131, steps=(StepKind.ISSUED, StepKind.LISTED))
    put_container(desk, 132, deposit="2019", steps=(StepKind.ISSUED, StepKind.LISTED, StepKind.ARRIVED))
    check_in(desk, code)
    dip_and_look(desk, code)
    log_count(desk, code, pieces=1320)
    advance(desk, hours=8)
    add_group(desk, code, ware="QRS", part="rim", pieces=1320)
    settle(desk, code)
    printed = evening_sheet(desk, DAY)
    said = texts_of(printed.pdf)[0]
    assert printed.rows == 2
    assert "A1 1 1 1,320 1" in said
    assert "A2 1 0 0 0" in said
    assert "Total 2 1 1,320 1" in said
    assert evening_sheet(desk, date(2026, 7, 20)).rows == 0


def test_a_changed_number_stands_in_the_concordance_and_among_what_to_redo(desk: Desk) -> None:
    put_container(desk, 131)
    put_container(desk, 132)
    renumber_deposit(desk, "2017", to="2031", reason="the same floor")
    said = texts_of(concordance_sheet(desk).pdf)[0]
    assert "2017 2031 renumbered the same floor Ilo Marr 2026-07-14 06:50" in said
    printed = redo_sheet(desk)
    assert printed.rows == 2
    assert "Context 2031" in texts_of(printed.pdf)[0]
    assert "2 things" in texts_of(printed.pdf)[0]
    assert redo_sheet(desk, Written.MARK).rows == 0


def test_a_register_prints_what_is_shown(desk: Desk) -> None:
    printed = a_register(desk)
    pages = texts_of(printed.pdf)
    assert (printed.rows, printed.pages) == (200, len(pages))
    assert len(pages) > 1
    assert all("dry, of 2017" in said and "Number Pieces" in said for said in pages)
    assert "199 1" in pages[-1]


def test_an_unknown_paper_is_refused(desk: Desk) -> None:
    with refused(desk, "unknown_paper"):
        missing_list(desk, paper="a3-plain")
