"""What was seen in the trench and left there: counted or not, answered by its opposite, in no balance."""

from findsdesk.desk.deposit_facts import deposit_facts
from findsdesk.desk.desk import Desk
from findsdesk.desk.left_in_trench import answer_left, answer_newest_left, left_in_trench, left_of
from findsdesk.desk.proving import prove
from findsdesk.desk.renumbering import merge_deposits
from tests.desk.at_the_table import kept_balances, refused
from tests.yard import put_settled


def test_what_was_left_stands_beside_its_deposit_and_in_no_balance(desk: Desk) -> None:
    put_settled(desk, 131)
    before = kept_balances(desk)
    left_in_trench(desk, "2017", what="coarse body sherds", pieces=240, tenths=38000, why="nothing diagnostic")
    left_in_trench(desk, "2017", what="roof tile, about a barrow", material="tile")
    facts = deposit_facts(desk, "2017")
    assert (facts.left_entries, facts.left_pieces) == (2, 240)
    assert deposit_facts(desk, "2019").left_entries == 0
    assert [(one.what, one.material, one.pieces) for one in left_of(desk, "2017")] == [
        ("coarse body sherds", "pottery", 240),
        ("roof tile, about a barrow", "tile_brick", None),
    ]
    assert kept_balances(desk) == before
    assert prove(desk).sound


def test_what_was_left_follows_a_deposit_that_is_merged(desk: Desk) -> None:
    left_in_trench(desk, "2017", what="body sherds", pieces=240)
    merge_deposits(desk, "2017", into="2019", reason="one floor", sure=True)
    assert deposit_facts(desk, "2019").left_pieces == 240
    assert [one.deposit for one in left_of(desk, "2019")] == ["2017"]
    merge_deposits(desk, "2019", into="2003", reason="one floor", sure=True)
    assert deposit_facts(desk, "2003").left_pieces == 240
    assert [one.deposit for one in left_of(desk, "2003")] == ["2017"]


def test_an_entry_is_answered_once_by_its_opposite(desk: Desk) -> None:
    first = left_in_trench(desk, "2017", what="body sherds", pieces=240)
    left_in_trench(desk, "2017", what="tile")
    answer_left(desk, first.id, why="they were collected after all")
    facts = deposit_facts(desk, "2017")
    assert (facts.left_entries, facts.left_pieces) == (1, 0)
    with refused(desk, "already_answered"):
        answer_left(desk, first.id, why="again")
    answer = next(one for one in left_of(desk, "2017") if one.answers_id == first.id)
    with refused(desk, "already_answered"):
        answer_left(desk, answer.id, why="no")
    answer_newest_left(desk, "2017", why="none was there")
    assert deposit_facts(desk, "2017").left_entries == 0
    with refused(desk, "unknown_entry"):
        answer_newest_left(desk, "2017", why="none")
    assert prove(desk).sound


def test_what_cannot_be_meant_is_refused(desk: Desk) -> None:
    with refused(desk, "empty"):
        left_in_trench(desk, "2017", what=" ")
    with refused(desk, "unknown_deposit"):
        left_in_trench(desk, "9999", what="sherds")
    with refused(desk, "unknown_material"):
        left_in_trench(desk, "2017", what="sherds", material="moonstone")
    with refused(desk, "left_pieces"):
        left_in_trench(desk, "2017", what="sherds", pieces=0)
    with refused(desk, "group_grams"):
        left_in_trench(desk, "2017", what="sherds", tenths=-1)
    with refused(desk, "unknown_entry"):
        answer_left(desk, 123, why="x")
    with refused(desk, "reason_needed"):
        answer_left(desk, 123, why=" ")
