"""Facts that come late: deposit, day and material said after a container was counted, sorted, bagged and labelled."""

from datetime import date
from pathlib import Path

import pytest

from findsdesk.desk.changing_set_up import change_season
from findsdesk.desk.checking_in import answer_difference, check_in
from findsdesk.desk.counting import log_count
from findsdesk.desk.desk import Desk
from findsdesk.desk.dossiers import Dossier, find
from findsdesk.desk.field_lists import look_at_list, take_in_list
from findsdesk.desk.listed_containers import list_container
from findsdesk.desk.proving import prove
from findsdesk.desk.redoing import Written, things_to_redo
from findsdesk.desk.renumbering import renumber_deposit, split_deposit
from findsdesk.desk.rows_set_aside import answer_row, rows_set_aside
from findsdesk.desk.sorting import add_group, begin_sorting, settle
from findsdesk.desk.tags import issue_tags, return_unused, void_tag
from findsdesk.desk.untagged import attribute, register_untagged
from findsdesk.desk.washing import mark_dry
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.domain.settings import NumberScope
from findsdesk.domain.standings import Standing, StepKind
from tests.yard import LOOKED_AT, put_container, put_deposit, put_settled, standing_of

HEAD = "Bucket;Context;Square;Date;Supervisor;Material;Description\n"


def in_hand(desk: Desk, tag: str) -> Dossier:
    found = find(desk, tag)
    assert isinstance(found, Dossier)
    return found


def look(desk: Desk, folder: Path, rows: str) -> list[str]:
    path = folder / f"{len(list(folder.iterdir()))}.csv"
    path.write_text(HEAD + rows, encoding="utf-8")
    return [tag.number for tag in take_in_list(desk, look_at_list(desk, path)).taken]


def sort_untagged(desk: Desk, pieces: int = 7) -> str:
    """Take a find without a tag through the yard to settled."""
    code = register_untagged(desk).code
    log_count(desk, code, pieces=pieces)
    mark_dry(desk, [code])
    begin_sorting(desk, code, sure=True)
    add_group(desk, code, ware="QRS", part="rim", pieces=pieces)
    settle(desk, code)
    return code


def test_a_difference_answered_after_sorting_takes_the_totals_and_papers_along(desk: Desk) -> None:
    code = put_settled(desk, 131, deposit="2017", kept=22, marked=True)
    check_in(desk, code, deposit="2019", sure=True)
    answer_difference(desk, code, deposit="2019", answer="the tag is right")
    assert prove(desk).findings == ()
    assert [(thing.what, thing.says_now) for thing in things_to_redo(desk)] == [(Written.MARK, "VE-26-014 / 2019-131")]


def test_a_tag_that_erred_is_written_again(desk: Desk) -> None:
    code = put_container(desk, 131, deposit="2017")
    check_in(desk, code, deposit="2019", sure=True)
    answer_difference(desk, code, deposit="2017", answer="the list is right")
    (tag,) = things_to_redo(desk)
    assert (tag.what, tag.said.split(" · ")[0], tag.says_now.split(" · ")[0]) == (Written.TAG, "2019", "2017")


def test_a_deposit_first_said_when_more_comes_takes_the_totals_along(desk: Desk) -> None:
    code = put_settled(desk, 131, deposit="2017")
    put_deposit(desk, "2020", square="A3")
    other = sort_untagged(desk)
    check_in(desk, other, deposit="2020", sure=True)
    assert in_hand(desk, other).deposit == "2020"
    assert in_hand(desk, code).deposit == "2017"
    assert prove(desk).findings == ()


def test_a_find_attributed_after_sorting_takes_the_totals_and_papers_along(desk: Desk) -> None:
    issue_tags(desk, how_many=1)
    list_container(desk, "1", deposit="2019", collected_on=date(2026, 7, 13))
    code = sort_untagged(desk)
    attribute(desk, code, to="1", reason="Bryn knows it")
    assert in_hand(desk, code).deposit == "2019"
    assert prove(desk).findings == ()
    assert Written.TAG in {thing.what for thing in things_to_redo(desk)}


def test_a_list_that_comes_after_sorting_takes_the_totals_along(desk: Desk, tmp_path: Path) -> None:
    code = put_settled(desk, 131, deposit="2017")
    assert look(desk, tmp_path, "131;2019;A2;13/07/26;Bryn;pottery;\n") == []
    (waiting,) = rows_set_aside(desk)
    answer_row(desk, waiting.id, answer="the list is right")
    assert in_hand(desk, code).deposit == "2019"
    assert prove(desk).findings == ()


def test_a_list_that_says_another_material_takes_the_counted_pieces_along(desk: Desk, tmp_path: Path) -> None:
    code = put_container(desk, 131, deposit=None, collected_on=None, steps=LOOKED_AT)
    log_count(desk, code, pieces=12)
    assert look(desk, tmp_path, "131;2019;A2;13/07/26;Bryn;tile;\n") == []
    (waiting,) = rows_set_aside(desk)
    answer_row(desk, waiting.id, answer="tile it is")
    assert in_hand(desk, code).material == "tile_brick"
    assert in_hand(desk, code).ledger.expected == 12
    assert prove(desk).findings == ()


def test_a_material_said_when_more_comes_takes_the_counted_pieces_along(desk: Desk) -> None:
    code = put_container(desk, 131, steps=LOOKED_AT)
    log_count(desk, code, pieces=12)
    check_in(desk, code, material="tile_brick", sure=True)
    assert in_hand(desk, code).ledger.expected == 12
    assert prove(desk).findings == ()


def test_a_material_said_when_more_comes_is_refused_once_it_is_sorted(desk: Desk) -> None:
    code = put_settled(desk, 131)
    with pytest.raises(Refusal) as caught:
        check_in(desk, code, material="bone", sure=True)
    assert caught.value.code == "sorted_already"
    assert in_hand(desk, code).material == "pottery"


def test_a_void_tag_is_no_home_for_a_listed_find(desk: Desk, tmp_path: Path) -> None:
    tag = issue_tags(desk, how_many=1).tags[0]
    void_tag(desk, tag.code, reason="torn")
    with pytest.raises(Refusal) as caught:
        list_container(desk, "1", deposit="2017", collected_on=date(2026, 7, 13))
    assert caught.value.code == "tag_void"
    assert look(desk, tmp_path, "1;2017;A1;13/07/26;Bryn;pottery;\n") == []
    (waiting,) = rows_set_aside(desk)
    assert [doubt.code for doubt in waiting.row.doubts] == ["tag_void"]
    assert standing_of(desk, tag.code) is Standing.VOID


def test_a_tag_back_unused_may_be_listed_after_all(desk: Desk, tmp_path: Path) -> None:
    tag = issue_tags(desk, how_many=1).tags[0]
    return_unused(desk, tag.code)
    look(desk, tmp_path, "1;2017;A1;13/07/26;Bryn;pottery;\n")
    (waiting,) = rows_set_aside(desk)
    assert [doubt.code for doubt in waiting.row.doubts] == ["tag_unused"]


def test_a_row_without_a_number_stays_open(desk: Desk, tmp_path: Path) -> None:
    look(desk, tmp_path, ";2017;A1;13/07/26;Bryn;pottery;\n131;2017;A1;13/07/26;Bryn;pottery;\n")
    (waiting,) = rows_set_aside(desk)
    with pytest.raises(Refusal) as caught:
        answer_row(desk, waiting.id, answer="yes")
    assert caught.value.code == "still_open"
    assert answer_row(desk, waiting.id, number="132").number == "132"
    with pytest.raises(Refusal) as caught:
        list_container(desk, " ", deposit="2017", collected_on=date(2026, 7, 13))
    assert caught.value.code == "still_open"


def test_a_row_without_a_deposit_stays_open(desk: Desk, tmp_path: Path) -> None:
    look(desk, tmp_path, "131;;A1;13/07/26;Bryn;pottery;\n")
    (waiting,) = rows_set_aside(desk)
    with pytest.raises(Refusal) as caught:
        answer_row(desk, waiting.id, answer="yes")
    assert caught.value.code == "still_open"


def test_a_deposit_written_with_a_blank_is_the_one_without(desk: Desk, tmp_path: Path) -> None:
    put_deposit(desk, "SU12")
    assert look(desk, tmp_path, "131;SU 12;A1;13/07/26;Bryn;pottery;\n132;2017;A1;13/07/26;Bryn;pottery;\n")
    assert in_hand(desk, "131").deposit == "SU12"


def test_a_list_that_comes_after_the_pallet_makes_no_tag_wrong(desk: Desk, tmp_path: Path) -> None:
    code = put_container(desk, 131, deposit=None, collected_on=None)
    assert look(desk, tmp_path, "131;2019;A2;13/07/26;Bryn;bone;\n") == ["131"]
    assert in_hand(desk, code).material == "bone"
    assert things_to_redo(desk) == ()


def test_a_day_outside_the_open_days_is_asked_at_the_pallet(desk: Desk) -> None:
    code = put_container(desk, 131, deposit="2017", steps=(StepKind.ISSUED,))
    with pytest.raises(Question) as caught:
        check_in(desk, code, collected_on=date(2026, 7, 1))
    assert caught.value.code == "before_open_days"
    with pytest.raises(Refusal) as refused:
        check_in(desk, code, collected_on=date(2026, 8, 1), sure=True)
    assert refused.value.code == "day_in_future"
    assert check_in(desk, code, collected_on=date(2026, 7, 1), sure=True).collected_on == date(2026, 7, 1)


def test_an_old_number_in_a_list_means_the_deposit_that_had_it_last(desk: Desk, tmp_path: Path) -> None:
    put_container(desk, 1, deposit="2017")
    put_container(desk, 2, deposit="2017")
    split_deposit(desk, "2017", containers=["1"], to="2018", reason="two layers")
    renumber_deposit(desk, "2017", to="2016", reason="misread")
    look(desk, tmp_path, "131;2017;A1;13/07/26;Bryn;pottery;\n")
    assert in_hand(desk, "131").deposit == "2016"


def test_a_number_that_stands_twice_in_one_square_holds_up_its_row_and_not_the_list(desk: Desk, tmp_path: Path) -> None:
    change_season(desk, "2026", number_scope=NumberScope.SQUARE)
    rows = "5;2017;A1;13/07/26;Bryn;pottery;\n5;2017;;13/07/26;Bryn;bone;\n6;2017;A1;13/07/26;Bryn;pottery;\n"
    assert look(desk, tmp_path, rows) == ["5", "6"]
    (waiting,) = rows_set_aside(desk)
    assert [doubt.code for doubt in waiting.row.doubts] == ["number_twice"]
