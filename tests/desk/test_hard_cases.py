"""Cases that nobody meets on a good day: numbers taken within a block, a square corrected late, words nobody meant."""

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from python_calamine import CalamineWorkbook

from findsdesk.desk.bagging import bag
from findsdesk.desk.changing_excavation import change_excavation
from findsdesk.desk.checking_in import delivery
from findsdesk.desk.deposits import change_deposit
from findsdesk.desk.desk import Desk
from findsdesk.desk.explaining import explain
from findsdesk.desk.listed_containers import list_container
from findsdesk.desk.playing import do
from findsdesk.desk.printing import reprint
from findsdesk.desk.redoing import Written, things_to_redo
from findsdesk.desk.register_files import write_register
from findsdesk.desk.registers import Register
from findsdesk.desk.shipped import vocabulary
from findsdesk.desk.sorting import add_group, remove_group, reopen, settle, table_of
from findsdesk.desk.stations import set_numbers_aside
from findsdesk.desk.tags import issue_tags
from findsdesk.desk.untagged import register_untagged
from findsdesk.desk.washing import release, step_back
from findsdesk.domain.balance import Entry
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.standings import Standing
from tests.yard import acts, put_bag, put_container, put_settled

STOCK = "a4-3x8-70x37"


def refused(desk: Desk, code: str, deed: object, *arguments: object, **more: object) -> None:
    """Check that a deed is refused by this code and writes nothing."""
    before = acts(desk)
    with pytest.raises(Refusal) as caught:
        deed(desk, *arguments, **more)  # type: ignore[operator]
    assert caught.value.code == code
    assert acts(desk) == before


def test_a_number_typed_within_a_block_is_passed_over_when_its_tags_are_issued(desk: Desk) -> None:
    set_numbers_aside(desk, station=desk.station_name, how_many=5)
    list_container(desk, "2", deposit="2017")
    assert [tag.number for tag in issue_tags(desk, how_many=3).tags] == ["1", "3", "4"]


def test_a_tag_is_issued_for_a_material_of_the_yard_alone(desk: Desk) -> None:
    refused(desk, "unknown_material", issue_tags, how_many=1, material="moonstuff")
    refused(desk, "unknown_material", register_untagged, material="moonstuff")


def test_a_deposit_that_lies_in_another_square_takes_its_containers_along(desk: Desk) -> None:
    code = put_settled(desk, 131, deposit="2017", kept=3)
    put_bag(desk, code, pieces=3)
    change_deposit(desk, "2017", square="B4", sure=True)
    assert table_of(desk, code).square == "B4"
    assert {thing.what for thing in things_to_redo(desk)} == {Written.TAG, Written.LABEL}
    change_deposit(desk, "2017", square="A1", sure=True)
    assert things_to_redo(desk) == ()


def test_grams_of_an_explanation_are_grams(desk: Desk) -> None:
    code = put_settled(desk, 131)
    reopen(desk, code, reason="look again")
    refused(desk, "group_grams", explain, code, Entry.NOT_A_SHERD, pieces=1, tenths=-1)
    refused(desk, "group_grams", explain, code, Entry.NOT_A_SHERD, pieces=1, tenths=10**9)


@pytest.mark.parametrize("said", ["--5", "²", "-", "1 2"])
def test_what_is_no_number_is_refused_in_words(desk: Desk, said: str) -> None:
    code = put_container(desk, 131)
    with pytest.raises(Refusal):
        do(desk, "count", {"pieces": said}, (code,))


def test_a_word_of_the_excavation_may_hold_signs_that_no_sheet_may(desk: Desk, tmp_path: Path) -> None:
    change_excavation(desk, terms=desk.terms._replace(deposits="loci/units [all]: 'ours'"))
    path = tmp_path / "deposits.xlsx"
    write_register(desk, Register.DEPOSITS, path=path)
    assert CalamineWorkbook.from_path(path).sheet_names[0] == "Loci units all ours"


def test_an_empty_bag_gets_no_label_again(desk: Desk) -> None:
    code = put_settled(desk, 131, kept=3)
    (empty,) = bag(desk, code)
    reopen(desk, code, reason="all of it was misread")
    row = table_of(desk, code).groups[0]
    remove_group(desk, row.id, seen=row.version)
    add_group(desk, code, ware="QRS", part="body", pieces=3)
    settle(desk, code)
    bag(desk, code)
    refused(desk, "empty_bag", reprint, [empty.code], reason=vocabulary("reprint_reasons")[0].key, stock=STOCK)


def test_what_is_taken_back_to_its_tag_is_no_arrival(desk: Desk) -> None:
    code = put_container(desk, 131, collected_on=date(2026, 7, 14))
    step_back(desk, code, to=Standing.ISSUED, reason="it is not here")
    assert delivery(desk, date(2026, 7, 14)).arrived == ()


def test_somebody_without_a_role_releases_nothing(desk: Desk) -> None:
    code = put_container(desk, 131)
    do(desk, "hold", {"reason": "painted"}, (code,))
    nobody = desk.by(replace(desk.person, role=None))
    refused(nobody, "ceramicist_releases", release, code, reason="no")
