"""Taking back one's last act at the sorting table: a new act, in order, one's own, and never over somebody else's."""

from sqlalchemy import select

from findsdesk.desk.changing_pieces import change_piece
from findsdesk.desk.desk import Desk
from findsdesk.desk.objects import Leaves, register_object
from findsdesk.desk.pieces import lift_pieces, pieces_of
from findsdesk.desk.proving import prove
from findsdesk.desk.samples import take_sample
from findsdesk.desk.sorting import (
    GroupRow,
    add_group,
    answer_entry,
    begin_sorting,
    change_group,
    do_again,
    explain,
    remove_group,
    table_of,
    take_back_last,
)
from findsdesk.desk.taking_back import Said
from findsdesk.desk.type_series import merge_wares, remove_ware
from findsdesk.desk.vessel_rows import group_leaves_vessel
from findsdesk.desk.vessels import gather_vessel, vessel_of
from findsdesk.domain.balance import Decision, Entry
from findsdesk.domain.standings import Standing
from findsdesk.store.models import Container, Part
from tests.desk.at_the_table import dry_container, prove_totals, refused
from tests.yard import acts, advance, sitting, standing_of


def read_132(desk: Desk, code: str) -> list[GroupRow]:
    """Read 131 sherds of 132 aloud, as on the day: one is left."""
    return [
        add_group(desk, code, ware="QRS", part="rim", pieces=11, tenths=3400),
        add_group(
            desk,
            code,
            ware="qrs",
            part="body",
            pieces=54,
            decision=Decision.DISCARD,
            reason="no diagnostic value",
        ),
        add_group(desk, code, ware="TGY", part="handle", pieces=2, decision=Decision.MEND),
        add_group(desk, code, ware="", part="indeterminate", pieces=64, decision=Decision.HOLD),
    ]


def test_taking_back_twice_takes_back_two_acts(desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    first, second, *_rest = read_132(desk, code)
    change_group(desk, second.id, seen=second.version, pieces=50)
    assert take_back_last(desk, code).deed == "change_group"
    assert take_back_last(desk, code).deed == "add_group"
    assert take_back_last(desk, code).said == "131: TGY handle 2, keep for mending"
    table = table_of(desk, code)
    assert [(row.id, row.pieces) for row in table.groups] == [(first.id, 11), (second.id, 54)]
    prove_totals(desk)


def test_a_removed_row_comes_back_and_can_be_taken_back_further(desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    row = add_group(desk, code, ware="QRS", part="rim", pieces=11, note="burnt")
    remove_group(desk, row.id, seen=row.version)
    take_back_last(desk, code)
    (back,) = table_of(desk, code).groups
    assert (back.facts, back.ordinal) == (row.facts, row.ordinal)
    assert back.id != row.id
    take_back_last(desk, code)
    assert table_of(desk, code).groups == ()
    with refused(desk, "nothing_to_take_back"):
        take_back_last(desk, code)
    prove_totals(desk)


def test_each_takes_back_their_own(desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    oren, mika = sitting(desk, "Oren"), sitting(desk, "Mika")
    hers = add_group(mika, code, ware="QRS", part="rim", pieces=11)
    his = add_group(oren, code, ware="TGY", part="body", pieces=7)
    take_back_last(mika, code)
    assert [row.id for row in table_of(desk, code).groups] == [his.id]
    assert hers.id != his.id
    with refused(desk, "nothing_to_take_back"):
        take_back_last(mika, code)


def test_a_row_that_moved_is_not_taken_back(desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    oren, mika = sitting(desk, "Oren"), sitting(desk, "Mika")
    row = add_group(oren, code, ware="QRS", part="rim", pieces=11)
    change_group(mika, row.id, seen=row.version, pieces=12)
    with refused(desk, "row_moved_since") as caught:
        take_back_last(oren, code)
    assert "Mika Sool" in caught.value.in_words(desk.terms)
    take_back_last(mika, code)
    with refused(desk, "row_moved_since"):
        take_back_last(oren, code)


def test_taking_back_is_an_act_of_its_own(desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    add_group(desk, code, ware="QRS", part="rim", pieces=11)
    before = acts(desk)
    take_back_last(desk, code)
    assert acts(desk) == before + 1


def lies(desk: Desk, code: str) -> list[tuple[str, str, object]]:
    with desk.reading() as reading:
        wanted = select(Part.place_kind, Part.place, Part.since).join(Container).where(Container.code == code)
        return [tuple(row) for row in reading.session.execute(wanted).all()]


def test_the_row_that_began_the_sorting_taken_back_lets_it_lie_where_it_lay(desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    explain(desk, code, Entry.NOT_A_SHERD, pieces=1, why="pebble")
    lay = lies(desk, code)
    add_group(desk, code, ware="QRS", part="rim", pieces=11)
    for _time in range(2):
        assert lies(desk, code)[0][:2] == ("table", "")
        take_back_last(desk, code)
        assert (standing_of(desk, code), lies(desk, code)) == (Standing.DRYING, lay)
        assert table_of(desk, code).turn.again == Said("add_group", "QRS rim 11, keep")
        assert do_again(desk, code).said == "131: QRS rim 11, keep"
        assert standing_of(desk, code) is Standing.SORTING
    take_back_last(desk, code)
    take_back_last(desk, code)
    assert (standing_of(desk, code), table_of(desk, code).ledger.not_a_sherd) == (Standing.DRYING, 0)
    assert [do_again(desk, code).deed for _time in range(2)] == ["explain", "add_group"]
    prove_totals(desk)
    assert prove(desk).sound


def test_a_wet_one_put_onto_the_table_all_the_same_goes_back_and_comes_again(desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    advance(desk, hours=-1)
    add_group(desk, code, ware="QRS", part="rim", pieces=11, sure=True)
    take_back_last(desk, code)
    assert standing_of(desk, code) is Standing.DRYING
    with refused(desk, "not_dry_yet"):
        add_group(desk, code, ware="QRS", part="rim", pieces=11)
    do_again(desk, code)
    assert standing_of(desk, code) is Standing.SORTING


def test_what_somebody_else_reads_holds_it_on_the_table(desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    oren, mika = sitting(desk, "Oren"), sitting(desk, "Mika")
    add_group(oren, code, ware="QRS", part="rim", pieces=11)
    add_group(mika, code, ware="TGY", part="body", pieces=7)
    take_back_last(oren, code)
    assert standing_of(desk, code) is Standing.SORTING
    take_back_last(mika, code)
    assert standing_of(desk, code) is Standing.DRYING
    do_again(mika, code)
    do_again(oren, code)
    assert sorted(row.pieces for row in table_of(desk, code).groups) == [7, 11]
    prove_totals(desk)


def test_a_row_after_one_that_was_removed_by_hand_leaves_it_on_the_table(desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    row = add_group(desk, code, ware="QRS", part="rim", pieces=11)
    remove_group(desk, row.id, seen=row.version)
    add_group(desk, code, ware="TGY", part="body", pieces=7)
    take_back_last(desk, code)
    assert standing_of(desk, code) is Standing.SORTING
    take_back_last(desk, code)
    take_back_last(desk, code)
    assert standing_of(desk, code) is Standing.DRYING


def test_what_was_put_onto_the_table_by_hand_stays_there(desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    begin_sorting(desk, code)
    add_group(desk, code, ware="QRS", part="rim", pieces=11)
    take_back_last(desk, code)
    assert standing_of(desk, code) is Standing.SORTING


def test_what_another_kind_of_act_did_to_the_row_is_in_the_way(desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    row = add_group(desk, code, ware="QRS", part="rim", pieces=2)
    lifted = lift_pieces(desk, row.id, seen=row.version).pieces[0]
    gather_vessel(desk, [lifted.id])
    with refused(desk, "row_moved_since") as caught:
        take_back_last(desk, code)
    assert "vessel 1 or left it (131.1; " in caught.value.in_words(desk.terms)
    assert vessel_of(desk, 1).pieces[0].name == "131.1"


def test_a_row_comes_back_into_its_vessel(desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    row = add_group(desk, code, ware="QRS", part="rim", pieces=2)
    gather_vessel(desk, [], group_ids=[row.id])
    (row,) = table_of(desk, code).groups
    remove_group(desk, row.id, seen=row.version)
    assert vessel_of(desk, 1).in_groups == 0
    take_back_last(desk, code)
    assert vessel_of(desk, 1).in_groups == 2
    (row,) = table_of(desk, code).groups
    lift_pieces(desk, row.id, seen=row.version, how_many=2)
    take_back_last(desk, code)
    assert (vessel_of(desk, 1).in_groups, vessel_of(desk, 1).pieces) == (2, ())
    # What put it into the vessel is taken back in turn, under whatever id the row stands now.
    assert table_of(desk, code).turn.back == Said("gather_vessel", "1: 131 QRS rim 2")
    assert take_back_last(desk, code).deed == "gather_vessel"
    assert take_back_last(desk, code).deed == "add_group"
    prove_totals(desk)


def test_what_brought_a_row_back_into_its_vessel_is_taken_back_and_done_again(desk: Desk) -> None:
    """The row that came back was written twice in that act, as itself and into its vessel: it is one row."""
    code = dry_container(desk, 131, 132)
    row = add_group(desk, code, ware="QRS", part="rim", pieces=2)
    gather_vessel(desk, [], group_ids=[row.id])
    (row,) = table_of(desk, code).groups
    lift_pieces(desk, row.id, seen=row.version, how_many=2)
    for _time in range(2):
        assert [take_back_last(desk, code).deed for _act in range(3)] == ["lift_pieces", "gather_vessel", "add_group"]
        for _act in range(3):
            do_again(desk, code)
        assert (vessel_of(desk, 1).in_groups, len(vessel_of(desk, 1).pieces)) == (0, 2)
    prove_totals(desk)
    assert prove(desk).sound


def test_a_row_leaves_its_vessel_and_comes_into_it_in_turn(desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    row = add_group(desk, code, ware="QRS", part="rim", pieces=2)
    gather_vessel(desk, [], group_ids=[row.id], for_mending=True, note="striped")
    (row,) = table_of(desk, code).groups
    group_leaves_vessel(desk, row.id, seen=row.version)
    assert table_of(desk, code).turn.back == Said("leave_vessel", "1: 131 QRS rim 2")
    inside = [None, 1, None]
    for _time in range(2):
        for vessel in (1, None):
            take_back_last(desk, code)
            assert [row.vessel for row in table_of(desk, code).groups] == [vessel]
        take_back_last(desk, code)
        for vessel in inside:
            do_again(desk, code)
            assert [row.vessel for row in table_of(desk, code).groups] == [vessel]
        take_back_last(desk, code)
        vessel_now = vessel_of(desk, 1)
        assert (vessel_now.in_groups, vessel_now.for_mending, vessel_now.note) == (2, True, "striped")
        do_again(desk, code)
    with refused(desk, "unknown_vessel"):
        vessel_of(desk, 1)
    prove_totals(desk)
    assert prove(desk).sound


def test_rows_put_into_a_vessel_together_leave_it_together(desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    rows = [add_group(desk, code, ware="QRS", part=part, pieces=2) for part in ("rim", "base")]
    gather_vessel(desk, [], group_ids=[row.id for row in rows], note="striped")
    assert table_of(desk, code).turn.back == Said("gather_vessel", "1: 131 QRS rim 2, 131 QRS base 2")
    for _time in range(2):
        assert take_back_last(desk, code).deed == "gather_vessel"
        assert [row.vessel for row in table_of(desk, code).groups] == [None, None]
        assert [take_back_last(desk, code).deed for _row in rows] == ["add_group", "add_group"]
        assert [do_again(desk, code).deed for _act in range(3)] == ["add_group", "add_group", "gather_vessel"]
        assert [row.vessel for row in table_of(desk, code).groups] == [1, 1]
        assert (vessel_of(desk, 1).in_groups, vessel_of(desk, 1).note) == (4, "striped")
    prove_totals(desk)
    assert prove(desk).sound


def test_of_rows_put_into_a_vessel_from_two_tables_each_table_takes_back_its_own(desk: Desk) -> None:
    codes = [dry_container(desk, number, 132) for number in (131, 132)]
    rows = [add_group(desk, code, ware="QRS", part="rim", pieces=2) for code in codes]
    gather_vessel(desk, [], group_ids=[row.id for row in rows])
    for code, number in zip(codes, ("131", "132"), strict=True):
        assert table_of(desk, code).turn.back == Said("gather_vessel", f"1: {number} QRS rim 2")
        assert take_back_last(desk, code).said == f"1: {number} QRS rim 2"
    with refused(desk, "unknown_vessel"):
        vessel_of(desk, 1)
    for code in codes:
        do_again(desk, code)
    assert vessel_of(desk, 1).rows_of == ("131", "132")
    assert prove(desk).sound


def test_what_somebody_else_gathered_is_in_the_way_and_what_i_gathered_of_pieces_is_named(desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    row = add_group(desk, code, ware="QRS", part="rim", pieces=3)
    gather_vessel(sitting(desk, "Mika"), [], group_ids=[row.id])
    with refused(desk, "row_moved_since") as caught:
        take_back_last(desk, code)
    assert "vessel 1 or left it (131 QRS rim 3; Mika Sool)" in caught.value.in_words(desk.terms)
    (row,) = table_of(desk, code).groups
    piece = lift_pieces(desk, row.id, seen=row.version).pieces[0]
    other = add_group(desk, code, ware="TGY", part="body", pieces=3)
    gather_vessel(desk, [piece.id], number=1, group_ids=[other.id]) if piece.vessel is None else None
    piece = pieces_of(desk, code)[0]
    change_piece(desk, piece.id, seen=piece.version, note="fine")
    turn = table_of(desk, code).turn
    assert (turn.back.deed, turn.stays.deed) == ("add_group", "change_piece")


def test_no_row_comes_back_of_a_ware_that_was_merged_or_taken_away(desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    row = add_group(desk, code, ware="QRS", part="rim", pieces=2)
    remove_group(desk, row.id, seen=row.version)
    remove_ware(desk, "QRS")
    with refused(desk, "type_gone") as caught:
        take_back_last(desk, code)
    assert "QRS" in caught.value.in_words(desk.terms)
    other = dry_container(desk, 132, 132)
    row = add_group(desk, other, ware="MBU", part="rim", pieces=2)
    change_group(desk, row.id, seen=row.version, ware="TGY")
    merge_wares(desk, "MBU", "CSJ", sure=True)
    with refused(desk, "type_gone"):
        take_back_last(desk, other)
    prove_totals(desk)


def test_an_explanation_is_taken_back_in_turn_and_done_again(desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    add_group(desk, code, ware="QRS", part="rim", pieces=11)
    explain(desk, code, Entry.NOT_A_SHERD, pieces=1, why="pebble")
    add_group(desk, code, ware="TGY", part="body", pieces=5)
    for _time in range(2):
        assert take_back_last(desk, code).said == "131: TGY body 5, keep"
        assert table_of(desk, code).turn.back == Said("explain", "1 not a sherd (pebble)")
        assert take_back_last(desk, code).said == "131: 1 not a sherd (pebble)"
        assert table_of(desk, code).ledger.not_a_sherd == 0
        assert table_of(desk, code).turn.back == Said("add_group", "QRS rim 11, keep")
        assert table_of(desk, code).turn.again == Said("explain", "1 not a sherd (pebble)")
        assert do_again(desk, code).deed == "explain"
        assert table_of(desk, code).ledger.not_a_sherd == 1
        assert do_again(desk, code).deed == "add_group"
    prove_totals(desk)
    assert prove(desk).sound


def test_an_explanation_taken_back_by_hand_comes_back_in_turn(desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    entry = explain(desk, code, Entry.FOUND_MORE, pieces=2, why="counted too few")
    answer_entry(desk, entry.entry_id, why="typed wrongly")
    assert table_of(desk, code).turn.back == Said("answer_entry", "2 found more (counted too few)")
    take_back_last(desk, code)
    assert table_of(desk, code).ledger.found_more == 2
    take_back_last(desk, code)
    assert table_of(desk, code).ledger.found_more == 0
    assert not table_of(desk, code).turn.back
    prove_totals(desk)


def test_what_somebody_else_took_back_is_not_taken_back_twice(desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    oren, mika = sitting(desk, "Oren"), sitting(desk, "Mika")
    entry = explain(oren, code, Entry.NOT_A_SHERD, pieces=1, why="pebble")
    answer_entry(mika, entry.entry_id, why="a sherd after all")
    with refused(desk, "row_moved_since"):
        take_back_last(oren, code)


def test_what_stays_is_named_and_never_passed_over_in_silence(desk: Desk) -> None:
    code, other = dry_container(desk, 131, 132), dry_container(desk, 132, 9)
    row = add_group(desk, code, ware="QRS", part="rim", pieces=11)
    assert not table_of(desk, code).turn.stays
    lift_pieces(desk, row.id, seen=row.version)
    register_object(desk, code, what="coin", material="bronze", leaves=Leaves.NOT_A_SHERD)
    take_sample(desk, other, what_for="residue", pieces_used=1)
    turn = table_of(desk, code).turn
    assert turn.back == Said("lift_pieces", "131.1")
    assert turn.stays.deed == "register_object"
    assert "coin" in turn.stays.said
    add_group(desk, code, ware="TGY", part="body", pieces=5)
    assert not table_of(desk, code).turn.stays
    turn = table_of(desk, other).turn
    assert (turn.back, turn.stays) == (Said(), Said("take_sample", "1: 132, residues"))
    with refused(desk, "stays_written") as caught:
        take_back_last(desk, other)
    assert "residue" in caught.value.in_words(desk.terms)


def test_what_was_said_of_a_piece_elsewhere_is_no_act_of_the_table(desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    row = add_group(desk, code, ware="QRS", part="rim", pieces=11)
    piece = lift_pieces(desk, row.id, seen=row.version).pieces[0]
    change_piece(desk, piece.id, seen=piece.version, note="fine")
    assert table_of(desk, code).turn.back == Said("lift_pieces", "131.1")
    with refused(desk, "row_moved_since"):
        take_back_last(desk, code)
