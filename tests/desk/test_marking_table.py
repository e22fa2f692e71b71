"""The marking table reads whole deposits: those with something open, as many as stand on one list, or one by itself."""

import pytest

from findsdesk.desk import marking_table
from findsdesk.desk.desk import Desk
from findsdesk.desk.mark_lines import mark_lines
from findsdesk.desk.marking import check_marks, write_marks
from findsdesk.desk.marking_table import marks_shown
from tests.desk.at_the_table import refused
from tests.yard import put_settled, sitting


@pytest.fixture
def mika(desk: Desk) -> Desk:
    """Return the registrar's desk with three buckets settled, two of one context."""
    for number, deposit in ((131, "2017"), (132, "2017"), (140, "2003")):
        put_settled(desk, number, deposit=deposit)
    return sitting(desk, "Mika")


def test_open_deposits_are_read_whole_and_done_ones_only_when_asked_for(mika: Desk) -> None:
    write_marks(mika, "140")
    check_marks(mika, "140", who="Lio")
    write_marks(mika, "131")
    shown = marks_shown(mika)
    assert ([one.number for one in shown.lines], shown.deposits) == (["131", "132"], ("2017",))
    assert (shown.containers, shown.of, shown.is_part, shown.anything_kept) == (2, 2, False, True)
    every = marks_shown(mika, done_too=True)
    assert every.lines == mark_lines(mika)
    assert every.deposits == ("2003", "2017")
    assert [one.number for one in marks_shown(mika, "2003").lines] == ["140"]


def test_no_more_is_read_than_stands_on_one_list(mika: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(marking_table, "MOST_SHOWN", 1)
    first = marks_shown(mika)
    assert ([one.number for one in first.lines], first.deposits) == (["140"], ("2003", "2017"))
    assert (first.containers, first.of, first.is_part) == (1, 3, True)
    one = marks_shown(mika, "2017")
    assert ([line.number for line in one.lines], one.is_part) == (["131", "132"], False)


def test_a_deposit_that_is_none_is_refused(mika: Desk) -> None:
    with refused(mika, "unknown_deposit"):
        marks_shown(mika, "9999")
    assert marks_shown(mika, "").lines == ()
