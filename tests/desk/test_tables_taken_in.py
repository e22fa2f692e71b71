"""Tables of deposits, wares, people and places: what goes in, what waits with which question, the same table again."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from findsdesk.desk.deposit_facts import deposit_facts
from findsdesk.desk.desk import Desk
from findsdesk.desk.lying import tree_of
from findsdesk.desk.proving import prove
from findsdesk.desk.setting_up import people, wares
from findsdesk.desk.store_places import add_place
from findsdesk.desk.table_looks import TableAsk, look_at_table, see_table
from findsdesk.desk.tables_taken import import_table, take_in_table, write_questions
from findsdesk.desk.tables_taken_back import take_back_table
from findsdesk.desk.type_series import forms
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.domain.settings import Role
from findsdesk.domain.shelving import PlaceKind
from findsdesk.domain.table_kinds import TableKind
from findsdesk.store.models import Deposit, FormerNumber
from tests.desk.tables_brought import fates, how_many, look, questions, said, take, write
from tests.yard import put_deposit, sitting

DEPOSITS = TableKind.DEPOSITS
HEAD = "SU;Sector;Type;Opened;Closed;Recorder;Remarks;Level;Same as\n"
GOOD = (
    "3001;a1;fill;06/07/2026;13/07/2026;Bryn;silt over stones;4,21;\n"
    "3002;B2;posthole;07/07/2026;;Ruan;;;\n"
    "3003;B2;fill;07/07/2026;;;;;3004\n"
    "3004;B2;fill;07/07/2026;;;;;2003\n"
)


def test_deposits_go_in_as_one_act_with_what_was_merged_into_what(desk: Desk, tmp_path: Path) -> None:
    oren = sitting(desk, "Oren")
    before = how_many(desk)
    assert take(oren, tmp_path, DEPOSITS, HEAD + GOOD, day_order="dmy").taken == 4
    assert how_many(desk) == before + 1
    one = deposit_facts(desk, "3001")
    assert (one.square, one.kind, one.opened, one.closed) == ("A1", "fill", date(2026, 7, 6), date(2026, 7, 13))
    assert (one.supervisor, one.description, one.opening_mm) == ("Bryn Hallo", "silt over stones", 4210)
    assert deposit_facts(desk, "3002").supervisor == "Ruan"
    assert {deposit_facts(desk, number).number for number in ("3003", "3004")} == {"2003"}, "both lead to the last one"
    assert prove(desk).sound


def test_soil_that_was_dug_comes_with_the_deposits(desk: Desk, tmp_path: Path) -> None:
    oren = sitting(desk, "Oren")
    head = "Context;Square;Opened;Soil dug\n"
    good = "3001;A1;2026-07-06;40 x 12\n3002;B2;2026-07-07;\n"
    assert take(oren, tmp_path, DEPOSITS, head + good).taken == 2
    assert [deposit_facts(desk, number).soil for number in ("3001", "3002")] == ["40 × 12 l", ""]
    assert fates(look(oren, tmp_path, DEPOSITS, head + good)) == ["same", "same"]
    seen = look(oren, tmp_path, DEPOSITS, head + "3005;A1;2026-07-06;a lot\n")
    assert questions(seen) == {2: ["no_soil"]}
    assert take_in_table(oren, seen).waiting == 1


def test_the_same_table_twice_adds_nothing_and_writes_nothing(desk: Desk, tmp_path: Path) -> None:
    oren = sitting(desk, "Oren")
    take(oren, tmp_path, DEPOSITS, HEAD + GOOD, day_order="dmy")
    before = how_many(desk), how_many(desk, Deposit), how_many(desk, FormerNumber)
    again = look(oren, tmp_path, DEPOSITS, HEAD + GOOD)
    assert again.taken_before is not None
    assert again.read.day_order == "dmy", "the answer of the last time is remembered with the columns"
    taken = take_in_table(oren, again)
    assert (taken.taken, taken.same, taken.waiting) == (0, 4, 0)
    assert (how_many(desk), how_many(desk, Deposit), how_many(desk, FormerNumber)) == before


ASKED = {
    "3001;Z9;;2026-07-06;;;;;": ["unknown_square"],
    "3001;A1;;2026-07-06;;;;;3001": ["circle"],
    "3001;A1;;2026-07-06;;;;;9999": ["unknown_into"],
    "3001;A1;;2026-07-06;2026-07-05;;;;": ["closed_first"],
    "3001;A1;;2026-08-06;;;;;": ["date_in_future"],
    "3001;A1;;soon;;;;;": ["cell_unreadable"],
    ";A1;;2026-07-06;;;;;": ["number_missing"],
    "3001;;;2026-07-06;;;;;": ["square_missing"],
    "3001;A1;;2026-07-06;;;;high;": ["cell_unreadable"],
    "2003;A1;;2026-07-06;;;;;": ["differs"],
    "Jan-12;A1;;2026-07-06;;;;;": ["changed_by_spreadsheet"],
    "3OO1;A1;;2026-07-06;;;;;": ["letter_like_digit"],
}


def test_each_question_names_its_row_and_nothing_is_written(desk: Desk, tmp_path: Path) -> None:
    before = desk.head()
    for row, codes in ASKED.items():
        seen = look(desk, tmp_path, DEPOSITS, f"{HEAD}{row}\n")
        assert questions(seen) == {2: codes}, row
        assert take_in_table(desk, seen).waiting == 1
    assert desk.head() == before
    seen = look(desk, tmp_path, DEPOSITS, HEAD + "3001;A7;;2026-07-06;;;;;\n")
    assert said(seen, 2) == "square: There is no square A7. Near it: A4, A3, A2. Choose one, or add it in Set-up."


def test_a_letter_like_a_digit_is_asked_about_until_it_is_here(desk: Desk, tmp_path: Path) -> None:
    text = "Context;Square;Opened\n3001;A1;2026-07-06\n30O2;A1;2026-07-06\n"
    seen = look(desk, tmp_path, DEPOSITS, text)
    assert questions(seen) == {3: ["letter_like_digit"]}
    assert "Is 3002 meant?" in said(seen, 3)
    put_deposit(desk, "30O2", square="A1", opened=date(2026, 7, 6))
    assert fates(look(desk, tmp_path, DEPOSITS, text)) == ["new", "same"]


def test_the_preview_shows_days_as_they_are_read(desk: Desk, tmp_path: Path) -> None:
    text = "Context;Square;Opened;Closed\n3001;A1;07/08/2025;soon\n3002;A1;2026-07-06;\n"
    with pytest.raises(Question):
        look(desk, tmp_path, DEPOSITS, text)
    seen = look(desk, tmp_path, DEPOSITS, text, day_order="dmy")
    rows = list(seen.rows([0, 1]))
    assert [(row.cells["opened"], row.cells["closed"]) for row in rows] == [("2025-08-07", "soon"), ("2026-07-06", "")]


def test_a_circle_waits_with_all_that_leads_into_it(desk: Desk, tmp_path: Path) -> None:
    rows = "3001;A1;2026-07-06;3002\n3002;A1;2026-07-06;3003\n3003;A1;2026-07-06;3001\n"
    rows += "3004;A1;2026-07-06;3001\n3005;A1;2026-07-06;\n3005;A1;2026-07-06;\n3005;A2;2026-07-06;\n"
    seen = look(desk, tmp_path, DEPOSITS, "Context;Square;Opened;Merged into\n" + rows)
    assert questions(seen) == {
        2: ["circle"], 3: ["circle"], 4: ["circle"], 5: ["waits_along"], 8: ["stands_twice"],
    }  # fmt: skip
    assert "3001 › 3002 › 3003 › 3001" in said(seen, 2)
    assert fates(seen)[4:6] == ["new", "same"], "a row said twice goes in once"


def test_who_merges_is_named(desk: Desk, tmp_path: Path) -> None:
    nobody = desk.by(type(desk.person)(None, "Ilo Marr", None))
    seen = look(nobody, tmp_path, DEPOSITS, HEAD + GOOD, day_order="dmy")
    before = desk.head()
    with pytest.raises(Refusal) as refused:
        take_in_table(nobody, seen)
    assert (refused.value.code, desk.head()) == ("person_needed", before)


def test_headers_are_matched_remembered_and_changed_by_hand(desk: Desk, tmp_path: Path) -> None:
    text = "Nr;Feld;Tag;Gruppe\n3001;A1;2026-07-06;x\n"
    path = write(tmp_path, text)
    with pytest.raises(Refusal) as refused:
        look_at_table(desk, path, of=DEPOSITS)
    assert (refused.value.code, refused.value.facts["columns"]) == ("missing_columns", ("square", "opened"))
    by_hand = {"Feld": "square", "Tag": "opened"}
    assert import_table(desk, path, DEPOSITS, columns=by_hand).taken == 1
    seen = see_table(desk, TableAsk(path, DEPOSITS))
    assert (dict(seen.match.mapping), seen.match.unused) == ({"number": 0, "square": 1, "opened": 2}, ("Gruppe",))
    with pytest.raises(Refusal) as refused:
        look_at_table(desk, path, of=DEPOSITS, columns={"Feldd": "square"})
    assert refused.value.code == "no_such_header"
    given = look(desk, tmp_path, DEPOSITS, "Context;Square\n3009;A1\n", given={"opened": "2026-07-06"})
    assert fates(given) == ["new"]


def test_what_was_written_meanwhile_is_heard(desk: Desk, tmp_path: Path) -> None:
    seen = look(desk, tmp_path, DEPOSITS, "Context;Square;Opened\n3001;A1;2026-07-06\n3002;A1;2026-07-06\n")
    take(desk, tmp_path, DEPOSITS, "Context;Square;Opened\n3001;A2;2026-07-06\n")
    taken = take_in_table(desk, seen)
    assert (taken.taken, taken.waiting) == (1, 1)


def test_questions_are_written_out_corrected_and_brought_again(desk: Desk, tmp_path: Path) -> None:
    text = 'Context;Square;Opened;Notes\n3001;A1;2026-07-06;silt\n3002;Z9;2026-07-06;"two\nlines"\n'
    seen = look(desk, tmp_path, DEPOSITS, text)
    assert take_in_table(desk, seen).taken == 1
    out = tmp_path / "questions.csv"
    assert write_questions(seen, out) == 1
    listed = out.read_text("utf-8-sig")
    assert listed.splitlines()[0] == "Context,Square,Opened,Notes,Question"
    assert "square: There is no square Z9." in listed
    out.write_text(listed.replace("Z9,", "B2,", 1), encoding="utf-8")
    again = look_at_table(desk, out, of=DEPOSITS)
    assert (fates(again), again.match.unused) == (["new"], ("Question",))
    assert take_in_table(desk, again).taken == 1
    assert deposit_facts(desk, "3002").description == "two lines"
    with pytest.raises(Refusal) as refused:
        write_questions(again, tmp_path / "none.csv")
    assert refused.value.code == "nothing_waits"


def test_wares_and_forms_of_one_table(desk: Desk, tmp_path: Path) -> None:
    head = "Code;Name;Kind;Ware;From;To;Source\n"
    rows = "lw1;Jar 1;form;lwz;100;200;p. 4\nlwz;Long Ware;;;50 BCE;300 CE;\nqrs;Quay Red Slip;;;180;320;\n"
    odd = "xx1;;form;nix;;;\nxx2;;thing;;;;\nxx3;;;;300;200;\nxx4;;;;0;;\nlw1;Jar 2;form;lwz;100;200;p. 4\n"
    seen = look(desk, tmp_path, TableKind.WARES, head + rows + odd)
    assert fates(seen)[:3] == ["new", "new", "same"]
    assert questions(seen) == {
        5: ["unknown_ware"], 6: ["neither_ware_nor_form"], 7: ["years_reversed"], 8: ["year_zero"], 9: ["stands_twice"],
    }  # fmt: skip
    assert take_in_table(desk, seen).taken == 2
    assert next((one.earliest, one.latest) for one in wares(desk) if one.code == "LWZ") == (-49, 300)
    assert next((one.ware, one.source) for one in forms(desk) if one.code == "LW1") == ("LWZ", "p. 4")
    assert fates(look(desk, tmp_path, TableKind.WARES, head + rows)) == ["same", "same", "same"]
    assert prove(desk).sound


def test_people_join_the_team_in_their_roles(desk: Desk, tmp_path: Path) -> None:
    rows = "Name;Role;Active\nRuan;volunteer;\nWen Aro;Wash Lead;no\nlio;volunteer;\nOren Vade;registrar;\nZed;cook;\n"
    seen = look(desk, tmp_path, TableKind.PEOPLE, rows)
    assert questions(seen) == {5: ["differs"], 6: ["unknown_role"]}
    taken = take_in_table(desk, seen)
    assert (taken.taken, taken.same, taken.waiting) == (2, 1, 2)
    assert [(one.name, one.role, one.active) for one in people(desk)[-2:]] == [
        ("Ruan", Role.VOLUNTEER, True), ("Wen Aro", Role.WASH_LEAD, False),
    ]  # fmt: skip


def test_whoever_a_table_named_stays_in_the_team_whatever_its_file_is_called(desk: Desk, tmp_path: Path) -> None:
    path = write(tmp_path, HEAD + "3002;B2;posthole;07/07/2026;;Ruan;;;\n", "contexts, people: 3.csv")
    assert import_table(desk, path, DEPOSITS, day_order="dmy").taken == 1
    take_back_table(desk, path.name, sure=True)
    assert "Ruan" in {one.name for one in people(desk)}
    assert import_table(desk, write(tmp_path, "Name;Role\nTamsin Ode;volunteer\n"), TableKind.PEOPLE).taken == 1
    take_back_table(desk, sure=True)
    assert "Tamsin Ode" not in {one.name for one in people(desk)}


def test_places_lie_within_one_another_and_never_within_themselves(desk: Desk, tmp_path: Path) -> None:
    add_place(desk, name="Old Mill", kind=PlaceKind.BUILDING)
    head = "Place;Kind;In;Boxes\n"
    good = "Shelf 1;shelf;Room 7;12\nRoom 7;room;Old Mill;\n"
    odd = "Nook;room;Nook;\nX;room;Y;\nY;room;X;\nZ;room;Shelf 1;\nV;room;Nowhere;\n"
    odd += "W;hut;;\nA/B;room;;\nOld Mill;room;;\n"
    seen = look(desk, tmp_path, TableKind.PLACES, head + good + odd)
    assert questions(seen) == {
        4: ["circle"], 5: ["circle"], 6: ["circle"], 7: ["place_within"], 8: ["unknown_within"], 9: ["unknown_kind"],
        10: ["slash_in_name"], 11: ["differs"],
    }  # fmt: skip
    assert take_in_table(desk, seen).taken == 2
    with desk.reading() as reading:
        tree = tree_of(reading.session)
    assert [tree.path(one) for one in tree.places][-1] == "Old Mill › Room 7 › Shelf 1"
    assert [one.holds_boxes for one in tree.places.values()] == [None, None, 12]
    assert fates(look(desk, tmp_path, TableKind.PLACES, head + good)) == ["same", "same"]
    assert prove(desk).sound


def test_files_that_are_no_tables_are_refused_and_nothing_is_lost(desk: Desk, tmp_path: Path) -> None:
    before = desk.head()
    tried = {
        "empty.csv": (b"", "file_empty"),
        "blank.csv": (b"\n  \n\n", "table_blank"),
        "heads.csv": (b"Context;Square;Opened\n", "list_empty"),
        "latin.csv": ("Context;Square;Opened;Notes\n1;A1;2026-07-06;é\n".encode("latin-1"), "encoding_unsure"),
        "broken.xlsx": (b"PK\x03\x04 and no more", "file_damaged"),
        "wide.csv": (b"Context;Square;Opened" + b";x" * 1_000_001 + b"\n1;A1;2026-07-06\n", "table_too_large"),
        "dates.csv": (b"Context;Square;Opened\n1;A1;07/08/2026\n2;A1;08/07/2026\n", "day_order_unsure"),
    }
    for name, (content, code) in tried.items():
        path = tmp_path / name
        path.write_bytes(content)
        with pytest.raises(Refusal) as refused:
            import_table(desk, path, DEPOSITS)
        assert refused.value.code == code, name
        assert isinstance(refused.value, Question) == code.endswith("unsure")
    assert desk.head() == before
