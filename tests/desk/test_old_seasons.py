"""An old season from a table: containers with their groups, boxes, places and marks, whole or not at all."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from sqlalchemy import select

from findsdesk.desk.bagging import bag
from findsdesk.desk.desk import Desk
from findsdesk.desk.finding import container_of
from findsdesk.desk.ledgers import ledger_of
from findsdesk.desk.proving import prove
from findsdesk.desk.setting_up import people
from findsdesk.desk.sorting import add_group, begin_sorting, reopen, settle
from findsdesk.desk.store_places import add_place
from findsdesk.desk.table_looks import look_at_table
from findsdesk.desk.tables_taken import import_table, take_in_table, write_questions
from findsdesk.desk.tables_taken_back import last_table, take_back_table
from findsdesk.desk.tags import issue_tags
from findsdesk.domain.balance import Ledger
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.domain.settings import NumberScope
from findsdesk.domain.shelving import PlaceKind
from findsdesk.domain.standings import Standing
from findsdesk.domain.table_kinds import TableKind
from findsdesk.store.models import Bag, Box, Container, Deposit, Lay, MarkEntry, SherdGroup, Step, TakenList, WareTotal
from tests.desk.tables_brought import fates, how_many, look, questions, said, take
from tests.yard import earlier_season, put_deposit

SEASON = TableKind.SEASON
HEAD = "Bucket;Context;Square;Date;Ware;Part;Pieces;Grams;Box;Place;Old mark;Material;Notes\n"
GOOD = (
    "1;1001;A1;2024-07-02;QRS;rim;3;45,5;24-01;Room 7/Shelf 1;TQ24 1001.1;;\n"
    "1;1001;;2024-07-02;QRS;body;12;340;24-01;;TQ24 1001.1;;thick\n"
    "1;;;;MBU;base;1;;24-02;;;;\n"
    "2;1002;A2;2024-07-03;;;40;812,4;24-02;;;;\n"
    "3;1002;A2;2024-07-03;;;;;;;;;\n"
    "4;1002;A2;2024-07-03;;;7;;24-03;;;bone;\n"
)


@pytest.fixture
def quay(desk: Desk) -> Desk:
    """Return a desk with the season of 2024, two contexts of it, and a shelf."""
    earlier_season(desk)
    for number, square in (("1001", "A1"), ("1002", "A2")):
        put_deposit(desk, number, square=square, opened=date(2024, 7, 1), closed=date(2024, 8, 1))
    add_place(desk, name="Room 7", kind=PlaceKind.ROOM)
    add_place(desk, name="Shelf 1", kind=PlaceKind.SHELF, within="Room 7")
    return desk


def container(desk: Desk, which: str) -> Container:
    with desk.reading() as reading:
        return container_of(reading.session, desk, which)


def test_the_season_goes_in_with_all_that_its_table_says(quay: Desk, tmp_path: Path) -> None:
    before = how_many(quay)
    taken = take(quay, tmp_path, SEASON, HEAD + GOOD.replace("1;;;;", "1;1001;;;"), season="2024")
    assert (taken.taken, taken.waiting, how_many(quay)) == (6, 0, before + 1)
    standings = {number: container(quay, f"2024/{number}").standing for number in "1234"}
    assert standings == {"1": Standing.BAGGED, "2": Standing.DRY, "3": Standing.ARRIVED, "4": Standing.BAGGED}
    one = container(quay, "TQ24 1001.1")
    assert (one.number, one.collected_on, one.on_list) == ("1", date(2024, 7, 2), True)
    with quay.reading() as reading:
        session = reading.session
        assert ledger_of(session, one.id, "pottery") == Ledger(counted=16, kept=16)
        groups = session.execute(select(SherdGroup).order_by(SherdGroup.ordinal)).scalars().all()
        assert [(row.part, row.pieces, row.tenths, row.diagnostic, row.note) for row in groups] == [
            ("rim", 3, 455, True, ""), ("body", 12, 3400, False, "thick"), ("base", 1, None, True, ""),
        ]  # fmt: skip
        boxes = {row.id: row for row in session.execute(select(Box)).scalars()}
        assert [(row.number, row.kind, row.note) for row in boxes.values()] == [
            (1, "sherds", "2024: 24-01"), (2, "sherds", "2024: 24-02"), (3, "bone", "2024: 24-03"),
        ]  # fmt: skip
        assert [row.place_id is not None for row in boxes.values()] == [True, False, False]
        bags = session.execute(select(Bag).order_by(Bag.id)).scalars().all()
        assert [(row.what, row.pieces, row.tenths, boxes[row.box_id or 0].number) for row in bags] == [
            ("diagnostic", 3, 455, 1), ("body", 12, 3400, 1), ("diagnostic", 1, None, 2), ("all", 40, None, 2),
            ("all", 7, None, 3),
        ]  # fmt: skip
        marks = session.execute(select(MarkEntry.said, MarkEntry.pieces)).all()
        assert [tuple(row) for row in marks] == [("TQ24 1001.1", 15)]
        assert session.execute(select(WareTotal.pieces).order_by(WareTotal.pieces)).scalars().all() == [1, 15]
        assert len(session.execute(select(Lay)).all()) == 6
    assert prove(quay).sound
    reopen(quay, "2024/1", reason="a study season")
    assert prove(quay).sound
    begin_sorting(quay, "2024/2")
    add_group(quay, "2024/2", ware="QRS", part="body", pieces=40, tenths=8124)
    settle(quay, "2024/2", sure=True)
    assert [(one.what, one.pieces) for one in bag(quay, "2024/2")] == [("body", 40)]
    assert prove(quay).sound, "its unsorted bag is empty and lies in no box any more"
    assert issue_tags(quay, how_many=1).tags[0].number == "1", "numbers of this season go on by themselves"


def test_the_same_season_twice_adds_nothing(quay: Desk, tmp_path: Path) -> None:
    text = HEAD + GOOD.replace("1;;;;", "1;1001;;;")
    take(quay, tmp_path, SEASON, text, season="2024")
    before = quay.head()
    again = look(quay, tmp_path, SEASON, text, season="2024")
    assert fates(again) == ["same"] * 6
    assert take_in_table(quay, again).same == 6
    changed = look(quay, tmp_path, SEASON, text.replace(";12;340;", ";13;340;"), season="2024")
    assert questions(changed)[2] == ["number_taken"]
    assert fates(changed)[3:] == ["same"] * 3
    assert quay.head() == before
    more = "5;1001;;2024-07-02;QRS;rim;2;;24-01;;;;\n"
    assert take(quay, tmp_path, SEASON, HEAD + more, season="2024").taken == 1
    assert how_many(quay, Box) == 3, "the box is found again by the name it had"


def test_a_season_taken_back_leaves_nothing_but_given_numbers(quay: Desk, tmp_path: Path) -> None:
    text = HEAD + GOOD.replace("1;;;;", "1;1001;;;")
    kinds = (Container, SherdGroup, Bag, Box, Lay, MarkEntry, Step, TakenList)
    before = {kind: how_many(quay, kind) for kind in kinds}
    take(quay, tmp_path, SEASON, text, season="2024")
    here = last_table(quay)
    assert here is not None
    assert (here.file_name, here.rows) == ("table.csv", 6)
    with pytest.raises(Question) as asked:
        take_back_table(quay)
    assert asked.value.code == "rows_go_out"
    take_back_table(quay, "table.csv", sure=True)
    assert {kind: how_many(quay, kind) for kind in kinds} == before
    assert prove(quay).sound
    assert last_table(quay) is None
    with pytest.raises(Refusal) as refused:
        take_back_table(quay, sure=True)
    assert refused.value.code == "no_table"
    assert take(quay, tmp_path, SEASON, text, season="2024").taken == 6
    code = container(quay, "2024/1").code
    reopen(quay, code, reason="a study season")
    head = quay.head()
    with pytest.raises(Refusal) as refused:
        take_back_table(quay, sure=True)
    assert (refused.value.code, quay.head()) == ("changed_since", head)
    assert prove(quay).sound


def test_what_is_in_use_since_is_not_taken_back(desk: Desk, tmp_path: Path) -> None:
    contexts = tmp_path / "contexts.csv"
    contexts.write_text("Context;Square;Opened;Recorder\n3001;A1;2026-07-06;Wen\n3002;A1;2026-07-06;\n", "utf-8")
    import_table(desk, contexts, TableKind.DEPOSITS)
    take(desk, tmp_path, TableKind.CONTAINERS, "Bucket;Context;Date;Material\n7;3001;2026-07-13;pottery\n")
    head = desk.head()
    with pytest.raises(Refusal) as refused:
        take_back_table(desk, "contexts.csv", sure=True)
    assert (refused.value.code, desk.head()) == ("used_since", head)
    take_back_table(desk, "table.csv", sure=True)
    take_back_table(desk, "contexts.csv", sure=True)
    assert how_many(desk, Deposit) == 3
    assert people(desk)[-1].name == "Wen", "who was named by the way stays in the team"
    assert prove(desk).sound


ASKED = {
    "1;9999;;;QRS;rim;3;;;;;;": ["unknown_deposit"],
    "1;2017;;;QRS;rim;3;;;;;;": ["not_open_in_season"],
    "1;1001;A2;;QRS;rim;3;;;;;;": ["other_square"],
    "1;1001;;2024-07-30;NIX;rim;3;;;;;;": ["unknown_ware"],
    "1;1001;;;QRS;wing;3;;;;;;": ["unknown_part"],
    "1;1001;;;QRS;rim;;;;;;;": ["pieces_missing"],
    "1;1001;;;QRS;;3;;;;;;": ["part_missing"],
    "1;1001;;;QRS;rim;3;a lot;;;;;": ["cell_unreadable"],
    "1;1001;;2026-07-02;QRS;rim;3;;;;;;": ["date_outside_season"],
    "1;1001;;2024-08-05;QRS;rim;3;;;;;;": ["outside_open_days"],
    "1;1001;;;;;;;24-01;;;;": ["pieces_missing"],
    "1;1001;;;QRS;rim;3;;;Nowhere;;;": ["unknown_place"],
    "1;1001;;;;;;;;Shelf 1;;;": ["pieces_missing"],
    "1O1;1001;;;QRS;rim;3;;;;;;": ["letter_like_digit"],
    "1;1001;;;QRS;rim;3;;;;;bone;": ["not_sorted_here"],
    "1;1001;;;QRS;rim;3;;;;;cheese;": ["unknown_material"],
}


def test_each_question_names_its_row(quay: Desk, tmp_path: Path) -> None:
    before = quay.head()
    for row, codes in ASKED.items():
        seen = look(quay, tmp_path, SEASON, f"{HEAD}{row}\n", season="2024")
        assert questions(seen) == {2: codes}, row
        assert take_in_table(quay, seen).waiting == 1
    assert quay.head() == before


def test_questions_say_the_way_on(quay: Desk, tmp_path: Path) -> None:
    rows = "1;1001;;;;;;;;Shelf 1;;;\n2;1001;;;QRS;rim;3;;;Shelf 9;;;\n3;1001;;;;;;;;;;;\n"
    seen = look(quay, tmp_path, SEASON, HEAD + rows, season="2024")
    assert "leave its box and place empty: it has arrived then" in said(seen, 2)
    assert "Choose one, or add it on the Shelves bench, under Places." in said(seen, 3)
    assert fates(seen) == ["aside", "aside", "new"]


def test_grams_in_two_decimal_signs_are_never_ten_times_as_heavy(quay: Desk, tmp_path: Path) -> None:
    text = HEAD + "1;1001;;;QRS;rim;3;55.2;;;;;\n1;1001;;;QRS;body;3;88,5;;;;;\n"
    asked = look(quay, tmp_path, SEASON, text, season="2024", decimal=".")
    assert questions(asked) == {2: ["waits_along"], 3: ["other_decimal_sign"]}
    assert take(quay, tmp_path, SEASON, text, season="2024").taken == 2
    with quay.reading() as reading:
        assert reading.session.execute(select(SherdGroup.tenths).order_by(SherdGroup.ordinal)).scalars().all() == [
            552,
            885,
        ]


def test_a_container_waits_whole_and_comes_back_corrected(quay: Desk, tmp_path: Path) -> None:
    rows = "1;1001;;;QRS;rim;3;;;;;;\n1;1001;;;NIX;body;4;;;;;;\n2;1001;;;QRS;rim;2;;;;;;\n"
    seen = look(quay, tmp_path, SEASON, HEAD + rows, season="2024")
    assert questions(seen) == {2: ["waits_along"], 3: ["unknown_ware"]}
    assert said(seen, 2) == "bucket number: It is of the same bucket as line 3, and waits with it."
    assert take_in_table(quay, seen).taken == 1
    out = tmp_path / "questions.csv"
    write_questions(seen, out)
    out.write_text(out.read_text("utf-8-sig").replace("NIX", "MBU", 1), encoding="utf-8")
    again = look_at_table(quay, out, of=SEASON, season="2024")
    assert take_in_table(quay, again).taken == 2
    assert prove(quay).sound


def test_rows_of_one_container_that_do_not_agree_are_asked_about(quay: Desk, tmp_path: Path) -> None:
    rows = "1;1001;;2024-07-02;QRS;rim;3;;B1;Shelf 1;;;\n1;1002;;2024-07-02;QRS;body;3;;B1;Room 7;;;\n"
    rows += "2;1001;;2024-07-02;;;3;;B1;;;bone;\n"
    seen = look(quay, tmp_path, SEASON, HEAD + rows, season="2024")
    asked = questions(seen)
    assert asked[3] == ["rows_differ", "box_at_two_places"]
    assert asked[4] == ["never_together"]


def test_what_was_counted_and_lies_in_no_row_waits_on_the_table(quay: Desk, tmp_path: Path) -> None:
    head = "Bucket;Context;Total;Ware;Part;Pieces;Box\n"
    rows = "1;1001;10;QRS;rim;3;B1\n2;1001;2;QRS;rim;3;B1\n"
    seen = look(quay, tmp_path, SEASON, head + rows, season="2024")
    assert questions(seen) == {3: ["more_than_counted"]}
    assert take_in_table(quay, seen).taken == 1
    one = container(quay, "2024/1")
    assert one.standing == Standing.SORTING
    with quay.reading() as reading:
        assert ledger_of(reading.session, one.id, "pottery").unsorted == 7
    assert prove(quay).sound


def test_an_old_season_is_named_and_opened_first(quay: Desk, tmp_path: Path) -> None:
    for name, code in ((None, "season_needed"), ("2021", "unknown_season")):
        with pytest.raises(Refusal) as refused:
            look(quay, tmp_path, SEASON, HEAD + GOOD, season=name)
        assert refused.value.code == code
    with pytest.raises(Refusal) as refused:
        look(quay, tmp_path, SEASON, "Bucket;Context;Ware\n1;1001;QRS\n", season="2024")
    assert refused.value.facts["columns"] == ("part", "pieces")


def test_numbers_within_squares(desk: Desk, tmp_path: Path) -> None:
    earlier_season(desk, scope=NumberScope.SQUARE)
    put_deposit(desk, "1001", square="A1", opened=date(2024, 7, 1))
    put_deposit(desk, "1002", square="A2", opened=date(2024, 7, 1))
    text = "Bucket;Context;Ware;Part;Pieces\n1;1001;QRS;rim;3\n1;1002;QRS;rim;3\n"
    assert take(desk, tmp_path, SEASON, text, season="2024").taken == 2
    assert how_many(desk, Container) == 2
    assert prove(desk).sound


def test_containers_without_finds_are_expected_like_those_of_a_field_list(desk: Desk, tmp_path: Path) -> None:
    text = "Bucket;Context;Date;Material;Supervisor\n7;2017;2026-07-13;pottery;Wen\n8;2017;2026-07-20;pottery;\n"
    text += "9;2017;2026-07-13;;\n"
    seen = look(desk, tmp_path, TableKind.CONTAINERS, text)
    assert questions(seen) == {4: ["material_missing"]}
    assert take_in_table(desk, seen).taken == 2
    assert container(desk, "7").standing == Standing.LISTED
    assert fates(look(desk, tmp_path, TableKind.CONTAINERS, text)) == ["same", "same", "aside"]
    assert prove(desk).sound
