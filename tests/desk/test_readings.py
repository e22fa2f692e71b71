"""Readings: one of each reader for a container or a deposit, corrected by its reader, looked at again by another."""

from datetime import date

import pytest

from findsdesk.desk.desk import Desk
from findsdesk.desk.named_readings import answer_looked, correct_own
from findsdesk.desk.proving import prove
from findsdesk.desk.reading_rows import read_today, readings_of_container, readings_of_deposit
from findsdesk.desk.readings import answer_look_again, correct_reading, read_container, read_deposit
from findsdesk.desk.renumbering import merge_deposits
from findsdesk.desk.setting_up import add_period
from findsdesk.domain.readings import Agreement
from findsdesk.domain.standings import StepKind
from tests.desk.at_the_table import refused
from tests.yard import SORTING, last_said, put_container, sitting


@pytest.fixture
def oren(desk: Desk) -> Desk:
    """Return the yard with a third period, the ceramicist at the desk."""
    add_period(desk, code="I", name="Harbour I", earliest=-150, latest=180)
    return sitting(desk, "Oren")


def test_a_reading_says_periods_and_a_line(oren: Desk) -> None:
    code = put_container(oren, 131, steps=SORTING)
    made = read_container(oren, code, main="harbour ii", earlier="I", confidence="sure", line="floor fill")
    assert (made.periods.main and made.periods.main.name, made.periods.earlier and made.periods.earlier.code) == (
        "Harbour II",
        "I",
    )
    assert (made.container, made.deposit, made.square) == ("131", "2017", "A1")
    assert (made.confidence, made.who, made.agrees, made.waits) == ("sure", "Oren Vade", None, False)
    assert last_said(oren) == "131: Harbour II, floor fill"
    assert readings_of_container(oren, "131") == (made,)
    assert prove(oren).sound


def test_a_second_reader_stands_beside_the_first(oren: Desk) -> None:
    code = put_container(oren, 131, steps=SORTING)
    first = read_container(oren, code, main="II")
    with refused(oren, "read_already"):
        read_container(oren, code, main="III")
    second = read_container(sitting(oren, "Ilo"), code, main="III", earlier="I")
    assert [(one.who, one.agrees) for one in readings_of_container(oren, code)] == [
        ("Oren Vade", None),
        ("Ilo Marr", Agreement.OVERLAP),
    ]
    with refused(oren, "not_your_reading"):
        correct_reading(oren, second.id, seen=second.version, main="II")
    assert first.version == readings_of_container(oren, code)[0].version


def test_what_is_not_said_at_a_correction_stays(oren: Desk) -> None:
    code = put_container(oren, 131, steps=SORTING)
    made = read_container(oren, code, main="II", earlier="I", line="floor fill")
    changed = correct_own(oren, code, latest="III", earlier="")
    assert (changed.periods.main and changed.periods.main.code, changed.line) == ("II", "floor fill")
    assert (changed.periods.earlier, changed.periods.latest and changed.periods.latest.code) == (None, "III")
    with refused(oren, "changed_meanwhile"):
        correct_reading(oren, made.id, seen=made.version, line="pit")
    with refused(oren, "no_such_reading"):
        correct_own(sitting(oren, "Bryn"), code, line="mine")
    with refused(oren, "name_what_was_read"):
        correct_own(oren, code, deposit="2017", line="mine")
    assert prove(oren).sound


def test_look_again_waits_until_it_is_answered(oren: Desk) -> None:
    code = put_container(oren, 131, steps=SORTING)
    made = read_container(oren, code, main="II", look_again="two Green Glaze in a sealed fill")
    assert made.waits
    with refused(oren, "answer_needed"):
        answer_look_again(oren, made.id, says=" ")
    answered = answer_looked(sitting(oren, "Bryn"), code, says="a root hole, cut from above")
    assert (answered.waits, answered.looked_again_says) == (False, "a root hole, cut from above")
    assert last_said(oren) == "131: a root hole, cut from above"
    with refused(oren, "nothing_to_look_at"):
        answer_look_again(oren, made.id, says="again")
    assert correct_own(oren, code, look_again="and a third sherd").waits


def test_a_deposit_is_read_as_a_whole_and_follows_a_merger(oren: Desk) -> None:
    made = read_deposit(oren, "2003", main="II", line="silt over the quay")
    assert (made.container, made.deposit, made.square) == ("", "2003", "B2")
    read_deposit(sitting(oren, "Ilo"), "2017", main="III")
    with refused(oren, "read_already"):
        read_deposit(oren, "2003", main="II")
    merge_deposits(sitting(oren, "Bryn"), "2003", into="2017", reason="the same fill", sure=True)
    assert [one.who for one in readings_of_deposit(oren, "2003")] == ["Oren Vade", "Ilo Marr"]


@pytest.mark.parametrize(
    ("said", "code"),
    [
        ({}, "nothing_read"),
        ({"main": "IX"}, "unknown_period"),
        ({"main": "II", "confidence": "certain"}, "unknown_word"),
        ({"main": "I", "earlier": "II"}, "earlier_not_earlier"),
        ({"main": "III", "latest": "II"}, "latest_not_latest"),
    ],
)
def test_a_reading_that_cannot_be_is_refused(oren: Desk, said: dict[str, str], code: str) -> None:
    tag = put_container(oren, 131, steps=SORTING)
    with refused(oren, code):
        read_container(oren, tag, **said)
    with refused(oren, code):
        read_deposit(oren, "2017", **said)


def test_only_pottery_that_is_here_is_read(oren: Desk) -> None:
    bone = put_container(oren, 132, material="bone")
    out = put_container(oren, 133, steps=(StepKind.ISSUED,))
    with refused(oren, "not_pottery"):
        read_container(oren, bone, main="II")
    with refused(oren, "not_here"):
        read_container(oren, out, main="II")
    with refused(oren, "unknown_number"):
        read_container(oren, "999", main="II")
    with refused(oren, "unknown_deposit"):
        read_deposit(oren, "999", main="II")
    with refused(oren, "no_such_reading"):
        answer_look_again(oren, 999, says="seen")


def test_the_days_readings_stand_by_square(oren: Desk) -> None:
    for number, deposit in ((131, "2017"), (9, "2017"), (12, "2003")):
        put_container(oren, number, deposit=deposit, steps=SORTING)
        read_container(oren, str(number), main="II")
    read_deposit(oren, "2019", main="III")
    squares = read_today(oren, date(2026, 7, 14))
    assert [(one.square, [row.container or row.deposit for row in one.readings]) for one in squares] == [
        ("A1", ["9", "131"]),
        ("A2", ["2019"]),
        ("B2", ["12"]),
    ]
    assert read_today(oren, date(2026, 7, 13)) == ()
