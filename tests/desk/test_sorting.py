"""Oren's afternoon at the sorting table: groups read aloud, over and under, explained, settled, opened again."""

import pytest
from sqlalchemy import select

from findsdesk.desk.counting import count_again, log_count
from findsdesk.desk.desk import Desk
from findsdesk.desk.rows_there import who_removed
from findsdesk.desk.sorting import (
    GroupRow,
    Stays,
    add_group,
    answer_entry,
    begin_sorting,
    change_group,
    explain,
    left_to_sort,
    remove_group,
    reopen,
    settle,
    table_of,
    take_back_last,
)
from findsdesk.desk.sorting_table import dry_and_waiting
from findsdesk.desk.washing import dip_and_look, mark_dry
from findsdesk.domain.balance import Decision, Entry, Ledger
from findsdesk.domain.refusals import Question
from findsdesk.domain.standings import Standing, StepKind
from findsdesk.store.models import Act, Container, Part, Step
from tests.desk.at_the_table import dry_container, prove_totals, refused
from tests.yard import DRY, LOOKED_AT, advance, last_said, put_container, sitting, standing_of


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


def places_of(desk: Desk, code: str) -> list[tuple[str, str]]:
    with desk.reading() as reading:
        rows = reading.session.execute(select(Part).join(Container).where(Container.code == code)).scalars()
        return [(part.place_kind, part.place) for part in rows]


def steps_of(desk: Desk, code: str) -> list[str]:
    with desk.reading() as reading:
        return list(
            reading.session.execute(
                select(Step.kind).join(Container).where(Container.code == code).order_by(Step.id)
            ).scalars()
        )


# --- onto the table -----------------------------------------------------------------------------------------------


def test_the_first_group_begins_the_sorting_and_frees_the_tray(desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    assert places_of(desk, code) == [("tray", "1")]
    add_group(desk, code, ware="QRS", part="rim", pieces=11)
    assert standing_of(desk, code) is Standing.SORTING
    assert places_of(desk, code) == [("table", "")]
    assert steps_of(desk, code)[-2:] == [StepKind.DRY, StepKind.SORTING]


def test_what_has_not_dried_is_asked_about(desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    advance(desk, hours=-6)
    with refused(desk, "not_dry_yet") as caught:
        begin_sorting(desk, code)
    assert isinstance(caught.value, Question)
    assert caught.value.facts["hours"] == 2
    assert begin_sorting(desk, code, sure=True).standing is Standing.SORTING
    with desk.reading() as reading:
        said = reading.session.execute(select(Act.said).where(Act.deed == "begin_sorting")).scalar_one()
    assert "dry all the same" in said


def test_what_stands_elsewhere_is_refused(desk: Desk) -> None:
    arrived = put_container(desk, 131)
    bone = put_container(desk, 132, material="bone", steps=DRY)
    with refused(desk, "not_dry"):
        begin_sorting(desk, arrived)
    with refused(desk, "not_sorted_here"):
        add_group(desk, bone, ware="", part="other", pieces=1)
    with refused(desk, "unknown_number"):
        begin_sorting(desk, "999")
    code = dry_container(desk, 133, 10)
    begin_sorting(desk, code)
    with refused(desk, "already_sorting"):
        begin_sorting(desk, code)


def test_dry_containers_wait_and_those_on_the_table_stand_first(desk: Desk) -> None:
    first = dry_container(desk, 131, 132)
    put_container(desk, 132, steps=DRY)
    put_container(desk, 133)
    put_container(desk, 134, material="bone", steps=DRY)
    laid_out = dry_container(desk, 135, 20)
    still_wet = put_container(desk, 136, steps=LOOKED_AT)
    log_count(desk, still_wet, pieces=5)
    add_group(desk, first, ware="QRS", part="rim", pieces=11)
    waiting = left_to_sort(desk)
    assert [(row.number, row.standing) for row in waiting] == [
        ("131", Standing.SORTING),
        ("132", Standing.DRY),
        ("135", Standing.DRYING),
    ]
    assert waiting[2].code == laid_out
    assert dry_and_waiting(desk) == 2
    assert (waiting[0].deposit, waiting[0].square, waiting[0].pieces, waiting[0].unsorted) == ("2017", "A1", 132, 121)


def test_what_waits_is_dry_and_on_the_table_since_when_its_life_says_so(desk: Desk) -> None:
    code = put_container(desk, 131, steps=LOOKED_AT)
    log_count(desk, code, pieces=5)
    laid_out = desk.now()
    advance(desk, hours=desk.facts.settings.dry_h)
    assert [row.since for row in left_to_sort(desk)] == [laid_out]
    dry = advance(desk, hours=3)
    mark_dry(desk, [code])
    assert [row.since for row in left_to_sort(desk)] == [dry]
    begun = advance(desk, hours=1)
    add_group(desk, code, ware="QRS", part="rim", pieces=5)
    advance(desk, hours=1)
    assert [row.since for row in left_to_sort(desk)] == [begun]
    settle(desk, code)
    opened = advance(desk, days=1)
    reopen(desk, code, reason="look again")
    assert [row.since for row in left_to_sort(desk)] == [opened]


# --- groups -------------------------------------------------------------------------------------------------------


def test_groups_stand_on_the_table_with_their_balance(desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    rows = read_132(desk, code)
    table = table_of(desk, code)
    assert (table.number, table.deposit, table.square, table.counted) == ("131", "2017", "A1", True)
    assert list(table.groups) == rows
    assert table.last == rows[-1]
    assert [row.ordinal for row in rows] == [1, 2, 3, 4]
    assert rows[1].facts.in_short() == "QRS body 54, discard (no diagnostic value)"
    assert table.ledger == Ledger(counted=132, kept=13, on_hold=64, to_discard=54)
    assert table.ledger.unsorted == 1
    assert [(share.ware, share.pieces, share.permille) for share in table.wares] == [
        ("QRS", 65, 496),
        ("", 64, 489),
        ("TGY", 2, 15),
    ]
    prove_totals(desk)


@pytest.mark.parametrize(
    ("facts", "code"),
    [
        ({"ware": "QRZ"}, "unknown_ware"),
        ({"part": "elbow"}, "unknown_part"),
        ({"pieces": 0}, "group_pieces"),
        ({"pieces": -3}, "group_pieces"),
        ({"pieces": 100_001}, "group_pieces"),
        ({"tenths": -1}, "group_grams"),
        ({"decision": Decision.DISCARD}, "reason_needed"),
        ({"decision": Decision.DISCARD, "reason": "ugly"}, "unknown_reason"),
    ],
)
def test_a_group_that_cannot_be_meant_is_refused(desk: Desk, facts: dict[str, object], code: str) -> None:
    tag = dry_container(desk, 131, 132)
    with refused(desk, code):
        add_group(desk, tag, **{"ware": "QRS", "part": "rim", "pieces": 11, **facts})  # type: ignore[arg-type]
    assert standing_of(desk, tag) is Standing.DRYING


def test_an_unknown_ware_names_the_near_ones(desk: Desk) -> None:
    tag = dry_container(desk, 131, 132)
    with refused(desk, "unknown_ware") as caught:
        add_group(desk, tag, ware="QSR", part="rim", pieces=1)
    assert "QRS" in caught.value.in_words()


def test_more_than_was_counted_is_shown_and_not_refused(desk: Desk) -> None:
    code = dry_container(desk, 131, 10)
    add_group(desk, code, ware="QRS", part="body", pieces=12)
    table = table_of(desk, code)
    assert (table.ledger.over, table.ledger.unsorted) == (2, -2)
    with refused(desk, "over"):
        settle(desk, code)
    count_again(desk, code, pieces=12, why="counted again")
    assert settle(desk, code).standing is Standing.SETTLED
    prove_totals(desk)


def test_a_changed_group_moves_its_totals(desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    first = read_132(desk, code)[0]
    changed = change_group(desk, first.id, seen=first.version, ware="GGL", pieces=9, decision=Decision.HOLD)
    assert (changed.ware, changed.pieces, changed.tenths, changed.version) == ("GGL", 9, 3400, first.version + 1)
    assert change_group(desk, first.id, seen=changed.version, tenths=None).tenths is None
    assert table_of(desk, code).ledger == Ledger(counted=132, kept=2, on_hold=73, to_discard=54)
    prove_totals(desk)


def test_no_grams_and_grams_as_they_are_differ(desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    row = add_group(desk, code, ware="QRS", part="rim", pieces=1, tenths=25)
    kept = change_group(desk, row.id, seen=row.version, tenths=Stays.AS_IT_IS, note="burnt")
    assert (kept.tenths, kept.note) == (25, "burnt")


def test_keeping_what_was_to_be_discarded_drops_the_reason(desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    row = add_group(desk, code, ware="", part="body", pieces=5, decision=Decision.DISCARD, reason="modern")
    assert change_group(desk, row.id, seen=row.version, pieces=6).reason == "modern"
    assert change_group(desk, row.id, seen=row.version + 1, decision=Decision.KEEP).reason == ""


def test_a_change_made_from_an_old_row_is_refused_with_both(desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    row = add_group(sitting(desk, "Oren"), code, ware="QRS", part="rim", pieces=11)
    change_group(sitting(desk, "Mika"), row.id, seen=row.version, pieces=12)
    with refused(desk, "changed_meanwhile") as caught:
        change_group(desk, row.id, seen=row.version, pieces=13)
    differences = caught.value.facts["differences"]
    assert isinstance(differences, tuple)
    told = {each.field: each for each in differences}
    assert (told["pieces"].mine, told["pieces"].theirs, told["pieces"].before) == (13, 12, 11)
    assert "Mika Sool" in caught.value.in_words()
    with refused(desk, "changed_meanwhile"):
        remove_group(desk, row.id, seen=row.version)


def test_a_removed_group_leaves_the_totals(desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    row = read_132(desk, code)[1]
    assert remove_group(desk, row.id, seen=row.version) == row
    assert table_of(desk, code).ledger.to_discard == 0
    with refused(sitting(desk, "Mika"), "row_gone") as caught:
        remove_group(sitting(desk, "Mika"), row.id, seen=row.version)
    assert caught.value.in_words() == "Ilo Marr removed that row meanwhile. Look at the table again."
    assert (who_removed(desk, row.id), who_removed(desk, 999)) == ("Ilo Marr", "")
    prove_totals(desk)


def test_a_settled_container_takes_no_groups(desk: Desk) -> None:
    code = dry_container(desk, 131, 1)
    row = add_group(desk, code, ware="QRS", part="rim", pieces=1)
    settle(desk, code)
    with refused(desk, "already_settled"):
        add_group(desk, code, ware="QRS", part="rim", pieces=1)
    with refused(desk, "already_settled"):
        change_group(desk, row.id, seen=row.version, pieces=2)
    with refused(desk, "already_settled"):
        remove_group(desk, row.id, seen=row.version)
    with refused(desk, "already_settled"):
        take_back_last(desk, code)
    with refused(desk, "already_settled"):
        explain(desk, code, Entry.FOUND_MORE, pieces=1)


# --- explanations and settling ------------------------------------------------------------------------------------


def test_a_pebble_settles_the_container(desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    read_132(desk, code)
    with refused(desk, "left_unsorted"):
        settle(desk, code)
    said = explain(desk, code, Entry.NOT_A_SHERD, pieces=1, why="a pebble")
    assert said.ledger.balances
    settled = settle(desk, code)
    assert (settled.standing, settled.ledger) == (Standing.SETTLED, said.ledger)
    assert table_of(desk, code).ledger == said.ledger
    prove_totals(desk)


def test_an_entry_is_answered_once_and_both_stay(desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    said = explain(desk, code, Entry.FOUND_MORE, pieces=3, why="in the bag's corner")
    answer = answer_entry(desk, said.entry_id, why="of another bucket")
    assert answer.pieces == -3
    assert answer.ledger == Ledger(counted=132)
    entries = table_of(desk, code).entries
    assert [(row.kind, row.pieces, row.answered) for row in entries] == [
        (Entry.COUNTED, 132, False),
        (Entry.FOUND_MORE, 3, True),
        (Entry.FOUND_MORE, -3, False),
    ]
    for entry_id in (said.entry_id, answer.entry_id):
        with refused(desk, "already_answered"):
            answer_entry(desk, entry_id, why="again")
    with refused(desk, "no_explanation"):
        answer_entry(desk, entries[0].id, why="the count")
    with refused(desk, "unknown_entry"):
        answer_entry(desk, 1, why="nothing")
    with refused(desk, "reason_needed"):
        answer_entry(desk, said.entry_id, why=" ")
    prove_totals(desk)


def test_an_explanation_that_cannot_be_meant_is_refused(desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    with refused(desk, "entry_pieces"):
        explain(desk, code, Entry.FOUND_MORE, pieces=0)
    with refused(desk, "no_explanation"):
        explain(desk, code, Entry.COUNTED, pieces=4)
    arrived = put_container(desk, 132)
    with refused(desk, "not_counted_yet"):
        explain(desk, arrived, Entry.FOUND_MORE, pieces=1)


def test_above_the_set_share_not_found_needs_a_lead(desk: Desk) -> None:
    code = dry_container(desk, 131, 100)
    volunteer, lead = sitting(desk, "Lio"), sitting(desk, "Oren")
    explain(volunteer, code, Entry.NOT_FOUND, pieces=2)
    with refused(desk, "lead_needed"):
        explain(volunteer, code, Entry.NOT_FOUND, pieces=1)
    assert explain(lead, code, Entry.NOT_FOUND, pieces=1, why="fell in the sieve").ledger.not_found == 3


def test_a_container_is_opened_again_with_a_reason(desk: Desk) -> None:
    code = dry_container(desk, 131, 1)
    add_group(desk, code, ware="QRS", part="rim", pieces=1)
    with refused(desk, "not_settled"):
        reopen(desk, code, reason="look again")
    settle(desk, code)
    with refused(desk, "reason_needed"):
        reopen(desk, code, reason="")
    assert reopen(desk, code, reason="look again").standing is Standing.SORTING
    assert settle(desk, code).standing is Standing.SETTLED


def test_dry_grams_are_compared_once_all_is_sorted_and_weighed(desk: Desk) -> None:
    code = put_container(desk, 131)
    dip_and_look(desk, code)
    log_count(desk, code, pieces=10, tenths=1000)
    advance(desk, hours=8)
    row = add_group(desk, code, ware="QRS", part="rim", pieces=10)
    assert table_of(desk, code).grams.agree is None
    row = change_group(desk, row.id, seen=row.version, tenths=981)
    grams = table_of(desk, code).grams
    assert (grams.counted, grams.accounted, grams.tolerance_permille, grams.agree) == (1000, 981, 20, True)
    change_group(desk, row.id, seen=row.version, tenths=979)
    assert table_of(desk, code).grams.agree is False


def test_dry_grams_beyond_the_tolerance_are_asked_about_before_settling(desk: Desk) -> None:
    code = put_container(desk, 131)
    dip_and_look(desk, code)
    log_count(desk, code, pieces=10, tenths=1000)
    advance(desk, hours=8)
    row = add_group(desk, code, ware="QRS", part="rim", pieces=10, tenths=979)
    with refused(desk, "grams_disagree") as caught:
        settle(desk, code)
    assert isinstance(caught.value, Question)
    words = caught.value.in_words(desk.terms)
    assert words == "Bucket 131: 100.0 g came in, 97.9 g are accounted for, over 2 % apart. Settle?"
    assert settle(desk, code, sure=True).standing is Standing.SETTLED
    assert last_said(desk) == f"131: 10 · {words} ✓"
    reopen(desk, code, reason="weigh again")
    change_group(desk, row.id, seen=row.version, tenths=None)
    assert settle(desk, code).standing is Standing.SETTLED
