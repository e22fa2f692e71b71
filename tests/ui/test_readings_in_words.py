"""Readings as the window says them: in the dossier, on the day page, on the page of a deposit."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from findsdesk.desk.desk import Desk
from findsdesk.desk.dossiers import deposit_dossier, find
from findsdesk.desk.named_readings import answer_looked
from findsdesk.desk.readings import read_container, read_deposit
from findsdesk.desk.setting_up import add_period
from findsdesk.desk.the_day import the_day
from findsdesk.ui.benches.day.state import day_state
from findsdesk.ui.dossier_words import facts_of
from findsdesk.ui.words_around import WordsAround
from tests.yard import SORTING, new_yard, put_container, sitting


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    opened = new_yard(tmp_path)
    yield opened
    opened.close()


@pytest.fixture
def read(desk: Desk) -> Desk:
    """Return a yard in which Oren read a bucket and Ilo read it after him."""
    put_container(desk, 131, steps=SORTING)
    read_container(sitting(desk, "Oren"), "131", main="II", line="floor fill", look_again="two Green Glaze")
    read_container(sitting(desk, "Ilo"), "131", main="III", confidence="open")
    return desk


def sections(desk: Desk, scanned: str) -> dict[str, str]:
    facts = facts_of(find(desk, scanned), WordsAround.of(desk))
    return {section.title: section.text for section in facts.sections}


def test_the_dossier_says_both_readings_and_how_they_agree(read: Desk) -> None:
    assert sections(read, "131")["Read as"].splitlines() == [
        "Harbour II, likely",
        "floor fill",
        "by Oren, 14 July",
        "look again: two Green Glaze",
        "Harbour III, open",
        "by Ilo, 14 July",
        "agreement: the years from earliest to latest do not meet",
    ]
    answer_looked(sitting(read, "Bryn"), "131", says="a root hole")
    assert "looked again by Bryn, 14 July: a root hole" in sections(read, "131")["Read as"]


def test_main_periods_that_only_touch_overlap_where_a_later_one_is_said(read: Desk) -> None:
    """Harbour II and III only touch; with the Refuge that is the latest of both, the years overlap."""
    add_period(read, code="REF", name="Refuge", earliest=700, latest=900)
    put_container(read, 132, steps=SORTING)
    read_container(sitting(read, "Oren"), "132", main="II", latest="REF")
    read_container(sitting(read, "Ilo"), "132", main="III", latest="REF")
    said = sections(read, "132")["Read as"].splitlines()
    assert [line for line in said if line.endswith(", likely")] == [
        "Harbour II (Refuge), likely",
        "Harbour III (Refuge), likely",
    ], "how sure is said of each"
    assert said[-1] == "agreement: another main period, the years from earliest to latest overlap"


def test_a_deposit_that_nobody_read_has_no_such_section(read: Desk) -> None:
    assert "Read as" not in sections(read, "2017")
    read_deposit(read, "2017", line="nothing datable")
    assert sections(read, "2017")["Read as"].startswith("no period, likely\nnothing datable")
    assert deposit_dossier(read, "2017").readings[0].who == "Ilo Marr"


def test_the_day_page_leads_to_what_is_to_be_looked_at(read: Desk) -> None:
    rows = day_state(the_day(read), WordsAround.of(read)).needs
    assert [(row.head, row.text, row.number, row.bench) for row in rows if "look again" in row.text] == [
        ("131", "look again, asks Oren: two Green Glaze", "131", "figures")
    ]
