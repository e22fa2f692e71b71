"""Where readings show: the evening by square, what needs a person, the register, the dossier."""

from datetime import date

import pypdfium2
import pytest

from findsdesk.desk.desk import Desk
from findsdesk.desk.dossiers import deposit_dossier, dossier_of
from findsdesk.desk.evening import evening
from findsdesk.desk.named_readings import answer_looked
from findsdesk.desk.objects import Leaves, register_object
from findsdesk.desk.readings import read_container, read_deposit
from findsdesk.desk.registers import Register, RegisterQuery, count, page
from findsdesk.desk.sheets import evening_sheet
from findsdesk.desk.the_day import the_day
from tests.yard import SORTING, advance, put_container, sitting

DAY = date(2026, 7, 14)


@pytest.fixture
def read(desk: Desk) -> Desk:
    """Return a yard in which Oren read two buckets and a context, one of them to be looked at again."""
    oren = sitting(desk, "Oren")
    put_container(desk, 131, steps=SORTING)
    put_container(desk, 12, deposit="2003", steps=SORTING)
    read_container(oren, "131", main="II", latest="III", line="floor fill", look_again="two Green Glaze")
    advance(desk, hours=1)
    read_container(oren, "12", main="II")
    advance(desk, hours=1)
    read_deposit(oren, "2019", line="nothing that can be dated")
    return desk


def test_the_evening_says_dates_and_what_is_notable(read: Desk) -> None:
    squares = {one.square: one for one in evening(read, DAY)}
    assert squares["A1"].dates == ("131: Harbour II (Harbour III) (Oren Vade)",)
    assert squares["A1"].notable == ("131: floor fill (Oren Vade)", "131: look again, two Green Glaze (Oren Vade)")
    assert (squares["A2"].dates, squares["A2"].notable) == ((), ("2019: nothing that can be dated (Oren Vade)",))
    assert squares["B2"].dates == ("12: Harbour II (Oren Vade)",)
    page_of = pypdfium2.PdfDocument(evening_sheet(read, DAY).pdf)[0]
    printed = page_of.get_textpage().get_text_bounded()
    for said in ("131: Harbour II", "floor fill", "Notable"):
        assert said in printed


def test_the_evening_names_the_objects_met_that_day(read: Desk) -> None:
    """A coin met in a bucket today is notable in the bucket's square, with who met it; the day before it is not."""
    found = register_object(sitting(read, "Oren"), "131", what="coin", material="bronze", leaves=Leaves.NOT_COUNTED)
    told = f"131: object {found.found.number}, coin (Oren Vade)"
    squares = {one.square: one for one in evening(read, DAY)}
    assert squares["A1"].notable[-1] == told
    register_object(sitting(read, "Oren"), "12", what="key", material="iron", leaves=Leaves.ITSELF)
    assert {one.square: one for one in evening(read, DAY)}["B2"].notable == ("12: object 2, key (Oren Vade)",)
    assert not evening(read, date(2026, 7, 13))
    printed = pypdfium2.PdfDocument(evening_sheet(read, DAY).pdf)[0].get_textpage().get_text_bounded()
    assert "object 1, coin" in " ".join(printed.split())


def test_look_again_needs_a_person_until_it_is_answered(read: Desk) -> None:
    needs = [need for need in the_day(read, DAY).needs if need.kind == "look_again"]
    assert [(need.numbers, dict(need.facts)) for need in needs] == [
        (("131",), {"why": "two Green Glaze", "who": "Oren Vade"})
    ]
    answer_looked(sitting(read, "Bryn"), "131", says="a root hole")
    assert not [need for need in the_day(read, DAY).needs if need.kind == "look_again"]


@pytest.mark.parametrize(
    ("query", "found"),
    [
        (RegisterQuery(), ["2019", "12", "131"]),
        (RegisterQuery(text="floor"), ["131"]),
        (RegisterQuery(text="2003"), ["12"]),
        (RegisterQuery(filters=(("look_again", "yes"),)), ["131"]),
        (RegisterQuery(filters=(("look_again", "no"),)), ["2019", "12"]),
        (RegisterQuery(filters=(("period", "III"),)), ["131"]),
        (RegisterQuery(filters=(("square", "A2"), ("square", "B2"))), ["2019", "12"]),
        (RegisterQuery(filters=(("deposit", "2019"),)), ["2019"]),
        (RegisterQuery(filters=(("person", "Bryn Hallo"),)), []),
        (RegisterQuery(filters=(("from", "2026-07-14"), ("until", "2026-07-14"))), ["2019", "12", "131"]),
        (RegisterQuery(filters=(("from", "2026-07-15"),)), []),
        (RegisterQuery(filters=(("until", "2026-07-13"),)), []),
    ],
)
def test_the_register_of_readings(read: Desk, query: RegisterQuery, found: list[str]) -> None:
    rows = page(read, Register.READINGS, query)
    assert [row.container or row.deposit for row in rows] == found
    assert count(read, Register.READINGS, query) == len(found)


def test_the_dossier_tells_who_read_what(read: Desk) -> None:
    deposit = deposit_dossier(read, "2019")
    assert [(one.who, one.line) for one in deposit.readings] == [("Oren Vade", "nothing that can be dated")]
    container_id = page(read, Register.READINGS, RegisterQuery(text="floor"))[0].container_id
    assert [one.line for one in dossier_of(read, container_id).readings] == ["floor fill"]


def test_what_was_taken_out_of_a_bucket_did_not_come_in(desk: Desk) -> None:
    put_container(desk, 131, steps=SORTING)
    before = {one.square: one.came_in for one in evening(desk, DAY)}
    register_object(desk, "131", what="coin", material="bronze", leaves=Leaves.NOT_COUNTED)
    assert {one.square: one.came_in for one in evening(desk, DAY)} == before
