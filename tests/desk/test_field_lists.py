"""Field lists through the desk: what goes in at once, what waits with a question, and the same list again."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from findsdesk.desk.checking_in import answer_difference, check_in, close_delivery, delivery
from findsdesk.desk.desk import Desk
from findsdesk.desk.field_lists import look_at_list, take_in_list
from findsdesk.desk.list_checks import Fate
from findsdesk.desk.listed_containers import list_container
from findsdesk.desk.rows_set_aside import answer_row, drop_row, rows_set_aside
from findsdesk.desk.tags import issue_tags
from findsdesk.desk.untagged import attribute, register_untagged
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.domain.routes import Standing
from tests.yard import put_container, put_deposit, standing_of

DAY = date(2026, 7, 14)
HEAD = "Bucket;Context;Square;Date;Supervisor;Material;Description\n"
GOOD = "131;2017;A1;14/07/26;Bryn;pottery;floor fill\n132;2017;A1;14/07/26;Bryn;bone;\n"


def write(folder: Path, text: str, name: str = "a1.csv") -> Path:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def test_clear_rows_go_in_and_doubtful_rows_wait(desk: Desk, tmp_path: Path) -> None:
    put_container(desk, "90", collected_on=date(2026, 7, 8))
    text = HEAD + GOOD + "133;ctx 2017 ;A1;14/07/26;Bryn;pottery;\n90;2017;A1;14/07/26;Bryn;pottery;\n"
    look = look_at_list(desk, write(tmp_path, text))
    assert len(look.with_fate(Fate.NEW)) == 2
    taken = take_in_list(desk, look)
    assert [tag.number for tag in taken.taken] == ["131", "132"]
    assert {row.number: [doubt.code for doubt in row.doubts] for row in taken.set_aside}["90"] == ["number_taken"]
    assert len(rows_set_aside(desk)) == 2
    assert standing_of(desk, taken.taken[0].code) is Standing.LISTED


def test_the_same_file_twice_adds_nothing(desk: Desk, tmp_path: Path) -> None:
    path = write(tmp_path, HEAD + GOOD)
    take_in_list(desk, look_at_list(desk, path))
    again = look_at_list(desk, path)
    assert again.taken_before is not None
    taken = take_in_list(desk, again)
    assert (taken.taken, taken.same, taken.set_aside) == ((), 2, ())


def test_a_corrected_file_shows_its_differences(desk: Desk, tmp_path: Path) -> None:
    put_deposit(desk, "2018", square="A1")
    take_in_list(desk, look_at_list(desk, write(tmp_path, HEAD + GOOD)))
    look = look_at_list(desk, write(tmp_path, HEAD + GOOD.replace("132;2017", "132;2018"), "a1 corrected.csv"))
    (changed,) = look.with_fate(Fate.ASIDE)
    assert changed.row.doubts[0].code == "differs"
    assert "2018" in changed.row.doubts[0].in_words(desk.terms)
    take_in_list(desk, look)
    (waiting,) = rows_set_aside(desk)
    answer_row(desk, waiting.id, answer="the second list is right")
    assert {row.number: row.deposit for row in delivery(desk, DAY).not_here} == {"131": "2017", "132": "2018"}


@pytest.mark.parametrize(
    ("row", "code"),
    [
        ("140;2999;A1;14/07/26;Bryn;pottery;\n", "unknown_deposit"),
        ("140;2017;B4;14/07/26;Bryn;pottery;\n", "other_square"),
        ("140;2017;A1;05/07/26;Bryn;pottery;\n", "outside_open_days"),
        ("140;2017;A1;14/07/26;Bryn;moonstuff;\n", "unknown_material"),
    ],
)
def test_each_doubt_of_the_store_is_asked_in_plain_words(desk: Desk, tmp_path: Path, row: str, code: str) -> None:
    look = look_at_list(desk, write(tmp_path, HEAD + GOOD + row))
    (aside,) = look.with_fate(Fate.ASIDE)
    assert code in [doubt.code for doubt in aside.row.doubts]
    assert all("{" not in doubt.in_words(desk.terms) for doubt in aside.row.doubts)


def test_a_row_is_answered_or_left_out_once(desk: Desk, tmp_path: Path) -> None:
    text = HEAD + "140;2999;A1;14/07/26;Bryn;pottery;\n141;2998;A1;14/07/26;Bryn;pottery;\n"
    take_in_list(desk, look_at_list(desk, write(tmp_path, text)))
    first, second = rows_set_aside(desk)
    with pytest.raises(Refusal, match="unknown_deposit"):
        answer_row(desk, first.id)
    assert answer_row(desk, first.id, deposit="2017", answer="Bryn says 2017").number == "140"
    drop_row(desk, second.id, reason="written twice")
    assert rows_set_aside(desk) == ()
    with pytest.raises(Refusal, match="answered_already"):
        answer_row(desk, first.id, deposit="2017")


def test_check_in_before_with_and_without_the_list(desk: Desk, tmp_path: Path) -> None:
    block = issue_tags(desk, how_many=3, supervisor="Bryn Hallo")
    before, on_list, without = (tag.code for tag in block.tags)
    check_in(desk, before, deposit="2017")
    text = HEAD + "".join(f"{n};2017;A1;14/07/26;Bryn;pottery;\n" for n in (1, 2))
    take_in_list(desk, look_at_list(desk, write(tmp_path, text)))
    assert check_in(desk, on_list).on_list
    assert not check_in(desk, without, deposit="2019").on_list
    day = delivery(desk, DAY)
    assert [row.number for row in day.arrived] == ["1", "2", "3"]
    assert [row.number for row in day.not_on_list] == ["3"]


def test_another_deposit_than_listed_is_checked_in_and_asked_about(desk: Desk) -> None:
    tag = list_container(desk, "50", deposit="2017", supervisor="Bryn Hallo")
    arrived = check_in(desk, tag.code, deposit="2019")
    assert (arrived.deposit, arrived.question) == ("2017", "2019")
    assert [row.number for row in delivery(desk, DAY).differing] == ["50"]
    answer_difference(desk, tag.code, deposit="2019", answer="Bryn: the tag is right")
    assert delivery(desk, DAY).differing == ()
    assert delivery(desk, DAY).arrived[0].deposit == "2019"


def test_what_was_listed_and_is_not_here_is_missing_until_it_comes(desk: Desk) -> None:
    tag = list_container(desk, "122", deposit="2017")
    assert close_delivery(desk, DAY) == ("122",)
    assert standing_of(desk, tag.code) is Standing.MISSING
    assert check_in(desk, tag.code).was_missing
    with pytest.raises(Question, match="already_here"):
        check_in(desk, tag.code)
    assert check_in(desk, tag.code, sure=True).more_of_it


def test_a_find_without_a_tag_gets_a_provisional_number_until_attributed(desk: Desk) -> None:
    lost = issue_tags(desk, how_many=1).tags[0]
    list_container(desk, lost.number, deposit="2017")
    find = register_untagged(desk, neighbours="between 3 and 4 on the pallet")
    assert find.number == "P1"
    attributed = attribute(desk, find.code, to=lost.number, reason="only 1 was missing")
    assert (attributed.code, attributed.number) == (find.code, lost.number)
    assert standing_of(desk, lost.code) is Standing.VOID


def test_a_number_in_use_is_refused_when_typed(desk: Desk) -> None:
    list_container(desk, "50", deposit="2017")
    with pytest.raises(Refusal, match="number_taken"):
        list_container(desk, "50", deposit="2017", collected_on=date(2026, 7, 13))
