"""Deposits renumbered, merged, split and declared mixed: old numbers found, figures follow, things to redo listed."""

from collections.abc import Callable
from datetime import date

import pytest
from sqlalchemy import select

from findsdesk.desk.deposit_facts import deposit_facts
from findsdesk.desk.deposits import change_deposit, close_deposit, open_deposit
from findsdesk.desk.desk import Desk
from findsdesk.desk.dossiers import deposit_dossier
from findsdesk.desk.marking import answer_newest_tick, slip_bag, write_marks
from findsdesk.desk.redoing import Asked, ThingToRedo, Written, redo_done, things_to_redo
from findsdesk.desk.renumbering import (
    Concordance,
    Renumbered,
    concordance,
    declare_mixed,
    merge_deposits,
    renumber_deposit,
    split_deposit,
)
from findsdesk.domain.deposits import HowNumbered, Security
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.domain.standings import StepKind
from findsdesk.store.models import Deposit, Step, Ware, WareTotal
from tests.yard import (
    acts,
    advance,
    last_said,
    put_bag,
    put_container,
    put_containers,
    put_settled,
    sitting,
    statements_of,
)


def ware_totals(desk: Desk) -> dict[tuple[str, str], int]:
    """Return the kept pieces by deposit and ware, without zeros."""
    with desk.reading() as reading:
        rows = reading.session.execute(
            select(Deposit.number, Ware.code, WareTotal.pieces)
            .join(Deposit, WareTotal.deposit_id == Deposit.id)
            .join(Ware, WareTotal.ware_id == Ware.id)
            .where(WareTotal.pieces != 0)
        ).all()
    return {(number, ware): pieces for number, ware, pieces in rows}


def corrections(desk: Desk) -> list[str]:
    """Return the notes of all correcting steps."""
    with desk.reading() as reading:
        notes = select(Step.note).where(Step.kind == StepKind.CORRECTED).order_by(Step.id)
        return list(reading.session.execute(notes).scalars())


def by_what(things: tuple[ThingToRedo, ...]) -> dict[Written, int]:
    return {what: sum(thing.pieces for thing in things if thing.what is what) for what in Written}


def mikas_context(desk: Desk) -> list[str]:
    """Make the registrar's case: 7 buckets of context 2003, one of them settled with 22 kept sherds in 3 bags."""
    settled = put_settled(desk, 101, deposit="2003", kept=22, discarded=10, marked=True)
    for _ in range(3):
        put_bag(desk, settled)
    return [settled, *put_containers(desk, range(102, 108), deposit="2003")]


def test_context_2003_turns_out_to_be_2031(desk: Desk) -> None:
    mikas_context(desk)
    put_container(desk, 108, deposit="2003", steps=(StepKind.ISSUED, StepKind.VOIDED))
    put_bag(desk, put_settled(desk, 110, deposit="2019"))
    before = ware_totals(desk)

    done = renumber_deposit(desk, "2003", to="2031", reason="same floor as in the section")

    assert done.asked == Asked(tags=7, labels=3, marks=22)
    assert (done.deposit.number, done.deposit.former_numbers, done.deposit.containers) == ("2031", ("2003",), 8)
    assert by_what(things_to_redo(desk)) == {
        Written.TAG: 7,
        Written.LABEL: 3,
        Written.PIECE: 0,
        Written.INSIDE: 0,
        Written.BOX: 0,
        Written.MARK: 22,
        Written.SLIP: 0,
    }
    assert deposit_dossier(desk, "2003").number == "2031"
    assert deposit_dossier(desk, "2003").asked_for == "2003"
    assert ware_totals(desk) == {
        ("2031" if number == "2003" else number, ware): n for (number, ware), n in before.items()
    }
    assert last_said(desk) == "2003 → 2031: same floor as in the section"


def test_what_is_to_redo_says_what_stood_there_and_what_must(desk: Desk) -> None:
    put_bag(desk, put_settled(desk, 131, deposit="2017", kept=22, marked=True))
    renumber_deposit(desk, "2017", to="2018", reason="misread")
    tag, label, mark = things_to_redo(desk)
    assert (tag.what, tag.said) == (Written.TAG, "2017 · 131 · A1 · 2026-07-13 · Bryn Hallo · pottery")
    assert tag.says_now == "2018 · 131 · A1 · 2026-07-13 · Bryn Hallo · pottery"
    assert (label.what, label.says_now) == (
        Written.LABEL,
        "2018 · 131 · A1 · 2026-07-13 · pottery · VE-26-014 / 2018-131",
    )
    assert (mark.what, mark.pieces, mark.said, mark.says_now) == (
        Written.MARK,
        22,
        "VE-26-014 / 2017-131",
        "VE-26-014 / 2018-131",
    )


def test_a_number_given_back_leaves_nothing_to_redo(desk: Desk) -> None:
    mikas_context(desk)
    renumber_deposit(desk, "2003", to="2031", reason="misread")
    renumber_deposit(desk, "2031", to="2030", reason="misread again")
    assert {thing.said.split(" · ")[0] for thing in things_to_redo(desk) if thing.what is Written.TAG} == {"2003"}
    assert {thing.says_now.split(" · ")[0] for thing in things_to_redo(desk) if thing.what is Written.TAG} == {"2030"}
    back = renumber_deposit(desk, "2030", to="2003", reason="it was right")
    assert back.asked == Asked()
    assert things_to_redo(desk) == ()
    assert back.deposit.former_numbers == ("2003", "2031", "2030")


def test_a_slip_is_no_inked_mark_where_it_is_asked_for_again(desk: Desk) -> None:
    """The act, the list and the table count alike: 19 of ink and one slip, not 20 marks."""
    code = put_settled(desk, 131, deposit="2017", kept=22)
    write_marks(desk, code, pieces=19)
    slip_bag(desk, code, pieces=3)
    asked = renumber_deposit(desk, "2017", to="2041", reason="misread").asked
    assert (asked.marks, asked.slips) == (19, 1)
    listed = by_what(things_to_redo(desk))
    assert (listed[Written.MARK], listed[Written.SLIP]) == (19, 1)


def test_marks_of_several_buckets_are_not_written_again_without_a_question(desk: Desk) -> None:
    one = put_settled(desk, 131, deposit="2017", kept=22, marked=True)
    put_settled(desk, 132, deposit="2017", kept=20, marked=True)
    renumber_deposit(desk, "2017", to="2041", reason="misread")
    waiting = things_to_redo(desk)
    marks = [thing.id for thing in waiting if thing.what is Written.MARK]
    with pytest.raises(Question) as asked:
        redo_done(desk, marks)
    assert (asked.value.code, asked.value.facts["n"], asked.value.facts["many"]) == ("many_marks_again", 42, 2)
    assert things_to_redo(desk) == waiting
    with pytest.raises(Question) as asked:
        redo_done(desk, marks[:1])
    assert "Did Ilo Marr write all 22 marks and slips of bucket 131 again?" in asked.value.in_words(desk.terms)
    assert things_to_redo(desk) == waiting, "one line was pointed at, and it is many sherds"
    assert redo_done(desk, marks[:1], sure=True) == 1
    assert redo_done(desk, marks[1:], sure=True) == 1
    renumber_deposit(desk, "2041", to="2017", reason="it was right")
    again = [thing.id for thing in things_to_redo(desk) if thing.what is Written.MARK]
    assert redo_done(desk, again, sure=True) == 2
    assert "Did Ilo Marr write all 42 marks and slips of 2 buckets again?" in last_said(desk)
    assert answer_newest_tick(desk, one, why="by mistake").pieces == 22


def test_things_done_leave_the_list_once(desk: Desk) -> None:
    mikas_context(desk)
    renumber_deposit(desk, "2003", to="2031", reason="misread")
    labels = [thing.id for thing in things_to_redo(desk) if thing.what is Written.LABEL]
    assert redo_done(desk, labels) == 3
    assert redo_done(desk, labels) == 0
    assert by_what(things_to_redo(desk)) == {
        Written.TAG: 7,
        Written.LABEL: 0,
        Written.PIECE: 0,
        Written.INSIDE: 0,
        Written.BOX: 0,
        Written.MARK: 22,
        Written.SLIP: 0,
    }
    with pytest.raises(Refusal, match="nothing_to_redo"):
        redo_done(desk, [1])


def test_merging_carries_containers_numbers_days_and_figures(desk: Desk) -> None:
    put_settled(desk, 101, deposit="2017", kept=5, discarded=3)
    put_settled(desk, 102, deposit="2019", kept=7, discarded=0)
    renumber_deposit(desk, "2017", to="2016", reason="misread")
    close_deposit(desk, "2016", closed=date(2026, 7, 14))
    with pytest.raises(Question, match="other_square"):
        merge_deposits(desk, "2016", into="2019", reason="one layer")
    merged = merge_deposits(desk, "2016", into="2019", reason="one layer", sure=True)

    assert merged.moved == 1
    assert merged.deposit.number == "2019"
    assert merged.deposit.closed is None
    assert merged.deposit.containers == 2
    assert deposit_facts(desk, "2016").number == "2019"
    assert deposit_facts(desk, "2017").number == "2019"
    assert ware_totals(desk) == {("2019", "QRS"): 12, ("2019", "MBU"): 3}
    assert corrections(desk) == ["2016 → 2019: one layer"]
    assert [(line.number, line.now, line.how) for line in concordance(desk)] == [
        ("2016", "2019", HowNumbered.MERGED),
        ("2017", "2019", HowNumbered.RENUMBERED),
    ]


def test_a_merged_deposits_number_may_come_back_only_when_asked(desk: Desk) -> None:
    merge_deposits(desk, "2017", into="2019", reason="one layer", sure=True)
    with pytest.raises(Question, match="number_was_used"):
        open_deposit(desk, "2017", square="C4")
    assert open_deposit(desk, "2017", square="C4", sure=True).square == "C4"
    assert deposit_facts(desk, "2017").square == "C4"


def test_splitting_takes_named_containers_along(desk: Desk) -> None:
    first = put_settled(desk, 101, deposit="2017", kept=5, discarded=3, marked=True)
    put_settled(desk, 102, deposit="2017", kept=7, discarded=0)
    split = split_deposit(desk, "2017", containers=[first, "101"], to="2040", reason="pit seen in the section")
    assert (split.deposit.number, split.deposit.square, split.deposit.containers, split.moved) == ("2040", "A1", 1, 1)
    assert split.asked == Asked(tags=1, labels=0, marks=5)
    assert ware_totals(desk) == {("2017", "QRS"): 7, ("2040", "QRS"): 5, ("2040", "MBU"): 3}
    assert deposit_facts(desk, "2017").number == "2017"
    assert concordance(desk) == (
        Concordance("2017", "2040", HowNumbered.SPLIT, "pit seen in the section", "Ilo Marr", desk.now()),
    )
    renumber_deposit(desk, "2017", to="2041", reason="misread")
    assert deposit_facts(desk, "2017").number == "2041", "a part split off never had the number of the whole"


def test_declared_mixed(desk: Desk) -> None:
    assert declare_mixed(desk, "2017", reason="dug with 2019").security is Security.MIXED
    assert last_said(desk) == "2017: dug with 2019"
    with pytest.raises(Refusal, match="already_mixed"):
        declare_mixed(desk, "2017", reason="dug with 2019")


def test_the_concordance_says_who_when_and_why(desk: Desk) -> None:
    when = advance(desk, hours=3)
    renumber_deposit(sitting(desk, "Mika"), "2003", to="2031", reason="misread")
    renumber_deposit(desk, "2031", to="2032", reason="misread again")
    assert concordance(desk)[0] == Concordance("2003", "2032", HowNumbered.RENUMBERED, "misread", "Mika Sool", when)


@pytest.mark.parametrize(
    ("code", "call"),
    [
        ("reason_needed", lambda desk: renumber_deposit(desk, "2017", to="2031", reason=" ")),
        ("empty", lambda desk: renumber_deposit(desk, "2017", to=" ", reason="x")),
        ("unknown_deposit", lambda desk: renumber_deposit(desk, "2999", to="2031", reason="x")),
        ("same_number", lambda desk: renumber_deposit(desk, "2017", to="2017", reason="x")),
        ("number_taken", lambda desk: renumber_deposit(desk, "2017", to="2019", reason="x")),
        ("same_number", lambda desk: merge_deposits(desk, "2017", into="2017", reason="x")),
        ("unknown_deposit", lambda desk: merge_deposits(desk, "2017", into="2999", reason="x")),
        ("no_containers", lambda desk: split_deposit(desk, "2017", containers=[], to="2040", reason="x")),
        ("not_of_deposit", lambda desk: split_deposit(desk, "2017", containers=["110"], to="2040", reason="x")),
        ("all_containers", lambda desk: split_deposit(desk, "2017", containers=["101"], to="2040", reason="x")),
        ("number_taken", lambda desk: split_deposit(desk, "2017", containers=["101"], to="2003", reason="x")),
    ],
)
def test_what_cannot_be_is_refused_and_changes_nothing(
    desk: Desk, code: str, call: Callable[[Desk], Renumbered]
) -> None:
    put_container(desk, 101, deposit="2017")
    put_container(desk, 110, deposit="2019")
    before = acts(desk), [deposit_facts(desk, number) for number in ("2003", "2017", "2019")]
    with pytest.raises(Refusal) as refused:
        call(desk)
    assert refused.value.code == code
    assert len(refused.value.in_words(desk.terms).split()) <= 25
    assert before == (acts(desk), [deposit_facts(desk, number) for number in ("2003", "2017", "2019")])
    assert things_to_redo(desk) == ()
    assert concordance(desk) == ()


def test_a_renumbering_between_look_and_edit_is_seen(desk: Desk) -> None:
    seen = deposit_facts(desk, "2017")
    renumber_deposit(desk, "2017", to="2018", reason="misread")
    with pytest.raises(Refusal, match="changed_meanwhile"):
        change_deposit(desk, "2017", seen=seen.version, kind="fill")


def test_renumbering_takes_no_more_statements_with_many_containers(desk: Desk) -> None:
    put_containers(desk, range(1, 101), deposit="2003")
    put_containers(desk, (101,), deposit="2017")
    with statements_of(desk) as for_many:
        renumber_deposit(desk, "2003", to="2031", reason="misread")
    with statements_of(desk) as for_one:
        renumber_deposit(desk, "2017", to="2032", reason="misread")
    assert len(for_many) == len(for_one)
