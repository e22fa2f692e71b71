"""The register of marks: filtered, searched, sorted."""

import pytest

from findsdesk.desk.desk import Desk
from findsdesk.desk.marking import check_marks, slip_bag, write_marks
from findsdesk.desk.registers import Register, RegisterQuery, count, page
from tests.yard import advance, put_settled, sitting


@pytest.fixture
def marked(desk: Desk) -> Desk:
    """Return the desk with marks in two deposits, written on two days."""
    mika = sitting(desk, "Mika")
    put_settled(desk, 131)
    put_settled(desk, 140, deposit="2003", kept=8)
    write_marks(mika, "131", pieces=12, who="Lio")
    check_marks(mika, "131")
    advance(desk, days=1)
    slip_bag(mika, "140", pieces=2)
    return desk


@pytest.mark.parametrize(
    ("filters", "found"),
    [
        ((("tick", "slip"),), ["140"]),
        ((("deposit", "2017"),), ["131", "131"]),
        ((("square", "B2"),), ["140"]),
        ((("season", "2026"),), ["131", "131", "140"]),
        ((("person", "Lio"),), ["131"]),
        ((("from", "2026-07-15"),), ["140"]),
        ((("until", "2026-07-14"),), ["131", "131"]),
    ],
)
def test_marks_are_filtered(marked: Desk, filters: tuple[tuple[str, str], ...], found: list[str]) -> None:
    rows = page(marked, Register.MARKS, RegisterQuery(filters=filters))
    assert [row.container for row in rows] == found
    assert count(marked, Register.MARKS, RegisterQuery(filters=filters)) == len(found)


@pytest.mark.parametrize(("text", "found"), [("2003-140", 1), ("131", 2), ("too small", 1), ("nothing", 0)])
def test_marks_are_searched(marked: Desk, text: str, found: int) -> None:
    assert count(marked, Register.MARKS, RegisterQuery(text)) == found


def test_the_newest_tick_is_found_at_the_end_or_first(marked: Desk) -> None:
    rows = page(marked, Register.MARKS, RegisterQuery(sort="ticked", descending=True))
    assert (rows[0].kind, rows[0].pieces, rows[0].said) == ("slip", 2, "VE-26-014 / 2003-140")
