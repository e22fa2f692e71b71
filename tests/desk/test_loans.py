"""Loans: what leaves for whom and until when, what comes back in parts, what is late, what was used up."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from findsdesk.desk.bagging import bag, bags_of
from findsdesk.desk.boxes import add_box
from findsdesk.desk.boxing import box_with_bags, put_into_box, take_out_of_box
from findsdesk.desk.changing_pieces import change_piece
from findsdesk.desk.desk import Desk
from findsdesk.desk.discards import make_list, sign_list
from findsdesk.desk.dossiers import find
from findsdesk.desk.loan_results import add_result, result_path, take_off_result
from findsdesk.desk.loan_returns import give_back
from findsdesk.desk.loan_rows import LoanFacts
from findsdesk.desk.loans import change_loan, chase_loan, every_loan, lend, loan_named, loans_out
from findsdesk.desk.pieces import lift_pieces
from findsdesk.desk.pins import set_pin
from findsdesk.desk.proving import prove
from findsdesk.desk.proxy_slips import slips_in_bag, take_slip_away, write_slip
from findsdesk.desk.sample_use import use_up_sample
from findsdesk.desk.samples import sample_of, take_sample
from findsdesk.desk.shelves import where_it_is
from findsdesk.desk.sorting import add_group, settle, table_of
from findsdesk.desk.taking_away import out_now, take_away
from findsdesk.desk.the_day import the_day
from findsdesk.domain.balance import Decision
from findsdesk.domain.codes import Kind, make_code, read_code
from findsdesk.domain.lending import BorrowerKind, LoanStanding
from findsdesk.domain.refusals import StoreFault
from findsdesk.domain.standings import Standing
from tests.desk.at_the_table import dry_container, prove_totals, refused
from tests.desk.on_the_shelves import furnish_store, put_bags
from tests.yard import DRY, acts, advance, put_container, put_settled, sitting, standing_of

DUE = date(2026, 8, 20)


def lent(desk: Desk, *what: str, kind: BorrowerKind = BorrowerKind.SPECIALIST, **said: object) -> LoanFacts:
    """Lend things to the glass specialist until 20 August."""
    facts: dict[str, object] = {"borrower": "Nela Trost", "purpose": "glass report", "due_on": DUE} | said
    return lend(desk, what, kind=kind, **facts)  # type: ignore[arg-type]


def test_glass_goes_to_the_specialist_and_one_of_22_is_still_out_after_four_weeks(desk: Desk) -> None:
    glass = put_bags(desk, 131, [84.0], material="glass", pieces=22)[0]
    loan = lent(desk, glass, condition="sound", address="Vesmar museum")
    assert read_code(loan.code, "TQ").kind is Kind.LOAN
    assert (loan.number, loan.lent_on, loan.due_on, loan.person) == (1, date(2026, 7, 14), DUE, "Ilo Marr")
    line = loan.lines[0]
    assert (line.code, line.pieces, line.tenths, line.condition_out, line.deposit) == (glass, 22, 840, "sound", "2017")
    assert loan.standing is LoanStanding.OUT
    advance(desk, days=28)
    partly = give_back(desk, "1", [glass], pieces=21, condition="one cracked")
    assert (partly.standing, partly.still_out, partly.back_on) == (LoanStanding.PARTLY_BACK, 1, None)
    assert not [need for need in the_day(desk).needs if need.kind == "loan_overdue"]
    advance(desk, days=10)
    late = loans_out(desk)[0]
    assert (late.standing, late.days_overdue) == (LoanStanding.OVERDUE, 1)
    need = next(need for need in the_day(desk).needs if need.kind == "loan_overdue")
    assert need.numbers == ("1",)
    assert need.facts == {"who": "Nela Trost", "n": 1, "days": 1, "code": loan.code}
    chased = chase_loan(desk, loan.code, how="telephone", answer="in the post")
    assert [(one.how, one.answer) for one in chased.chased] == [("telephone", "in the post")]
    back = give_back(desk, "1")
    assert (back.standing, back.back_on, back.still_out) == (LoanStanding.BACK, date(2026, 8, 21), 0)
    assert (back.lines[0].pieces_back, back.lines[0].condition_back) == (22, "one cracked")
    assert loans_out(desk) == ()
    assert every_loan(desk) == (back,)
    with refused(desk, "loan_is_back"):
        give_back(desk, "1")
    with refused(desk, "loan_is_back"):
        chase_loan(desk, "1", how="letter")
    assert prove(desk).sound


def test_several_things_with_a_condition_each(desk: Desk) -> None:
    furnish_store(desk)
    glass, beads = put_bags(desk, 131, [84.0, 12.0], material="glass")
    add_box(desk, kind="glass", how_many=2, place="Shelf 1")
    put_into_box(desk, "1", [glass])
    bone = put_bags(desk, 140, [300.0], material="glass")
    put_into_box(desk, "2", bone)
    take_away(desk, [glass], to="Lio")
    before = acts(desk)
    loan = lent(desk, glass, beads, "box 2", condition="sound", conditions={beads: "flaking"})
    assert acts(desk) == before + 1
    assert [one.condition_out for one in loan.lines] == ["sound", "flaking", "sound"]
    assert [one.name for one in loan.lines] == [glass, beads, "box 2"]
    assert [one.pieces for one in loan.lines] == [10, 10, 10], "a box counts the pieces of its bags"
    assert out_now(desk) == (), "what leaves is not at the table any more"
    where = where_it_is(desk, glass)
    assert (where.box, where.away_to) == (1, "Nela Trost")
    assert where_it_is(desk, bone[0]).away_to == "Nela Trost", "it lies in a box that is lent"
    assert box_with_bags(desk, "2").box.away is not None
    with refused(desk, "on_loan"):
        take_out_of_box(desk, [glass])
    with refused(desk, "on_loan"):
        lent(desk, bone[0])
    with refused(desk, "on_loan"):
        take_away(desk, ["2"], to="Lio")
    back = give_back(desk, "1", ["box 2", glass])
    assert [one.back_on is None for one in back.lines] == [False, True, False]
    with refused(desk, "back_already"):
        give_back(desk, "1", [glass])
    assert prove(desk).sound


def test_what_is_refused_of_a_loan(desk: Desk) -> None:
    glass, other = put_bags(desk, 131, [84.0, 12.0], material="glass")
    with refused(desk, "nothing_scanned"):
        lent(desk)
    with refused(desk, "thing_twice"):
        lent(desk, glass, glass.lower())
    with refused(desk, "due_before_lent"):
        lent(desk, glass, lent_on=date(2026, 9, 1))
    with refused(desk, "empty"):
        lent(desk, glass, borrower=" ")
    with refused(desk, "not_lent"):
        lent(desk, make_code("TQ", Kind.PLACE, 101))
    with refused(desk, "lent_without_permit"):
        lent(desk, glass, kind=BorrowerKind.LABORATORY)
    lent(desk, glass)
    with refused(desk, "on_loan"):
        lent(desk, glass)
    with refused(desk, "not_of_this_loan"):
        give_back(desk, "1", [other])
    with refused(desk, "more_back_than_out"):
        give_back(desk, "1", pieces=11)
    with refused(desk, "nothing_back"):
        give_back(desk, "1", pieces=0)
    with refused(desk, "back_before_lent"):
        give_back(desk, "1", back_on=date(2026, 7, 1))
    with refused(desk, "unknown_loan"):
        give_back(desk, "2")
    loan = lent(desk, other)
    with refused(desk, "due_before_lent"):
        change_loan(desk, "2", due_on=date(2026, 7, 1))
    changed = change_loan(desk, "2", due_on=date(2026, 9, 20), note="longer", seen=loan.version)
    assert (changed.due_on, changed.note) == (date(2026, 9, 20), "longer")
    with refused(desk, "changed_meanwhile"):
        change_loan(desk, "2", note="again", seen=loan.version)


def test_pieces_are_counted_of_one_thing(desk: Desk) -> None:
    lent(desk, *put_bags(desk, 131, [84.0, 12.0], material="glass"))
    with refused(desk, "one_thing"):
        give_back(desk, "1", pieces=3)


def test_what_was_discarded_is_not_lent(desk: Desk) -> None:
    """The loan of something discarded, or of something that is to be, is refused."""
    code = dry_container(desk, 131, 6)
    oren = sitting(desk, "Oren")
    group = add_group(oren, code, ware="QRS", part="rim", pieces=6, decision=Decision.DISCARD, reason="modern")
    lifted = lift_pieces(oren, group.id, seen=group.version, how_many=1)
    piece = lifted.pieces[0]
    change_piece(oren, piece.id, seen=piece.version, decision=Decision.DISCARD, reason="modern")
    with refused(desk, "lent_to_discard"):
        lent(desk, lifted.pieces[0].code)
    settle(desk, code)
    with refused(desk, "lent_to_discard"):
        lent(desk, code)
    set_pin(desk, "Ilo", pin="2406")
    make_list(oren)
    sign_list(oren, 1, signer="Ilo", pin="2406")
    for gone in (lifted.pieces[0].code, code):
        with refused(desk, "lent_discarded"):
            lent(desk, gone)


def test_an_empty_bag_and_a_bagged_container_are_not_lent(desk: Desk) -> None:
    with refused(desk, "unknown_number"):
        lent(desk, "131")
    empty = put_bags(desk, 131, [None], pieces=0)[0]
    with refused(desk, "bag_is_empty"):
        lent(desk, empty)
    code = put_settled(desk, 132)
    bag(desk, code)
    with refused(desk, "lies_in_bags"):
        lent(desk, code)
    add_box(desk, kind="sherds")
    with refused(desk, "box_is_empty"):
        lent(desk, "box 1")


def test_a_container_is_handed_on_and_comes_back(desk: Desk) -> None:
    code = put_container(desk, 131, material="metal", steps=DRY)
    lent(desk, "131", kind=BorrowerKind.CONSERVATOR, purpose="cleaning")
    assert standing_of(desk, code) is Standing.AWAY
    give_back(desk, "1", [code], condition="stable")
    assert standing_of(desk, code) is not Standing.AWAY
    assert prove(desk).sound


def test_a_piece_leaves_a_slip_in_its_bag_until_it_is_back(desk: Desk) -> None:
    code = dry_container(desk, 131, 6)
    group = add_group(desk, code, ware="QRS", part="rim", pieces=6, tenths=600)
    piece = lift_pieces(desk, group.id, seen=group.version, how_many=2).pieces[0]
    settle(desk, code)
    its_bag = bag(desk, code)[0]
    lent(desk, piece.code, purpose="thin section")
    (slip,) = slips_in_bag(desk, its_bag.code)
    assert (slip.what, slip.pieces, slip.why, slip.went_to, slip.loan) == ("131.1", 1, "thin section", "Nela Trost", 1)
    with refused(desk, "slip_of_a_loan"):
        take_slip_away(desk, slip.number)
    add_box(desk, kind="sherds")
    assert put_into_box(desk, "1", [its_bag.code]).bags[0].slips == 1
    assert lent(desk, "box 1").pieces == 5, "one of its six is out by itself"
    give_back(desk, "2")
    give_back(desk, "1")
    assert slips_in_bag(desk, its_bag.code) == ()
    assert prove(desk).sound


def test_a_slip_for_the_type_series(desk: Desk) -> None:
    code = put_settled(desk, 131)
    its_bag = bag(desk, code)[0]
    oren = sitting(desk, "Oren")
    slip = write_slip(oren, its_bag.code, what="one rim, QRS", why="type series", went_to="type drawer")
    assert (slip.number, slip.person, slip.container) == (1, "Oren Vade", "131")
    with refused(desk, "slip_pieces"):
        write_slip(desk, its_bag.code, what="rims", pieces=23, why="type series")
    with refused(desk, "empty"):
        write_slip(desk, its_bag.code, why="type series")
    take_slip_away(desk, 1)
    with refused(desk, "slip_gone"):
        take_slip_away(desk, 1)
    with refused(desk, "unknown_slip"):
        take_slip_away(desk, 2)


def test_what_analysis_used_up_leaves_the_balance_as_such(desk: Desk) -> None:
    code = dry_container(desk, 131, 6)
    group = add_group(desk, code, ware="QRS", part="rim", pieces=6, tenths=600)
    piece = lift_pieces(desk, group.id, seen=group.version, how_many=1).pieces[0]
    settle(desk, code)
    lent(desk, piece.code, kind=BorrowerKind.LABORATORY, permit="VE-26-014")
    back = give_back(desk, "1", used_up=1)
    assert (back.lines[0].pieces_used, back.lines[0].pieces_back, back.back_on) == (1, 0, date(2026, 7, 14))
    ledger = table_of(desk, code).ledger
    assert (ledger.kept, ledger.used_up) == (5, 1)
    prove_totals(desk)
    assert prove(desk).sound


def test_of_a_sorted_bag_it_must_be_said_which_sherds_were_used_up(desk: Desk) -> None:
    code = put_settled(desk, 131)
    lent(desk, bag(desk, code)[0].code)
    with refused(desk, "used_up_of_a_bag"):
        give_back(desk, "1", pieces=20, used_up=2)


def test_a_sample_is_sent_and_used_up(desk: Desk) -> None:
    code = dry_container(desk, 131, 6)
    take_sample(desk, code, what_for="thin section", taken_tenths=20, pieces_used=1)
    lent(desk, "sample 1", kind=BorrowerKind.LABORATORY, permit="VE-26-014", borrower="Harbour laboratory")
    sent = sample_of(desk, 1)
    assert (sent.sent_on, sent.laboratory) == (date(2026, 7, 14), "Harbour laboratory")
    give_back(desk, "1", ["sample 1"], used_up=1, back_on=date(2026, 8, 1))
    used = sample_of(desk, 1)
    assert (used.back_on, used.used_up_on, used.rest_tenths) == (date(2026, 8, 1), date(2026, 8, 1), 0)
    with refused(desk, "sample_used_up"):
        lent(desk, "sample 1")
    with refused(desk, "sample_used_up"):
        use_up_sample(desk, 1)
    with refused(desk, "unknown_sample"):
        use_up_sample(desk, 2)
    assert prove(desk).sound


def test_human_bone_is_asked_about(desk: Desk) -> None:
    bones = put_bags(desk, 131, [900.0], material="human_bone")
    with refused(desk, "human_remains_lent"):
        lent(desk, *bones)
    lent(desk, *bones, sure=True)


def test_results_are_kept_with_the_loan(desk: Desk, tmp_path: Path) -> None:
    lent(desk, *put_bags(desk, 131, [84.0], material="glass"))
    report = tmp_path / "glass.pdf"
    report.write_bytes(b"%PDF-1.7 glass")
    kept = add_result(desk, "1", report, note="report")
    assert (kept.file_name, kept.size_bytes, kept.note) == ("glass.pdf", 14, "report")
    assert loan_named(desk, "1").results == (kept,)
    assert result_path(desk, kept).read_bytes() == b"%PDF-1.7 glass"
    with refused(desk, "result_there"):
        add_result(desk, "1", report)
    with refused(desk, "no_result_file"):
        add_result(desk, "1", tmp_path / "gone.pdf")
    (tmp_path / "empty.csv").touch()
    with refused(desk, "result_empty"):
        add_result(desk, "1", tmp_path / "empty.csv")
    assert prove(desk).sound
    result_path(desk, kept).write_bytes(b"something else")
    assert [finding.where for finding in prove(desk).findings] == ["result glass.pdf"]
    with pytest.raises(StoreFault, match="result_changed"):
        result_path(desk, kept)
    take_off_result(desk, kept.id, seen=kept.version)
    with refused(desk, "result_off"):
        take_off_result(desk, kept.id, seen=kept.version)
    assert loan_named(desk, "1").results == ()


def test_the_dossier_still_finds_a_lent_bag(desk: Desk) -> None:
    code = put_settled(desk, 131)
    packed = bag(desk, code)
    lent(desk, packed[0].code)
    assert bags_of(desk, code) == packed
    assert find(desk, packed[0].code) is not None
