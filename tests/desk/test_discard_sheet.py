"""A discard list on paper: what stands on it, its sums, who signs where, and the caution for those who carry."""

import pypdfium2
import pytest

from findsdesk.desk.desk import Desk
from findsdesk.desk.discard_lists import discard_list
from findsdesk.desk.discard_sheet import discard_sheet
from findsdesk.desk.discards import call_back, carried_away, inspected, make_list, sign_list, take_off
from findsdesk.desk.pins import set_pin
from findsdesk.desk.sheets import Wording
from tests.desk.at_the_table import refused
from tests.yard import put_settled, sitting, with_settings


@pytest.fixture
def oren(desk: Desk) -> Desk:
    """Return the ceramicist's desk with a list of two lines."""
    put_settled(desk, 131, discarded=10)
    put_settled(desk, 132, discarded=12, deposit="2019")
    set_pin(desk, "Ilo", pin="2406")
    ceramicist = sitting(desk, "Oren")
    make_list(ceramicist)
    return ceramicist


def text_of(desk: Desk) -> str:
    document = pypdfium2.PdfDocument(discard_sheet(desk, 1).pdf)
    return " ".join(word for page in document for word in page.get_textpage().get_text_bounded().split())


def test_a_proposed_list_has_its_lines_sums_and_places_to_sign(oren: Desk) -> None:
    text = text_of(oren)
    for said in (
        "Discard list 1",
        "Season 2026 · proposed",
        "Context 2017 · square A1",
        "no diagnostic value 22",
        "22 sherds not weighed",
        "Second person",
        "Carried away by",
        "Broken sherds cut",
        "local codes on waste",
        oren.head(),
    ):
        assert said in text
    assert "Inspector" not in text
    assert discard_sheet(oren, 1).rows == 2


def test_what_was_called_back_is_in_no_sum_and_the_events_are_on_it(oren: Desk) -> None:
    with_settings(oren, inspector_signs=True)
    sign_list(oren, 1, signer="Ilo", pin="2406")
    call_back(oren, 1, tags=["132"], why="one joins 87")
    inspected(oren, 1, inspector="Sela Orin")
    carried_away(oren, 1, where="marked pit in A4", how="barrow", marker="dated tile")
    text = text_of(oren)
    for said in ("one joins 87", "Called back or taken off: in no sum", "(12)", "1 line"):
        assert said in text
    for said in ("by Ilo Marr", "Seen by the inspector, Sela Orin", "marked pit in A4; barrow", "dated tile"):
        assert said in text
    assert "Inspector" in text
    assert "2406" not in text


def test_count_and_grams_of_what_was_taken_off_stand_both_in_brackets(desk: Desk) -> None:
    put_settled(desk, 131, discarded=10)
    put_settled(desk, 132, discarded=12, discarded_tenths=1500)
    make_list(desk)
    take_off(desk, 1, tags=["132"], why="one joins 87")
    assert "(12) (150.0)" in text_of(desk)


def test_there_is_no_paper_of_no_list(oren: Desk) -> None:
    with refused(oren, "unknown_list_number"):
        discard_sheet(oren, 9)


def test_decided_by_are_those_who_decided_the_lines_and_not_who_made_the_list(desk: Desk) -> None:
    set_pin(desk, "Ilo", pin="2406")
    put_settled(desk, 131, discarded=10)
    make_list(sitting(desk, "Mika"))
    sign_list(desk, 1, pin="2406")
    sheet = discard_sheet(desk, 1)
    document = pypdfium2.PdfDocument(sheet.pdf)
    lines = [line for page in document for line in page.get_textpage().get_text_bounded().splitlines()]
    assert any(line.startswith("Decided by (sherds): Oren Vade 10") for line in lines)
    signed = [line for line in lines if "Mika Sool" in line]
    assert [line.split(" by ")[0].split()[0] for line in signed] == ["Listed"], "who made it signs nowhere"
    moment = Wording(desk).moment(discard_list(desk, 1).facts.signed_at)
    assert sum(moment in line for line in lines) >= 2, "in the events, and beside the name of the second person"
