"""The marking list reads deposits with open work alone and misses none: whatever is done with marks."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable

import pytest

from findsdesk.desk.bagging import bag
from findsdesk.desk.changing_excavation import change_excavation
from findsdesk.desk.changing_set_up import change_season
from findsdesk.desk.desk import Desk
from findsdesk.desk.labels_waiting import labels_waiting
from findsdesk.desk.mark_lines import MarkLine, mark_lines
from findsdesk.desk.marking import answer_newest_tick, check_marks, slip_bag, write_marks
from findsdesk.desk.marking_table import marks_shown
from findsdesk.desk.pieces import lift_pieces
from findsdesk.desk.redoing import Written, redo_done, things_to_redo
from findsdesk.desk.renumbering import renumber_deposit
from findsdesk.desk.season_end import season_end
from findsdesk.desk.sorting import add_group, reopen, settle, table_of
from findsdesk.desk.the_day import the_day
from findsdesk.domain.refusals import Refusal
from tests.desk.at_the_table import dry_container
from tests.yard import put_settled, sitting, with_settings

DEPOSITS = {131: "2017", 132: "2017", 133: "2019", 134: "2003"}


def opened(lines: tuple[MarkLine, ...]) -> list[MarkLine]:
    return [one for one in lines if not one.is_done]


def test_what_is_done_is_not_read(desk: Desk) -> None:
    for number in (131, 133):
        put_settled(desk, number, deposit=DEPOSITS[number])
    write_marks(desk, "131", who="Lio")
    check_marks(desk, "131")
    assert [one.number for one in mark_lines(desk, open_only=True)] == ["133"]
    assert [one.number for one in mark_lines(desk)] == ["131", "133"]
    with_settings(desk, plain_marked_one_in=0)
    renumber_deposit(desk, "2017", to="2117", reason="taken twice")
    assert "131" in [one.number for one in mark_lines(desk, open_only=True)]


@pytest.mark.parametrize(("one_in", "marked"), [(1, 22), (10, 22), (10, 5), (0, 3)])
def test_a_lifted_piece_without_its_mark_is_open_however_many_its_container_bears(
    desk: Desk, one_in: int, marked: int
) -> None:
    """OWN: 22 plain sherds, of which more bear marks than the rule wants; then one is lifted and has its own mark."""
    with_settings(desk, plain_marked_one_in=one_in, marks_checked_one_in=0)
    change_season(desk, "2026", mark_pattern="{deposit}-{container}-{piece}")
    oren = sitting(desk, "Oren")
    code = dry_container(desk, 131, 22)
    add_group(desk, code, ware="QRS", part="body", pieces=22)
    settle(desk, code)
    write_marks(desk, "131", pieces=marked)
    _lift(oren, "131")
    found = mark_lines(oren, open_only=True)
    assert [(one.number, one.tally.left) for one in opened(found)] == [("131.1", 1)]
    assert _left_everywhere(oren) == [1, 1, 1, 1]
    write_marks(desk, "131.1")
    assert _left_everywhere(oren) == [0, 0, 0, 0]


def _left_everywhere(desk: Desk) -> list[int]:
    """Return how many sherds are still to be marked: by the marking table, the labels, the day and the season's end."""
    asked = [one.pieces for one in season_end(desk).lines if one.requirement.key == "unmarked"]
    return [
        sum(one.tally.left for one in marks_shown(desk).lines),
        labels_waiting(desk).to_mark,
        the_day(desk).waits.to_mark,
        sum(asked),
    ]


@pytest.mark.parametrize(("seed", "one_in"), [(1, 1), (2, 10), (3, 0)])
def test_no_open_line_is_missed(desk: Desk, seed: int, one_in: int) -> None:
    """OWN: after each of forty acts in whatever order the open lines are those of the whole list."""
    chance = random.Random(seed)
    with_settings(desk, plain_marked_one_in=one_in)
    for number, deposit in DEPOSITS.items():
        put_settled(desk, number, deposit=deposit)
    oren = sitting(desk, "Oren")
    done: Counter[str] = Counter()
    for step in range(40):
        name, act = chance.choice(list(_acts(oren, chance, step).items()))
        try:
            act()
            done[name] += 1
        except Refusal:
            done["refused"] += 1
        every = mark_lines(oren)
        assert opened(mark_lines(oren, open_only=True)) == opened(every), name
        assert labels_waiting(oren).to_mark == sum(one.tally.left for one in every), name
    assert len(done) > 6


def _acts(desk: Desk, chance: random.Random, step: int) -> dict[str, Callable[[], object]]:
    which = str(chance.choice(list(DEPOSITS)))
    pattern = chance.choice(("{permit}\n{deposit}-{container}", "{deposit}-{container}-{piece}"))
    open_now = [one.id for one in things_to_redo(desk) if one.what in (Written.MARK, Written.SLIP)]
    return {
        "all": lambda: write_marks(desk, which, who="Lio"),
        "some": lambda: write_marks(desk, which, pieces=chance.randint(1, 9)),
        "piece": lambda: write_marks(desk, f"{which}.1"),
        "slip": lambda: slip_bag(desk, which, pieces=chance.randint(1, 3)),
        "check": lambda: check_marks(desk, which),
        "wrong": lambda: check_marks(desk, which, pieces=2, wrong=1),
        "back": lambda: answer_newest_tick(desk, which, why="no"),
        "again": lambda: redo_done(desk, open_now[:1], sure=True),
        "pattern": lambda: change_season(desk, "2026", mark_pattern=pattern),
        "number": lambda: renumber_deposit(desk, "2003", to=f"3{step:03}", reason="taken twice"),
        "bag": lambda: bag(desk, which),
        "lift": lambda: _lift(desk, which),
        "setting": lambda: change_excavation(desk, settings=desk.facts.settings),
    }


def _lift(desk: Desk, which: str) -> None:
    reopen(desk, which, reason="look again")
    row = next(one for one in table_of(desk, which).groups if one.pieces > 2)
    lift_pieces(desk, row.id, seen=row.version, how_many=1)
    settle(desk, which)
