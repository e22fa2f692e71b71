"""One thing bagged, lent or marked in two stores: one of the two stands, the other is undone, and a person decides."""

from __future__ import annotations

import random
from collections.abc import Callable
from contextlib import suppress
from datetime import date
from functools import partial
from pathlib import Path

from sqlalchemy import func, select

from findsdesk.desk.bagging import bag_settled
from findsdesk.desk.clash_words import side_in_words, way_in_words, what_in_words
from findsdesk.desk.clashes import ListedClash, clashes, clashes_waiting, decide_clash
from findsdesk.desk.courier import write_courier
from findsdesk.desk.courier_taking import take_courier
from findsdesk.desk.desk import Desk
from findsdesk.desk.loan_returns import give_back
from findsdesk.desk.loans import lend, loans_out
from findsdesk.desk.marking import check_marks, write_marks
from findsdesk.desk.sorting import reopen
from findsdesk.domain.lending import BorrowerKind
from findsdesk.domain.refusals import Refusal
from findsdesk.store.models import Bag, Container, Line, LoanLine, MarkEntry
from tests.desk.two_stores import TRENCH, alike, both_ways, brought, parted, refused
from tests.yard import put_settled

KEPT = 22


def settled(desk: Desk) -> None:
    put_settled(desk, 101)


def two_settled(desk: Desk) -> None:
    put_settled(desk, 101)
    put_settled(desk, 102)


def leaves(desk: Desk, what: str, who: str) -> None:
    lend(desk, [what], borrower=who, kind=BorrowerKind.SPECIALIST, purpose="drawing", due_on=date(2031, 5, 1))


def in_bags(desk: Desk) -> list[int]:
    with desk.reading() as reading:
        of_it = select(Bag.pieces).join(Container).where(Container.number == "101").order_by(Bag.id)
        return list(reading.session.execute(of_it).scalars())


def out(desk: Desk) -> list[bool]:
    with desk.reading() as reading:
        return [
            day is None for day in reading.session.execute(select(LoanLine.back_on).order_by(LoanLine.id)).scalars()
        ]


def marked(desk: Desk) -> int:
    with desk.reading() as reading:
        return reading.session.execute(
            select(func.sum(MarkEntry.pieces)).where(MarkEntry.kind == "written")
        ).scalar_one()


def in_words(one: ListedClash) -> list[str]:
    return [what_in_words(one), way_in_words(one), side_in_words(one.one), side_in_words(one.other)]


def test_a_container_bagged_in_both_stores_lies_in_the_later_bags_until_somebody_decides(tmp_path: Path) -> None:
    with parted(tmp_path, settled) as (home, trench):
        bag_settled(home, ["101"])
        bag_settled(trench, ["101"])
        with trench.reading() as reading:
            told = reading.session.execute(select(Line.act_id, Line.after).where(Line.kind == "bag")).all()
        taken = brought(trench, home, tmp_path)
        assert taken.clashes == 1
        assert in_bags(home) == [0, KEPT]
        with home.reading() as reading:
            came = reading.session.execute(select(Line.act_id, Line.after).where(Line.kind == "bag")).all()
        assert all(one in came for one in told)
        brought(home, trench, tmp_path)
        alike(home, trench)
        (one,) = clashes(trench)
        assert (one.what, one.name, one.stands, one.choices) == ("packed", "101", TRENCH, ("first", TRENCH, "both"))
        assert "22 pieces in" in in_words(one)[2]
        for keep, bags in (("first", [KEPT, 0]), (TRENCH, [0, KEPT]), ("both", [0, KEPT]), ("first", [KEPT, 0])):
            assert decide_clash(trench, one.id, keep=keep).choice == keep
            assert in_bags(trench) == bags
        brought(trench, home, tmp_path)
        alike(home, trench)
        assert clashes_waiting(home) == 0
        reopen(home, "101", reason="one more sherd")
        refused("packed_since", lambda: decide_clash(home, one.id, keep=TRENCH))
        decide_clash(home, one.id, keep="both")


def test_what_was_lent_in_both_stores_is_out_once(tmp_path: Path) -> None:
    def bagged(desk: Desk) -> None:
        two_settled(desk)
        bag_settled(desk, ["101"])

    with parted(tmp_path, bagged) as (home, trench):
        with home.reading() as reading:
            bag = reading.session.execute(select(Bag.code)).scalar_one()
        for what in (bag, "102"):
            leaves(home, what, "Nela Trost")
            leaves(trench, what, "Aro Finn")
        brought(trench, home, tmp_path)
        brought(home, trench, tmp_path)
        alike(home, trench)
        assert out(home) == [False, False, True, True]
        found = {one.name: one for one in clashes(home) if one.what == "lent"}
        assert found.keys() == {bag, "102"}
        assert {one.stands for one in found.values()} == {TRENCH}
        assert "Nela Trost" in in_words(found[bag])[2]
        decide_clash(home, found[bag].id, keep="first")
        decide_clash(trench, found["102"].id, keep=TRENCH)
        brought(trench, home, tmp_path)
        brought(home, trench, tmp_path)
        assert out(home) == [True, False, False, True]
        decide_clash(trench, found[bag].id, keep=TRENCH)
        decide_clash(trench, found[bag].id, keep="first")
        # It was handed on in both stores, and comes home to where it stood before.
        for loan in loans_out(trench):
            give_back(trench, str(loan.number))
        with trench.reading() as reading:
            stood = select(Container.standing).where(Container.number == "102")
            assert reading.session.execute(stood).scalar_one() == "settled"
        brought(trench, home, tmp_path)
        alike(home, trench)
        # Where its part stands was said differently too, and is listed by itself.
        assert [one.kind for one in clashes(home)] == ["part"]


def test_sherds_marked_in_both_stores_beyond_what_is_kept_bear_the_later_marks(tmp_path: Path) -> None:
    with parted(tmp_path, two_settled) as (home, trench):
        write_marks(home, "101", pieces=12)
        check_marks(home, "101", pieces=5, who="Oren")
        write_marks(trench, "101")
        for desk in (home, trench):
            write_marks(desk, "102", pieces=9)
        brought(trench, home, tmp_path)
        assert marked(home) == KEPT + 2 * 9
        (one,) = clashes(home)
        assert (one.what, one.name, one.stands) == ("marked", "101", TRENCH)
        assert "marks" in in_words(one)[2]
        for keep, marks in (("first", 12), (TRENCH, KEPT), ("first", 12), ("both", 12)):
            decide_clash(home, one.id, keep=keep)
            assert marked(home) == marks + 2 * 9
        brought(home, trench, tmp_path)
        alike(home, trench)
        assert clashes_waiting(trench) == 0


def test_double_work_by_chance_comes_to_the_same_records(tmp_path: Path) -> None:
    """OWN: one container bagged, lent and marked in both, files that cross, decisions taken in both at once."""
    chance = random.Random(20261130)
    with parted(tmp_path, two_settled) as (home, trench):
        for turn in range(2):
            files = []
            for desk, other in ((home, trench), (trench, home)):
                for deed in chance.sample((_bag, _lend, _mark, _check), 3):
                    deed(desk, chance)
                files.append((other, write_courier(desk, tmp_path / f"{desk.station_id} {turn}").file))
            for desk in (home, trench):
                chance.choice((_bag, _lend, _mark))(desk, chance)
            for desk, file in files:
                take_courier(desk, file)
                for one in clashes(desk):
                    _tried(partial(decide_clash, desk, one.id, keep=chance.choice(one.choices)))
        both_ways(home, trench, tmp_path)
        for one in clashes(home):
            decide_clash(home, one.id, keep=one.stands or one.choices[-1])
        both_ways(home, trench, tmp_path)
        alike(home, trench)
        assert clashes(home, decided=True)
        assert clashes_waiting(home) == clashes_waiting(trench) == 0


def _tried(deed: Callable[[], object]) -> None:
    """Do what can be done: a thing may be in its bags, out or marked already."""
    with suppress(Refusal):
        deed()


def _bag(desk: Desk, _chance: random.Random) -> None:
    _tried(lambda: bag_settled(desk, ["101"]))


def _lend(desk: Desk, chance: random.Random) -> None:
    _tried(lambda: leaves(desk, chance.choice(("101", "102")), "Nela Trost"))


def _mark(desk: Desk, chance: random.Random) -> None:
    _tried(lambda: write_marks(desk, "101", pieces=chance.randrange(8, 20)))


def _check(desk: Desk, chance: random.Random) -> None:
    _tried(lambda: check_marks(desk, "101", pieces=chance.randrange(1, 8), who="Oren"))
