"""The law of balance and of undo over every act of sorting, through the real use cases, in whatever order.

After each act the kept totals of the container are those of its entries, groups and pieces; what is taken back
restores every row, figure and standing, or is refused in words; at the end the whole store is proved.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import count
from typing import Any

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from findsdesk.desk.changing_pieces import change_piece
from findsdesk.desk.counting import count_again
from findsdesk.desk.desk import Desk
from findsdesk.desk.discard_lists import discard_lists
from findsdesk.desk.discards import call_back, carried_away, make_list, sign_list, take_off
from findsdesk.desk.joins import change_join, join_pieces, joins_of, part_pieces
from findsdesk.desk.ledgers import there_now
from findsdesk.desk.left_in_trench import answer_left, left_in_trench
from findsdesk.desk.moving import take_out
from findsdesk.desk.objects import Leaves, register_object
from findsdesk.desk.pieces import lay_back, lift_pieces, pieces_of
from findsdesk.desk.pins import set_pin
from findsdesk.desk.proving import prove
from findsdesk.desk.retention import add_rule
from findsdesk.desk.samples import take_sample
from findsdesk.desk.shares import draw_share, shares_ahead
from findsdesk.desk.sorting import (
    GroupFacts,
    GroupRow,
    NewGroup,
    add_group,
    add_groups,
    answer_entry,
    change_group,
    do_again,
    explain,
    remove_group,
    reopen,
    settle,
    table_of,
    take_back_last,
)
from findsdesk.desk.vessel_rows import group_leaves_vessel
from findsdesk.desk.vessels import gather_vessel, leave_vessel
from findsdesk.domain.balance import Decision, Entry
from findsdesk.domain.discards import Stage
from findsdesk.domain.refusals import Refusal
from tests.desk.at_the_table import dry_container
from tests.desk.sorted_at_random import ACTS, TO_THE_END, TURNS, Act, Sorting, every_act_once, obeys
from tests.yard import advance, new_yard, sitting

PIN = "2406"
NUMBERS = count(1000, 100)
"""Far apart: objects taken out of a container get the numbers after its own."""
MEANT = frozenset(
    {
        # No to what cannot be: none of it may change anything.
        *("left_unsorted", "over", "share_waits", "grams_disagree", "nothing_sorted", "more_than_there"),
        *("more_than_group", "rim_out_of_range", "group_pieces", "already_settled", "on_discard_list", "carried_off"),
        *("container_on_list", "nothing_to_discard", "not_signed", "already_signed", "withdrawn", "not_proposed"),
        *("not_settled", "piece_in_use", "in_other_vessel", "in_no_vessel", "already_joined", "share_of_rims"),
        *("nothing_to_take_back", "stays_written", "row_moved_since", "nothing_to_do_again", "no_share"),
        *("entry_of_sample", "not_sorted", "share_counted"),
    }
)
IN_THE_WAY = frozenset({"row_moved_since", "already_settled", "piece_in_use", "on_discard_list", "carried_off"})
"""Why something is not taken back: what was done since."""
Undo = Callable[[], object]


@pytest.fixture(scope="module")
def yard(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    """Return one yard for all examples, the ceramicist at it: each example sorts a container of its own."""
    opened = new_yard(tmp_path_factory.mktemp("sorting"))
    set_pin(opened, "Ilo", pin=PIN)
    add_rule(opened, "Marl body", decision=Decision.DISCARD, reason="modern", wares=["MBU"], parts=["body"], one_in=3)
    yield sitting(opened, "Oren")
    opened.close()


def written(at: Sorting, act: Act) -> Undo | None:
    """Add a group, paste two, or change one."""
    reason = "modern" if act.decision is Decision.DISCARD else ""
    rim = 40 * act.pieces if act.part == "rim" else None
    said = GroupFacts(act.ware, act.part, act.pieces, act.pieces * 171, reason=reason, rim_permille=rim)
    facts: dict[str, Any] = {"ware": act.ware, "part": act.part, "pieces": act.pieces, "rim_permille": rim}
    groups = table_of(at.desk, at.code).groups
    if act.kind == "paste":
        add_groups(at.desk, at.code, [NewGroup(said, act.decision), NewGroup(said, Decision.KEEP)])
    elif act.kind == "add":
        add_group(at.desk, at.code, tenths=said.tenths, decision=act.decision, reason=reason, **facts)
    elif groups:
        row = groups[act.which % len(groups)]
        change_group(at.desk, row.id, seen=row.version, decision=act.decision, reason=reason or None, **facts)
    else:
        return None
    return at.take_back


def on_a_row(at: Sorting, act: Act) -> Undo | None:
    """Remove, lift from, or draw the share of a group."""
    groups, waiting = table_of(at.desk, at.code).groups, shares_ahead(at.desk, at.code)
    if not (waiting if act.kind == "share" else groups):
        return None
    if act.kind == "share":
        drawn_first(at, act.which % 3 + 1)
        return at.take_back
    row = groups[act.which % len(groups)]
    if act.kind == "pot":
        into_a_vessel(at, row, [one for one in groups if one.vessel is None] if act.pieces > 4 else [row])
        return at.take_back
    if act.kind == "remove":
        remove_group(at.desk, row.id, seen=row.version)
    else:
        lift_pieces(at.desk, row.id, seen=row.version, how_many=min(act.pieces, row.pieces))
    return at.take_back


def into_a_vessel(at: Sorting, row: GroupRow, together: Sequence[GroupRow]) -> None:
    """Gather a row into a vessel, alone or together with others, or take it out of its own."""
    if row.vessel is not None:
        group_leaves_vessel(at.desk, row.id, seen=row.version)
    else:
        gather_vessel(at.desk, [], group_ids=[one.id for one in together], sure=True)


def drawn_first(at: Sorting, start: int) -> None:
    ahead = shares_ahead(at.desk, at.code)[0]
    draw_share(at.desk, ahead.group_id, seen=ahead.version, start=start)


def on_a_piece(at: Sorting, act: Act) -> Undo | None:
    """Lay a piece back, describe it, gather it, join it, part it, doubt a join of it, or take a sample of it."""
    pieces = pieces_of(at.desk, at.code)
    if not pieces:
        return None
    piece, other = pieces[act.which % len(pieces)], pieces[0]
    if act.kind == "lay back":
        lay_back(at.desk, piece.id, seen=piece.version)
        return at.take_back
    if act.kind == "describe":
        said: dict[str, Any] = {"decision": act.decision} if act.decision else {"note": f"seen in {piece.version}"}
        why = {"reason": "modern"} if act.decision is Decision.DISCARD else {}
        change_piece(at.desk, piece.id, seen=piece.version, **said, **why)  # type: ignore[typeddict-item]
        return None
    if act.kind == "vessel":
        gather_vessel(at.desk, [piece.id], sure=True)
    elif act.kind == "leave":
        leave_vessel(at.desk, piece.id, seen=piece.version)
    elif act.kind == "join" and piece.id != other.id:
        join_pieces(at.desk, piece.id, other.id, sure=True)
    elif act.kind in ("part", "doubt") and piece.id != other.id:
        joined = joins_of(at.desk, piece.id) or (join_pieces(at.desk, piece.id, other.id, sure=True),)
        if act.kind == "part":
            part_pieces(at.desk, joined[0].id, seen=joined[0].version)
        else:
            change_join(at.desk, joined[0].id, seen=joined[0].version, certain=not joined[0].certain)
    elif act.kind == "sample" and piece.pieces:
        take_sample(at.desk, piece.code, what_for="residue", pieces_used=act.pieces % 2, taken_tenths=1)
    return None


def in_the_ledger(at: Sorting, act: Act) -> Undo | None:
    """Explain, or explain and answer it, count again, take an object or others out, or leave finds in the trench."""
    if act.kind == "explain":
        entry = explain(at.desk, at.code, act.entry, pieces=act.pieces).entry_id
        if act.which % 2:
            return at.take_back
        answer_entry(at.desk, entry, why="not so")
        if act.undo_it:
            at.take_back()
        else:
            at.past.append(at.rows())
        return at.take_back
    if act.kind == "count again":
        there = there_now(table_of(at.desk, at.code).ledger)
        count_again(at.desk, at.code, pieces=15 + act.pieces)
        return (lambda: count_again(at.desk, at.code, pieces=there)) if there > 0 else None
    if act.kind == "take out":
        take_out(at.desk, at.code, pieces=act.pieces, material="bone")
        return None
    if act.kind == "object":
        register_object(at.desk, at.code, what="coin", material="bronze", leaves=act.leaves)
        return None
    left = left_in_trench(at.desk, "2017", what="body sherds", pieces=4).id
    return lambda: answer_left(at.desk, left, why="collected")


def to_the_end(at: Sorting, act: Act) -> Undo | None:
    """Settle, all at once or as it stands, open again; list what is discarded, sign, call back, carry away."""
    if act.kind == "home":
        while shares_ahead(at.desk, at.code):
            drawn_first(at, 1)
        ledger = table_of(at.desk, at.code).ledger
        if not ledger.balances:
            entry = Entry.FOUND_MORE if ledger.over else Entry.NOT_A_SHERD
            explain(at.desk, at.code, entry, pieces=abs(ledger.unsorted))
        settle(at.desk, at.code, sure=True)
        make_list(at.desk)
    elif act.kind == "settle":
        settle(at.desk, at.code, sure=True)
        return lambda: reopen(at.desk, at.code, reason="a join")
    elif act.kind == "reopen":
        reopen(at.desk, at.code, reason="a join")
        return lambda: settle(at.desk, at.code, sure=True)
    elif act.kind == "list":
        make_list(at.desk)
    else:
        with_the_newest_list(at.desk, act.kind)
    return None


def with_the_newest_list(desk: Desk, kind: str) -> None:
    number = max((one.number for one in discard_lists(desk) if one.stage is not Stage.WITHDRAWN), default=0)
    if not number:
        return
    if kind == "sign":
        sign_list(desk, number, signer="Ilo", pin=PIN)
    elif kind == "off":
        take_off(desk, number, why="painted")
    elif kind == "call back":
        call_back(desk, number, why="painted")
    else:
        carried_away(desk, number, where="pit", how="barrow", marker="tile")


def turn(at: Sorting, kind: str) -> None:
    """Take back or do again; the rows stand as they stood, wherever nothing but such acts was done to them."""
    before = at.rows()
    (take_back_last if kind == "back" else do_again)(at.desk, at.code)
    stack, other = (at.past, at.ahead) if kind == "back" else (at.ahead, at.past)
    other.append(before)
    if stack:
        assert at.rows() == stack.pop()


DEEDS: dict[str, Callable[[Sorting, Act], Undo | None]] = {
    **dict.fromkeys(("add", "paste", "change"), written),
    **dict.fromkeys(("remove", "share", "lift", "pot"), on_a_row),
    **dict.fromkeys(("lay back", "describe", "vessel", "leave", "join", "part", "doubt", "sample"), on_a_piece),
    **dict.fromkeys(("explain", "count again", "object", "take out", "left"), in_the_ledger),
    **dict.fromkeys(TO_THE_END, to_the_end),
}
FORGETS = frozenset({"vessel", "leave", "sample", "describe", *TO_THE_END})
"""After these the rows are not those that were piled up before."""


def do(at: Sorting, act: Act) -> None:
    """Do an act, pile up what stood there before it, and take it back at once where that is wanted."""
    if act.kind in TURNS:
        turn(at, act.kind)
        return
    before, rows = (at.everything() if act.undo_it else None), at.rows()
    if act.kind in FORGETS:
        at.past, at.ahead = [], []
    undo = DEEDS[act.kind](at, act)
    after = at.rows()
    changed = after != rows or act.kind == "explain"
    if undo == at.take_back and changed:
        at.past.append(rows)
        at.ahead = []
    if undo is None or not act.undo_it or (undo == at.take_back and not changed):
        return
    undo()
    assert at.everything() == before
    if undo == at.take_back:
        at.past.pop()
        at.ahead = [after]


def tried(at: Sorting, act: Act) -> None:
    """Do an act; a no changes nothing, and a no to taking back says what was done since."""
    before = at.desk.head()
    no = refusal_of(lambda: do(at, act))
    if no is None:
        return
    assert no in MEANT | IN_THE_WAY
    if act.kind == "home" or (act.undo_it and at.desk.head() != before):
        at.past, at.ahead = [], []
    else:
        assert at.desk.head() == before


def all_back_and_again(at: Sorting, *, object_between: bool) -> None:
    """Take back whatever can be, meet an object meanwhile, and do all of it again: each state stands once more."""
    states = [at.lying()]
    while (no := refusal_of(lambda: take_back_last(at.desk, at.code))) is None:
        states.append(at.lying())
        advance(at.desk, minutes=1)
    assert no in {"nothing_to_take_back", "stays_written"} | IN_THE_WAY
    if object_between and len(states) > 1:
        register_object(at.desk, at.code, what="bead", material="glass", leaves=Leaves.NOT_COUNTED)
    for state in reversed(states[:-1]):
        advance(at.desk, minutes=1)
        do_again(at.desk, at.code)
        assert at.lying() == state


def refusal_of(act: Callable[[], object]) -> str | None:
    """Do an act; return the code of its refusal, or None; one that names a later act says whose and what it was."""
    try:
        act()
    except Refusal as refusal:
        names_the_later_act(refusal)
        return refusal.code
    return None


def names_the_later_act(refusal: Refusal) -> None:
    if refusal.code == "row_moved_since":
        told = [str(refusal.facts[name]) for name in ("person", "said")]
        assert all(one and one in refusal.in_words() for one in told)


def on_the_table(yard: Desk, *, begun: bool) -> Sorting:
    """Put a container of 20 before them; begun: two rows of rims and bodies, one waits for its share, two pieces."""
    at = Sorting(yard, dry_container(yard, next(NUMBERS), 20))
    if not begun:
        return at
    rims = add_group(yard, at.code, ware="QRS", part="rim", pieces=6, tenths=1800, rim_permille=300)
    add_group(yard, at.code, ware="MBU", part="body", pieces=7, tenths=1100)
    add_group(yard, at.code, ware="", part="base", pieces=2, decision=Decision.DISCARD, reason="modern")
    lift_pieces(yard, rims.id, seen=rims.version, how_many=2)
    return at


@given(begun=st.booleans(), acts=st.lists(ACTS, min_size=3, max_size=9))
@settings(max_examples=4, deadline=None, phases=(Phase.generate,))  # the examples share a yard: none is shrunk
def test_acts_of_sorting_keep_the_law_and_come_back(yard: Desk, begun: bool, acts: list[Act]) -> None:
    kept(yard, acts if begun else [acts[0]._replace(kind="add"), *acts], begun=begun)


@given(acts=every_act_once())
@settings(max_examples=2, deadline=None, phases=(Phase.generate,))
def test_every_act_of_sorting_keeps_the_law_and_comes_back(yard: Desk, acts: list[Act]) -> None:
    kept(yard, acts, begun=True)


def kept(yard: Desk, acts: Sequence[Act], *, begun: bool) -> None:
    """Try acts on a container, each looked at; take back all that can be and do it again; prove the whole store."""
    at = on_the_table(yard, begun=begun)
    for act in acts:
        tried(at, act)
        obeys(yard, at.code)
    all_back_and_again(at, object_between=acts[0].undo_it)
    obeys(yard, at.code)
    assert prove(yard).findings == ()
