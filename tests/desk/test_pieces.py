"""Pieces: lifted out of a group and laid back, the balance untouched; described, measured, refused."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import count
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from findsdesk.desk.bagging import propose_bags
from findsdesk.desk.changing_pieces import change_piece, describe_piece
from findsdesk.desk.correcting import move_container
from findsdesk.desk.desk import Desk
from findsdesk.desk.mark_lines import mark_lines
from findsdesk.desk.named_pieces import lay_back_named, lift_from_row
from findsdesk.desk.piece_rows import PieceRow
from findsdesk.desk.pieces import Lifted, lay_back, lift_pieces, pieces_of
from findsdesk.desk.playing import do
from findsdesk.desk.proving import prove
from findsdesk.desk.sorting import add_group, change_group, settle, table_of, take_back_last
from findsdesk.domain.bags import BagOf
from findsdesk.domain.balance import Decision
from findsdesk.domain.codes import Kind, read_code
from findsdesk.domain.refusals import Refusal
from tests.desk.at_the_table import dry_container, kept_balances, kept_wares, prove_totals, refused
from tests.yard import last_said, new_yard, sitting


@pytest.fixture
def rims(desk: Desk) -> str:
    """Return a container of 14 sherds with a row of eleven rims on the table."""
    code = dry_container(desk, 131, 14)
    add_group(desk, code, ware="QRS", part="rim", pieces=11, tenths=3400, rim_permille=900, surface="slip")
    add_group(desk, code, ware="TGY", part="body", pieces=3, tenths=500)
    return code


def lift(desk: Desk, code: str, how_many: int = 1, row: int = 1, **said: Any) -> Lifted:
    """Lift from a row of the table as it stands now."""
    group = table_of(desk, code).groups[row - 1]
    return lift_pieces(desk, group.id, seen=group.version, how_many=how_many, **said)


def first(desk: Desk, code: str, **said: Any) -> PieceRow:
    return lift(desk, code, **said).pieces[0]


def test_a_sherd_lifted_from_a_row_to_be_discarded_is_kept_until_somebody_says_otherwise(desk: Desk, rims: str) -> None:
    group = table_of(desk, rims).groups[1]
    change_group(desk, group.id, seen=group.version, decision=Decision.DISCARD, reason="modern")
    before = kept_balances(desk)
    (piece,) = lift(desk, rims, row=2).pieces
    assert (piece.decision, piece.reason) == (Decision.KEEP, "as_a_piece")
    ledger = table_of(desk, rims).ledger
    assert (ledger.kept, ledger.to_discard) == (12, 2)
    prove_totals(desk)
    lay_back(desk, piece.id, seen=piece.version)
    assert [row.facts.pieces for row in table_of(desk, rims).groups] == [11, 3]
    assert kept_balances(desk) == before
    assert prove(desk).sound


def test_a_measured_sherd_takes_its_grams_and_share_along(desk: Desk, rims: str) -> None:
    before = (kept_balances(desk), kept_wares(desk))
    lifted = lift(desk, rims, tenths=412, rim_permille=110)
    (piece,) = lifted.pieces
    assert (piece.name, piece.number, piece.pieces, piece.tenths, piece.rim_permille) == ("131.1", 1, 1, 412, 110)
    assert (piece.ware, piece.part, piece.surface, piece.decision) == ("QRS", "rim", "slip", Decision.KEEP)
    assert piece.diagnostic
    assert piece.shared == ""
    assert read_code(piece.code, "TQ").kind is Kind.PIECE
    group = table_of(desk, rims).groups[0]
    assert (group.pieces, group.tenths, group.facts.rim_permille) == (10, 2988, 790)
    assert (kept_balances(desk), kept_wares(desk)) == before
    assert last_said(desk) == "131.1"
    assert prove(desk).sound


def test_what_was_not_measured_is_shared_evenly_and_says_so(desk: Desk, rims: str) -> None:
    lifted = lift(desk, rims, 3)
    assert [piece.tenths for piece in lifted.pieces] == [310, 309, 309]
    assert [piece.rim_permille for piece in lifted.pieces] == [82, 82, 82]
    assert {piece.shared for piece in lifted.pieces} == {"grams rim"}
    group = table_of(desk, rims).groups[0]
    assert (group.pieces, group.tenths, group.facts.rim_permille) == (8, 3400 - 928, 900 - 246)
    weighed = change_piece(desk, lifted.pieces[0].id, seen=lifted.pieces[0].version, tenths=310)
    assert weighed.shared == "rim"


def test_a_changed_piece_says_what_changed_in_words(desk: Desk, rims: str) -> None:
    piece = first(desk, rims)
    change_piece(desk, piece.id, seen=piece.version, rim_permille=90, wall_tenths_mm=62, drawing_wanted=True)
    assert last_said(desk) == "131.1: rim %, wall, drawing wanted"


def test_a_group_that_is_empty_goes(desk: Desk, rims: str) -> None:
    lifted = lift(desk, rims, 11)
    assert lifted.group_left is None
    assert [group.part for group in table_of(desk, rims).groups] == ["body"]
    assert [piece.number for piece in pieces_of(desk, rims)] == list(range(1, 12))
    assert sum(piece.tenths or 0 for piece in lifted.pieces) == 3400
    prove_totals(desk)


def test_numbers_and_codes_are_never_given_twice(desk: Desk, rims: str) -> None:
    piece = first(desk, rims)
    lay_back(desk, piece.id, seen=piece.version)
    again = first(desk, rims)
    assert again.number == 2
    assert again.code != piece.code


def test_laid_back_it_lies_in_its_group_again(desk: Desk, rims: str) -> None:
    before = table_of(desk, rims).groups[0].facts
    piece = first(desk, rims, tenths=412, rim_permille=110)
    lay_back(desk, piece.id, seen=piece.version)
    assert table_of(desk, rims).groups[0].facts == before
    assert pieces_of(desk, rims) == ()
    assert prove(desk).sound


def test_a_weighed_piece_does_not_go_among_sherds_without_grams(desk: Desk) -> None:
    code = dry_container(desk, 131, 5)
    add_group(desk, code, ware="QRS", part="rim", pieces=5)
    piece = first(desk, code, tenths=412)
    lay_back(desk, piece.id, seen=piece.version)
    assert [(group.pieces, group.tenths) for group in table_of(desk, code).groups] == [(4, None), (1, 412)]


def test_lifting_from_a_settled_container_moves_nothing_of_it(desk: Desk, rims: str) -> None:
    settle(desk, rims)
    before = kept_balances(desk)
    piece = first(desk, rims)
    change_piece(desk, piece.id, seen=piece.version, drawing="D 12", note="fine")
    assert kept_balances(desk) == before
    with refused(desk, "already_settled"):
        describe_piece(desk, "131.1", pieces=2)


@pytest.mark.parametrize(
    ("said", "code"),
    [
        ({"how_many": 12}, "lift_number"),
        ({"how_many": 0}, "lift_number"),
        ({"tenths": 3401}, "more_than_group"),
        ({"tenths": -1}, "more_than_group"),
        ({"rim_permille": 901}, "more_than_group"),
        ({"how_many": 11, "rim_permille": 11001}, "rim_out_of_range"),
    ],
)
def test_what_cannot_be_lifted(desk: Desk, rims: str, said: dict[str, int], code: str) -> None:
    with refused(desk, code):
        lift(desk, rims, **said)


def test_more_than_a_whole_rim_is_not_left_to_one_sherd(desk: Desk) -> None:
    code = dry_container(desk, 131, 2)
    add_group(desk, code, ware="QRS", part="rim", pieces=2, rim_permille=1500)
    with refused(desk, "rim_out_of_range"):
        lift(desk, code, rim_permille=300)


def test_a_row_that_somebody_changed_meanwhile_is_not_lifted_from(desk: Desk, rims: str) -> None:
    group = table_of(desk, rims).groups[0]
    change_group(sitting(desk, "Oren"), group.id, seen=group.version, pieces=10)
    with refused(desk, "changed_meanwhile"):
        lift_pieces(desk, group.id, seen=group.version)
    lift(desk, rims, 10)
    with refused(desk, "row_gone"):
        lift_pieces(desk, group.id, seen=3)


def test_a_piece_that_was_laid_back_is_gone(desk: Desk, rims: str) -> None:
    piece = first(desk, rims)
    lay_back(desk, piece.id, seen=piece.version)
    with refused(desk, "piece_gone"):
        lay_back(desk, piece.id, seen=piece.version)
    with refused(desk, "piece_gone"):
        change_piece(desk, piece.id, seen=piece.version, note="x")


def test_a_piece_is_described(desk: Desk, rims: str) -> None:
    piece = first(desk, rims)
    said = change_piece(
        desk,
        piece.id,
        seen=piece.version,
        rim_diameter_mm=180,
        diameter_method="chord",
        diameter_uncertainty_mm=15,
        chord_tenths_mm=620,
        sagitta_tenths_mm=55,
        rim_permille=110,
        wall_tenths_mm=65,
        colour_surface="2.5yr5/6",
        colour_core="10 YR 7/3",
        firing="oxidised grey core",
        condition="abraded burnt",
        inclusions="quartz, common, medium, poorly sorted, rounded; grog, 10 %",
        earliest=180,
        latest=320,
        dated_by="its form",
        conservation="salts to be drawn out",
        drawing_wanted=True,
    )
    assert (said.colour_surface, said.colour_core) == ("2.5YR 5/6", "10YR 7/3")
    assert (said.firing, said.condition) == ("oxidised grey_core", "abraded burnt")
    assert said.inclusions == "quartz, common, medium, poorly sorted, rounded; grog, 10 %"
    assert (said.conservation, said.drawing_wanted, said.shared) == ("desalting", True, "grams")
    assert said.doubts == ()
    emptied = change_piece(desk, piece.id, seen=said.version, colour_core="", earliest=None, inclusions="")
    assert (emptied.colour_core, emptied.earliest, emptied.inclusions) == ("", None, "")
    assert emptied.colour_surface == "2.5YR 5/6"
    assert prove(desk).sound


@pytest.mark.parametrize(
    ("said", "code"),
    [
        ({"rim_permille": 1001}, "rim_out_of_range"),
        ({"pieces": 2, "rim_permille": 1001}, "percent_range"),
        ({"base_permille": -1}, "rim_out_of_range"),
        ({"rim_diameter_mm": 0}, "not_a_length"),
        ({"rim_diameter_mm": 18000}, "too_wide"),
        ({"rim_diameter_mm": 60, "chord_tenths_mm": 620}, "diameter_below_chord"),
        ({"rim_diameter_mm": 60, "sagitta_tenths_mm": 601}, "height_above_diameter"),
        ({"diameter_method": "chart"}, "method_without_diameter"),
        ({"diameter_method": "guess", "rim_diameter_mm": 60}, "unknown_word"),
        ({"colour_surface": "2.5XY 5/6"}, "not_munsell"),
        ({"colour_core": "10YR 11/2"}, "value_range"),
        ({"colour_slip": "10YR 6/90"}, "chroma_range"),
        ({"earliest": 320, "latest": 180}, "range_reversed"),
        ({"inclusions": "kryptonite"}, "unknown_word"),
        ({"inclusions": "common, fine"}, "inclusion_kind_missing"),
        ({"inclusions": "quartz, grog"}, "said_twice"),
        ({"inclusions": "quartz, 0 %"}, "percent_range"),
        ({"firing": "lukewarm"}, "unknown_word"),
        ({"ware": "XXX"}, "unknown_ware"),
        ({"part": "nose"}, "unknown_part"),
        ({"decision": Decision.DISCARD}, "reason_needed"),
    ],
)
def test_what_cannot_be_said_of_a_piece(desk: Desk, rims: str, said: Any, code: str) -> None:
    piece = first(desk, rims)
    with refused(desk, code):
        change_piece(desk, piece.id, seen=piece.version, **said)


def test_a_share_without_a_diameter_is_allowed_and_marked(desk: Desk, rims: str) -> None:
    piece = first(desk, rims)
    read = change_piece(desk, piece.id, seen=piece.version, rim_permille=110, earliest=180)
    assert [doubt.code for doubt in read.doubts] == ["percent_without_diameter", "date_without_ground"]
    small = change_piece(desk, piece.id, seen=read.version, rim_permille=40, rim_diameter_mm=180, dated_by="form")
    assert [doubt.code for doubt in small.doubts] == ["small_share"]


def test_an_edit_begun_on_an_older_version_is_refused(desk: Desk, rims: str) -> None:
    piece = first(desk, rims)
    change_piece(sitting(desk, "Oren"), piece.id, seen=piece.version, note="his")
    with refused(desk, "changed_meanwhile") as caught:
        change_piece(desk, piece.id, seen=piece.version, note="mine")
    assert caught.value.facts["who"] == "Oren Vade"


def test_ware_and_decision_of_a_piece_move_the_totals(desk: Desk, rims: str) -> None:
    piece = first(desk, rims)
    change_piece(desk, piece.id, seen=piece.version, ware="TGY", decision=Decision.HOLD, reason="specialist")
    assert table_of(desk, rims).ledger.on_hold == 1
    prove_totals(desk)
    assert prove(desk).sound


def test_pieces_are_lifted_and_laid_back_by_their_names(desk: Desk, rims: str) -> None:
    do(desk, "lift", {"how-many": "2", "grams": "60"}, ("131", "1"))
    do(desk, "describe", {"rim_diameter": "18 cm", "wall": "6.5", "rim": "11", "surface": "slip"}, ("131.2",))
    second = pieces_of(desk, rims)[1]
    assert (second.rim_diameter_mm, second.wall_tenths_mm, second.rim_permille) == (180, 65, 110)
    lay_back_named(desk, second.code)
    assert [piece.name for piece in pieces_of(desk, rims)] == ["131.1"]
    with refused(desk, "unknown_piece"):
        lay_back_named(desk, "131.9")
    with refused(desk, "unknown_piece"):
        lay_back_named(desk, "131")
    with refused(desk, "not_a_piece"):
        lay_back_named(desk, rims)
    with refused(desk, "no_such_row"):
        lift_from_row(desk, rims, 9)


def test_lifting_is_taken_back_like_a_row(desk: Desk, rims: str) -> None:
    before = table_of(desk, rims).groups
    first(desk, rims, tenths=412)
    take_back_last(desk, rims)
    assert pieces_of(desk, rims) == ()
    assert [row.facts for row in table_of(desk, rims).groups] == [row.facts for row in before]
    assert prove(desk).sound


def test_laying_back_is_taken_back_with_number_and_code(desk: Desk, rims: str) -> None:
    piece = first(desk, rims, tenths=412)
    lay_back(desk, piece.id, seen=piece.version)
    take_back_last(desk, rims)
    (again,) = pieces_of(desk, rims)
    assert (again.name, again.code, again.tenths, again.lifted_at) == ("131.1", piece.code, 412, piece.lifted_at)
    assert prove(desk).sound


def test_a_row_that_was_lifted_from_by_another_is_not_taken_back(desk: Desk, rims: str) -> None:
    lift(sitting(desk, "Oren"), rims, row=2)
    with refused(desk, "row_moved_since"):
        take_back_last(desk, rims)


def test_bags_marks_and_shares_of_wares_hold_the_pieces_too(desk: Desk, rims: str) -> None:
    lift(desk, rims, 11)
    table = table_of(desk, rims)
    assert [(share.ware, share.pieces) for share in table.wares] == [("QRS", 11), ("TGY", 3)]
    assert (table.lifted, table.grams.accounted) == (11, 3900)
    settle(desk, rims, sure=True)
    assert [(one.what, one.pieces, one.tenths) for one in propose_bags(desk, rims)] == [
        (BagOf.DIAGNOSTIC, 11, 3400),
        (BagOf.BODY, 3, 500),
    ]
    (mark,) = mark_lines(desk)
    assert (mark.diagnostic, mark.others) == (11, 3)


def test_the_totals_of_wares_follow_a_container_with_its_pieces(desk: Desk, rims: str) -> None:
    lift(desk, rims, 2)
    move_container(desk, rims, to="2019", reason="wrong tag")
    prove_totals(desk)
    assert prove(desk).sound


# --- the law of balance -------------------------------------------------------------------------------------------

NUMBERS = count(1000)
ACTS = st.one_of(
    st.tuples(st.just("lift"), st.integers(1, 3), st.integers(0, 4), st.one_of(st.none(), st.integers(0, 900))),
    st.tuples(st.just("lay back"), st.integers(0, 5)),
    st.tuples(st.just("decide"), st.integers(0, 5), st.sampled_from([Decision.KEEP, Decision.HOLD, Decision.MEND])),
    st.tuples(st.just("take back")),
)


@pytest.fixture(scope="module")
def yard(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    """Return one yard for all examples: each sorts a container of its own."""
    folder: Path = tmp_path_factory.mktemp("pieces")
    opened = new_yard(folder)
    yield opened
    opened.close()


def do_one(desk: Desk, code: str, act: tuple[Any, ...]) -> None:
    """Do one act; one that finds nothing to act on does nothing."""
    kind, *facts = act
    groups, pieces = table_of(desk, code).groups, pieces_of(desk, code)
    if kind == "lift" and facts[1] < len(groups):
        group = groups[facts[1]]
        how_many = min(facts[0], group.pieces)
        tenths = None if facts[2] is None else min(facts[2], group.tenths or 0)
        lift_pieces(desk, group.id, seen=group.version, how_many=how_many, tenths=tenths)
    elif kind == "lay back" and facts[0] < len(pieces):
        lay_back(desk, pieces[facts[0]].id, seen=pieces[facts[0]].version)
    elif kind == "decide" and facts[0] < len(pieces):
        change_piece(desk, pieces[facts[0]].id, seen=pieces[facts[0]].version, decision=facts[1])
    elif kind == "take back":
        try:
            take_back_last(desk, code)
        except Refusal as refusal:
            if refusal.code != "row_moved_since":
                raise


@given(acts=st.lists(ACTS, max_size=10))
@settings(max_examples=30, deadline=None)
def test_however_sherds_are_lifted_and_laid_back_the_law_holds(yard: Desk, acts: list[tuple[Any, ...]]) -> None:
    code = dry_container(yard, next(NUMBERS), 12)
    written = [("rim", 7, 2000, 640), ("rim", 1, 150, None), ("base", 4, 601, None)]
    for part, pieces, tenths, rim in written:
        add_group(yard, code, ware="QRS", part=part, pieces=pieces, tenths=tenths, rim_permille=rim)
    add_group(yard, code, ware="TGY", part="body", pieces=20, tenths=2000)
    undone = 0
    for act in acts:
        undone += act[0] == "take back"
        if undone <= 3:
            do_one(yard, code, act)
    table, lifted = table_of(yard, code), pieces_of(yard, code)
    sherds = sum(group.pieces for group in table.groups) + sum(piece.pieces for piece in lifted)
    ledger = table.ledger
    assert ledger.kept + ledger.on_hold + ledger.to_discard == sherds
    assert len({piece.number for piece in lifted}) == len(lifted)
    prove_totals(yard)
    assert prove(yard).sound
