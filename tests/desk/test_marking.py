"""Marks written, checked by a second person, put into slip bags, taken back, and inked again after a renumbering."""

from collections.abc import Callable
from typing import Any

import pytest
from sqlalchemy import select

from findsdesk.desk.bagging import bag
from findsdesk.desk.changing_set_up import change_season
from findsdesk.desk.desk import Desk
from findsdesk.desk.dossiers import Dossier, find
from findsdesk.desk.mark_lines import MarkLine, mark_lines, progress_of
from findsdesk.desk.mark_sums import unmarked
from findsdesk.desk.marking import answer_mark, answer_newest_tick, check_marks, slip_bag, write_marks
from findsdesk.desk.pieces import lay_back, lift_pieces, pieces_of
from findsdesk.desk.playing import do
from findsdesk.desk.proving import FindingKind, prove
from findsdesk.desk.redoing import ThingToRedo, Written, redo_done, things_to_redo
from findsdesk.desk.renumbering import renumber_deposit
from findsdesk.desk.sorting import add_group, change_group, reopen, settle, table_of
from findsdesk.desk.the_day import the_day
from findsdesk.domain.marking import NoInk, Tick
from findsdesk.store.models import MarkEntry
from tests.desk.at_the_table import dry_container, refused
from tests.yard import last_said, put_container, put_settled, sitting, with_settings

MARK = "VE-26-014 / 2017-131"


@pytest.fixture
def mika(desk: Desk) -> Desk:
    """Return the desk with the registrar at it, and bucket 131 settled: 22 sherds kept."""
    put_settled(desk, 131)
    return sitting(desk, "Mika")


def line_of(desk: Desk, number: str = "131") -> MarkLine:
    return next(one for one in mark_lines(desk) if one.number == number)


def entries(desk: Desk) -> list[MarkEntry]:
    with desk.reading() as reading:
        return list(reading.session.execute(select(MarkEntry).order_by(MarkEntry.id)).scalars())


def marks_again(desk: Desk) -> list[tuple[Written, int, str, str]]:
    return [
        (one.what, one.pieces, one.said, one.says_now)
        for one in things_to_redo(desk)
        if one.what in (Written.MARK, Written.SLIP)
    ]


def thing(desk: Desk, what: Written) -> ThingToRedo:
    return next(one for one in things_to_redo(desk) if one.what is what)


def test_marks_are_ticked_off_as_written_and_by_a_second_person_as_checked(mika: Desk) -> None:
    assert line_of(mika).tally.left == 22
    first = write_marks(mika, "131", pieces=15, who="Lio")
    assert (first.tally.written, first.tally.left, first.to_check) == (15, 7, 2)
    rest = write_marks(mika, "131")
    assert last_said(mika) == f"131: 7 × {MARK}"
    assert (rest.tally.written, rest.tally.left, rest.to_check) == (22, 0, 3)
    with refused(mika, "checks_own_marks"):
        check_marks(mika, "131", pieces=16)
    checked = check_marks(mika, "131")
    assert (checked.tally.checked, checked.to_check, checked.is_done) == (3, 0, True)
    who = {(one.kind, one.pieces): one.person_id for one in entries(mika)}
    assert who["written", 15] == sitting(mika, "Lio").person.id
    assert who["written", 7] == who["checked", 3] == mika.person.id
    assert {one.said for one in entries(mika)} == {MARK}
    assert prove(mika).sound


def test_who_wrote_alone_cannot_check(mika: Desk) -> None:
    write_marks(mika, "131")
    with refused(mika, "checks_own_marks"):
        check_marks(mika, "131")
    assert check_marks(mika, "131", who="Oren").tally.checked == 3


def test_marks_found_wrong_come_back_and_all_are_looked_at(mika: Desk) -> None:
    write_marks(mika, "131", who="Lio")
    checked = check_marks(mika, "131", pieces=3, wrong=1)
    assert (checked.tally.written, checked.tally.left, checked.tally.checked) == (21, 1, 2)
    assert checked.to_check == 19
    again = write_marks(mika, "131", who="Lio")
    assert (again.tally.left, again.to_check) == (0, 20)
    assert check_marks(mika, "131").is_done
    assert prove(mika).sound


def test_what_is_too_small_or_painted_goes_into_a_slip_bag(mika: Desk) -> None:
    small = slip_bag(mika, "131", pieces=4)
    assert (small.tally.slipped, small.tally.bags, small.tally.left) == (4, 1, 18)
    painted = slip_bag(mika, "131", pieces=1, why=NoInk.PAINTED)
    assert (painted.tally.slipped, painted.tally.bags) == (5, 2)
    assert write_marks(mika, "131").tally.written == 17
    assert [(one.kind, one.pieces, one.why) for one in entries(mika)][:2] == [
        ("slip", 4, "too small"),
        ("slip", 1, "painted"),
    ]


def _written(desk: Desk) -> None:
    write_marks(desk, "131", pieces=20, who="Lio")


Deed = Callable[[Desk], Any]


@pytest.mark.parametrize(
    ("before", "deed", "code"),
    [
        (_written, lambda desk: write_marks(desk, "131", pieces=3), "more_than_kept"),
        (_written, lambda desk: slip_bag(desk, "131", pieces=3), "more_than_kept"),
        (_written, lambda desk: write_marks(desk, "131", pieces=0), "no_pieces"),
        (_written, lambda desk: check_marks(desk, "131", pieces=21), "more_than_written"),
        (_written, lambda desk: check_marks(desk, "131", pieces=2, wrong=3), "more_wrong_than_checked"),
        (_written, lambda desk: write_marks(desk, "131", who="Nobody"), "unknown_person"),
        (_written, lambda desk: answer_newest_tick(desk, "131", Tick.CHECKED, why="x"), "unknown_entry"),
        (_written, lambda desk: answer_mark(desk, 1, why="x"), "unknown_entry"),
        (_written, lambda desk: answer_newest_tick(desk, "131", Tick.WRITTEN, why=" "), "reason_needed"),
        (None, lambda desk: check_marks(desk, "131"), "nothing_to_check"),
        (None, lambda desk: write_marks(desk, "4711"), "unknown_number"),
    ],
)
def test_refusals_leave_the_store_as_it_was(mika: Desk, before: Deed | None, deed: Deed, code: str) -> None:
    if before is not None:
        before(mika)
    with refused(mika, code):
        deed(mika)


def test_only_settled_sherds_of_inked_materials_are_marked(mika: Desk) -> None:
    dry_container(mika, 132, 12)
    put_container(mika, 200, material="glass")
    put_settled(mika, 133, kept=0, discarded=4)
    write_marks(mika, "131")
    for number, code in (
        ("132", "not_sorted_yet"),
        ("200", "not_inked"),
        ("133", "nothing_to_mark"),
        ("131", "nothing_to_mark"),
    ):
        with refused(mika, code):
            write_marks(mika, number)


def test_a_tick_is_taken_back_by_its_opposite_and_both_stay_readable(mika: Desk) -> None:
    write_marks(mika, "131", who="Lio")
    check_marks(mika, "131")
    with refused(mika, "checked_since") as caught:
        answer_newest_tick(mika, "131", Tick.WRITTEN, why="another bucket's sherds")
    assert "Take back first, the newest first: checked." in caught.value.in_words()
    with refused(mika, "unknown_entry") as caught:
        answer_newest_tick(mika, "131", Tick.WRONG, why="looked at 87")
    assert "the newest first: checked, written." in caught.value.in_words()
    answer_newest_tick(mika, "131", Tick.CHECKED, why="looked at 87")
    answered = answer_newest_tick(mika, "131", Tick.WRITTEN, why="another bucket's sherds")
    assert (answered.kind, answered.pieces, answered.number) == (Tick.WRITTEN, 22, "131")
    assert line_of(mika).tally.left == 22
    assert [one.pieces for one in entries(mika)] == [22, 3, -3, -22]
    with refused(mika, "already_answered"):
        answer_mark(mika, entries(mika)[0].id, why="again")
    with refused(mika, "already_answered"):
        answer_mark(mika, answered.entry_id, why="again")
    assert prove(mika).sound


def test_a_wrong_mark_is_not_given_back_where_no_sherd_is_left_for_it(mika: Desk) -> None:
    write_marks(mika, "131", who="Lio")
    check_marks(mika, "131", pieces=1, wrong=1)
    write_marks(mika, "131", who="Lio")
    with refused(mika, "more_than_kept"):
        answer_newest_tick(mika, "131", Tick.WRONG, why="it was right")
    answer_newest_tick(mika, "131", Tick.WRITTEN, why="not yet")
    answer_newest_tick(mika, "131", Tick.WRONG, why="it was right")
    assert line_of(mika).tally.written == 22


def test_a_bag_and_a_piece_lead_to_the_line_of_their_container(mika: Desk) -> None:
    (packed,) = bag(mika, "131")
    assert write_marks(mika, packed.code, pieces=2).number == "131"
    code = dry_container(mika, 132, 9)
    group = add_group(mika, code, ware="QRS", part="rim", pieces=9)
    (piece,) = lift_pieces(mika, group.id, seen=group.version).pieces
    settle(mika, code)
    assert write_marks(mika, piece.code).tally.written == 1
    assert write_marks(mika, "132.1", pieces=2).tally.written == 3


def test_where_the_pattern_names_the_piece_each_has_a_mark_of_its_own(mika: Desk) -> None:
    change_season(mika, "2026", mark_pattern="{deposit}-{container}-{piece}")
    code = dry_container(mika, 132, 9)
    group = add_group(mika, code, ware="QRS", part="rim", pieces=9)
    lift_pieces(mika, group.id, seen=group.version, how_many=2)
    settle(mika, code)
    lines = [one for one in mark_lines(mika) if one.container_code == code]
    assert [(one.number, one.text, one.tally.kept) for one in lines] == [
        ("132", "2017-132", 7),
        ("132.1", "2017-132-1", 1),
        ("132.2", "2017-132-2", 1),
    ]
    assert write_marks(mika, "132.2").tally.left == 0
    with refused(mika, "more_than_kept"):
        write_marks(mika, "132.2", pieces=1)
    assert line_of(mika, "132").tally.written == 0
    reopen(mika, code, reason="one more")
    second = pieces_of(mika, code)[1]
    with refused(mika, "piece_in_use"):
        lay_back(mika, second.id, seen=second.version)
    settle(mika, code)
    renumber_deposit(mika, "2017", to="2018", reason="misread")
    assert marks_again(mika) == [(Written.MARK, 1, "2017-132-2", "2018-132-2")]
    redo_done(mika, [thing(mika, Written.MARK).id])
    assert line_of(mika, "132.2").tally.written == 1
    assert prove(mika).sound


def test_after_a_renumbering_what_was_inked_is_inked_again(mika: Desk) -> None:
    write_marks(mika, "131", pieces=10, who="Lio")
    check_marks(mika, "131")
    slip_bag(mika, "131", pieces=3)
    put_settled(mika, 140)
    asked = renumber_deposit(mika, "2017", to="2031", reason="same floor").asked
    assert (asked.marks, asked.slips) == (10, 1)
    assert marks_again(mika) == [
        (Written.MARK, 10, MARK, "VE-26-014 / 2031-131"),
        (Written.SLIP, 1, MARK, "VE-26-014 / 2031-131"),
    ]
    line = line_of(mika)
    assert (line.tally.outdated, line.tally.written, line.tally.left, line.to_check) == (10, 0, 9, 0)
    assert write_marks(mika, "131", pieces=4).tally.written == 4
    redo_done(mika, [thing(mika, Written.MARK).id], sure=True)
    line = line_of(mika)
    assert (line.tally.outdated, line.tally.written, line.tally.checked, line.to_check) == (0, 14, 0, 2)
    assert [one[0] for one in marks_again(mika)] == [Written.SLIP]
    redo_done(mika, [thing(mika, Written.SLIP).id])
    assert (line_of(mika).tally.slipped, line_of(mika).tally.bags, marks_again(mika)) == (3, 1, [])
    assert {one.said for one in entries(mika) if one.pieces > 0 and one.kind == "slip"} == {
        MARK,
        "VE-26-014 / 2031-131",
    }
    assert prove(mika).sound


def test_marks_of_two_texts_are_asked_for_apart_and_fall_away_when_true_again(mika: Desk) -> None:
    write_marks(mika, "131", pieces=10)
    renumber_deposit(mika, "2017", to="2031", reason="same floor")
    write_marks(mika, "131", pieces=5)
    renumber_deposit(mika, "2031", to="2017", reason="it was right")
    assert marks_again(mika) == [(Written.MARK, 5, "VE-26-014 / 2031-131", MARK)]
    assert (line_of(mika).tally.written, line_of(mika).tally.outdated) == (10, 5)
    answer_newest_tick(mika, "131", Tick.WRITTEN, why="never inked")
    assert marks_again(mika) == []
    assert prove(mika).sound


def test_a_container_on_the_table_again_settles_only_with_its_marked_sherds_kept(mika: Desk) -> None:
    write_marks(mika, "131")
    reopen(mika, "131", reason="one rim is no rim")
    rims = next(row for row in table_of(mika, "131").groups if row.pieces == 22)
    change_group(mika, rims.id, seen=rims.version, decision="discard", reason="no diagnostic value")
    assert prove(mika).sound, "on the table nothing is stopped"
    with refused(mika, "marked_not_kept"):
        settle(mika, "131")
    answer_newest_tick(mika, "131", Tick.WRITTEN, why="they go")
    settle(mika, "131")


def test_prove_finds_more_marks_than_kept_sherds(mika: Desk) -> None:
    write_marks(mika, "131")
    with mika.store.writing() as session:
        row = session.execute(select(MarkEntry)).scalar_one()
        row.pieces = 23
    said = [one.in_words(mika.terms) for one in prove(mika).findings if one.kind is FindingKind.MARK]
    assert said == ["Bucket 131: 23 sherds bear a mark or slip, and 22 kept."]
    with mika.store.writing() as session:
        session.execute(select(MarkEntry)).scalar_one().kind = "checked"
    said = [one.in_words(mika.terms) for one in prove(mika).findings if one.kind is FindingKind.MARK]
    assert said == ["Bucket 131: 23 marks of one text checked, and 0 written."]


def test_progress_by_deposit_and_what_is_unmarked_agree(mika: Desk) -> None:
    put_settled(mika, 140, deposit="2003", kept=8)
    write_marks(mika, "131", pieces=12, who="Lio")
    slip_bag(mika, "131", pieces=2)
    check_marks(mika, "131", pieces=1)
    first, second = progress_of(mark_lines(mika))
    assert (first.deposit, first.left, second.deposit) == ("2003", 8, "2017")
    assert (second.wanted, second.marked, second.slipped, second.bags) == (22, 14, 2, 1)
    assert (second.left, second.checked, second.to_check) == (8, 1, 1)
    with mika.reading() as reading:
        assert unmarked(reading.session, mika.facts.settings) == 16
    assert the_day(mika).waits.to_mark == 16


@pytest.mark.parametrize(("one_in", "wanted"), [(1, 22), (0, 7), (10, 9), (4, 11)])
def test_how_many_plain_sherds_are_marked_is_a_setting(desk: Desk, one_in: int, wanted: int) -> None:
    code = dry_container(desk, 150, 22)
    add_group(desk, code, ware="QRS", part="rim", pieces=7)
    add_group(desk, code, ware="TGY", part="body", pieces=15)
    settle(desk, code)
    with_settings(desk, plain_marked_one_in=one_in)
    assert line_of(desk, "150").tally.wanted == wanted
    with desk.reading() as reading:
        assert unmarked(reading.session, desk.facts.settings) == wanted


def test_painted_and_flaking_sherds_are_told_on_the_line(desk: Desk) -> None:
    code = dry_container(desk, 150, 22)
    add_group(desk, code, ware="QRS", part="rim", pieces=7, decoration="painted")
    add_group(desk, code, ware="QRS", part="rim", pieces=5, condition="laminated")
    add_group(desk, code, ware="TGY", part="body", pieces=10)
    settle(desk, code)
    assert line_of(desk, "150").no_ink == 12


def test_lettering_height_changes_the_length(mika: Desk) -> None:
    with_settings(mika, lettering_tenths_mm=30)
    assert (line_of(mika).length_tenths, line_of(mika).smallest_mm) == (195, 26)


def test_marks_play_by_name(mika: Desk) -> None:
    do(mika, "write-marks", {"pieces": "20", "who": "Lio"}, ("131",))
    do(mika, "slip-bag", {"pieces": "2", "why": "too small"}, ("131",))
    do(mika, "check-marks", {"wrong": "1"}, ("131",))
    do(mika, "take-back-marks", {"why": "looked at 87"}, ("131", "wrong"))
    tally = line_of(mika).tally
    assert (tally.written, tally.slipped, tally.checked, tally.wrong) == (20, 2, 1, 0)


def test_the_dossier_tells_of_marks(mika: Desk) -> None:
    write_marks(mika, "131", pieces=20, who="Lio")
    check_marks(mika, "131")
    slip_bag(mika, "131", pieces=2)
    found = find(mika, "131")
    assert isinstance(found, Dossier)
    (text,) = found.marks
    assert (text.said, text.written, text.checked, text.slipped, text.bags) == (MARK, 20, 2, 2, 1)
