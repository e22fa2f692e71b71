"""The register of printed labels: what came out, when, which copy and why; narrowed, sorted, searched."""

from datetime import timedelta
from pathlib import Path

from findsdesk.desk.desk import Desk
from findsdesk.desk.filter_words import filter_said
from findsdesk.desk.opening import open_store
from findsdesk.desk.printing import PrintKind, came_out_well, gather, lay_out, reprint
from findsdesk.desk.register_columns import fields_of, wording
from findsdesk.desk.registers import Register, RegisterQuery, count, page
from tests.desk.test_printing import bagged
from tests.yard import Clock, new_yard

SHEET = "a4-3x8-70x37"


def test_what_was_printed_last_stands_first_whatever_station_printed_it(tmp_path: Path) -> None:
    """The ids of a station's printings lie above all of the stations before it: they tell no time."""
    yard = new_yard(tmp_path, station="first")
    codes = bagged(yard, 131)
    evening = yard.now()
    yard.close()
    assert yard.store.path is not None
    second = open_store(yard.store.path, by="Tessa", station="second", clock=Clock(evening))
    came_out_well(second, lay_out(second, gather(second, PrintKind.BAG, codes[:1]), stock=SHEET))
    second.close()
    later = Clock(evening + timedelta(minutes=8))
    first = open_store(yard.store.path, by="Mika", station="first", clock=later)
    came_out_well(first, lay_out(first, gather(first, PrintKind.BAG, codes[1:]), stock=SHEET))
    assert [row.code for row in page(first, Register.PRINTS)] == [codes[1], codes[0]]
    assert [row.code for row in page(first, Register.PRINTS, RegisterQuery(sort="written"))] == list(codes)
    first.close()


def test_every_label_that_came_out_stands_there_the_newest_first(desk: Desk) -> None:
    codes = bagged(desk, 131)
    came_out_well(desk, lay_out(desk, gather(desk, PrintKind.BAG), stock=SHEET))
    came_out_well(desk, lay_out(desk, gather(desk, PrintKind.SLIP), stock="roll-57x32"))
    came_out_well(desk, reprint(desk, codes[:1], reason="lost", stock=SHEET))
    rows = page(desk, Register.PRINTS)
    assert [(row.code, row.kind, row.copy, row.reason) for row in rows[:1]] == [(codes[0], "bag labels", 2, "lost")]
    assert len(rows) == 5
    assert (rows[0].container, rows[0].stock, rows[0].page, rows[0].place) == ("131", SHEET, 1, 1)
    assert rows[0].person == desk.person.name
    for name, value, found in (
        ("print_kind", "slips", 2),
        ("again", "yes", 1),
        ("again", "no", 4),
        ("container", "131", 5),
        ("day", desk.now().astimezone(desk.facts.zone).date().isoformat(), 5),
        ("day", "2026-01-01", 0),
    ):
        assert count(desk, Register.PRINTS, RegisterQuery("", ((name, value),))) == found, (name, value)
    assert count(desk, Register.PRINTS, RegisterQuery(codes[1])) == 2
    assert count(desk, Register.PRINTS, RegisterQuery("roll")) == 2


def test_one_label_is_called_by_the_word_for_one(desk: Desk) -> None:
    codes = bagged(desk, 131)
    came_out_well(desk, lay_out(desk, gather(desk, PrintKind.SLIP, codes[:1]), stock=SHEET))
    (row,) = page(desk, Register.PRINTS)
    field = next(one for one in fields_of(Register.PRINTS) if one.key == "kind")
    assert field.value(row, wording(desk)) == "Slip inside a bag"
    said = filter_said(desk, Register.PRINTS, "Kind", "slip inside a bag")
    assert count(desk, Register.PRINTS, RegisterQuery(filters=(said,))) == 1
