"""Discard in three dated events: a list made, signed for by a second person, carried away; called back until then."""

import pytest
from sqlalchemy import select, update

from findsdesk.desk.bagging import bag
from findsdesk.desk.balances import where_it_is
from findsdesk.desk.certificate import season_balances
from findsdesk.desk.changing_pieces import change_piece
from findsdesk.desk.correcting import move_container
from findsdesk.desk.desk import Desk
from findsdesk.desk.discard_lists import discard_lists
from findsdesk.desk.discards import annotate, call_back, carried_away, inspected, make_list, sign_list, take_off
from findsdesk.desk.dossiers import Dossier, find
from findsdesk.desk.ledgers import ledger_of
from findsdesk.desk.life_words import life_in_words
from findsdesk.desk.needs_in_words import needs_in_words
from findsdesk.desk.pieces import lay_back, lift_pieces
from findsdesk.desk.pins import set_pin
from findsdesk.desk.proving import prove
from findsdesk.desk.register_columns import wording
from findsdesk.desk.sherd_groups import add_group, change_group, remove_group
from findsdesk.desk.sorting import reopen, settle
from findsdesk.desk.sorting_table import table_of
from findsdesk.desk.the_day import the_day
from findsdesk.desk.unlisted_discards import unlisted_discards
from findsdesk.domain.balance import Decision, Ledger
from findsdesk.domain.discards import Stage, Waits, waits_for
from findsdesk.domain.routes import Standing, StepKind
from findsdesk.store.models import Container, SherdGroup
from findsdesk.ui.life_in_words import life_steps
from findsdesk.ui.words_around import WordsAround
from tests.desk.at_the_table import dry_container, refused
from tests.yard import advance, put_settled, sitting, standing_of, with_settings

PIN = "2406"


@pytest.fixture
def oren(desk: Desk) -> Desk:
    """Return the ceramicist's desk in a yard of two settled containers with 10 and 12 sherds to discard."""
    put_settled(desk, 131, kept=22, discarded=10)
    put_settled(desk, 132, kept=5, discarded=12, deposit="2019")
    set_pin(desk, "Ilo", pin=PIN)
    return sitting(desk, "Oren")


def ledger(desk: Desk, number: str) -> Ledger:
    with desk.reading() as reading:
        row = reading.session.execute(select(Container).where(Container.number == number)).scalar_one()
        return ledger_of(reading.session, row.id, row.material)


def signed(oren: Desk) -> None:
    make_list(oren)
    sign_list(oren, 1, signer="Ilo", pin=PIN)


def test_a_list_takes_all_that_is_settled_and_on_no_list(oren: Desk) -> None:
    on_the_table = dry_container(oren, 133, 9)
    add_group(oren, on_the_table, ware="MBU", part="body", pieces=9, decision=Decision.DISCARD, reason="modern")
    ahead = unlisted_discards(oren)
    assert (ahead.pieces, ahead.containers, ahead.unsettled) == (22, 2, 9)
    made = make_list(oren)
    assert [(line.number, line.pieces, line.reason) for line in made.lines] == [
        ("131", 10, "no_diagnostic_value"),
        ("132", 12, "no_diagnostic_value"),
    ]
    facts = made.facts
    assert (facts.number, facts.stage, facts.pieces, facts.lines) == (1, Stage.PROPOSED, 22, 2)
    assert (facts.made_by, facts.unweighed) == ("Oren Vade", 22)
    with refused(oren, "nothing_to_discard"):
        make_list(oren)
    settle(oren, on_the_table)
    assert [line.number for line in make_list(oren).lines] == ["133"]
    assert [one.number for one in discard_lists(oren)] == [2, 1]
    assert ledger(oren, "131").to_discard == 10
    assert prove(oren).sound


def test_proposed_signed_and_carried_away_stand_apart_in_the_day_and_on_the_certificate(oren: Desk) -> None:
    def ends() -> dict[str, int]:
        day = the_day(oren)
        [balance] = season_balances(oren, material="pottery")
        assert (balance.ledger, balance.signed) == (day.balance, day.signed)
        found = {name: pieces for name, _words, pieces in where_it_is(day.balance, day.signed)}
        assert sum(found.values()) == day.balance.expected, "each piece has one end"
        return {name: found[name] for name in ("to_discard", "signed", "carried")}

    make_list(oren)
    assert ends() == {"to_discard": 22, "signed": 0, "carried": 0}
    sign_list(oren, 1, signer="Ilo", pin=PIN)
    assert ends() == {"to_discard": 0, "signed": 22, "carried": 0}
    call_back(oren, 1, why="joins", tags=["131"])
    assert ends() == {"to_discard": 0, "signed": 12, "carried": 0}
    carried_away(oren, 1, where="pit", how="barrow", marker="tile")
    assert ends() == {"to_discard": 0, "signed": 0, "carried": 12}


def test_signing_moves_the_sherds_from_to_discard_to_discarded(oren: Desk) -> None:
    make_list(oren)
    advance(oren, hours=2)
    facts = sign_list(oren, 1, signer="Ilo", pin=PIN, pieces=22).facts
    assert (facts.stage, facts.signed_by) == (Stage.SIGNED, "Ilo Marr")
    assert facts.signed_at is not None
    assert facts.signed_at > facts.made_at
    after = ledger(oren, "131")
    assert (after.to_discard, after.discarded, after.unsorted) == (0, 10, 0)
    assert prove(oren).sound


def test_who_may_sign_and_who_may_not(oren: Desk) -> None:
    make_list(oren)
    with refused(oren, "signs_own_list"):
        sign_list(oren, 1, pin=PIN)
    with refused(oren, "may_not_sign"):
        sign_list(oren, 1, signer="Tessa", pin=PIN)
    with refused(oren, "pin_not_set"):
        sign_list(oren, 1, signer="Mika", pin=PIN)
    with refused(oren, "pin_wrong"):
        sign_list(oren, 1, signer="Ilo", pin="9999")
    with refused(oren, "list_changed"):
        sign_list(oren, 1, signer="Ilo", pin=PIN, pieces=21)
    with refused(oren, "unknown_list_number"):
        sign_list(oren, 7, signer="Ilo", pin=PIN)
    sign_list(oren, 1, signer="Ilo", pin=PIN)
    with refused(oren, "not_proposed"):
        sign_list(oren, 1, signer="Ilo", pin=PIN)


def test_five_wrong_pins_wait_and_the_right_one_with_them(oren: Desk) -> None:
    make_list(oren)
    for _time in range(5):
        with refused(oren, "pin_wrong"):
            sign_list(oren, 1, signer="Ilo", pin="9999")
    with refused(oren, "pin_waits"):
        sign_list(oren, 1, signer="Ilo", pin=PIN)
    advance(oren, seconds=31)
    assert sign_list(oren, 1, signer="Ilo", pin=PIN).facts.stage is Stage.SIGNED


def test_what_is_listed_is_not_changed_behind_the_list(oren: Desk) -> None:
    make_list(oren)
    group = table_of(oren, "131").groups[1]
    with refused(oren, "on_discard_list"):
        change_group(oren, group.id, seen=group.version, pieces=9)
    with refused(oren, "on_discard_list"):
        remove_group(oren, group.id, seen=group.version)
    with refused(oren, "on_discard_list"):
        lift_pieces(oren, group.id, seen=group.version)
    with refused(oren, "container_on_list"):
        reopen(oren, "131", reason="a join")
    with refused(oren, "container_on_list"):
        move_container(oren, "131", to="2003", reason="misread")
    sign_list(oren, 1, signer="Ilo", pin=PIN)
    with refused(oren, "container_on_list"):
        reopen(oren, "131", reason="a join")


def test_lines_come_off_before_anybody_signs(oren: Desk) -> None:
    made = make_list(oren)
    with refused(oren, "not_signed"):
        call_back(oren, 1, why="painted after all")
    with refused(oren, "reason_needed"):
        take_off(oren, 1, why=" ")
    with refused(oren, "comes_back_as"):
        take_off(oren, 1, why="no", to=Decision.DISCARD)
    after = take_off(oren, 1, lines=[made.lines[0].id], why="painted after all")
    assert (after.facts.pieces, after.facts.stage, len(after.standing)) == (12, Stage.PROPOSED, 1)
    assert after.lines[0].called_back_why == "painted after all"
    held = ledger(oren, "131")
    assert (held.to_discard, held.on_hold) == (0, 10)
    with refused(oren, "no_such_line"):
        take_off(oren, 1, lines=[made.lines[0].id], why="again")
    reopen(oren, "131", reason="to look at the paint")
    gone = take_off(oren, 1, tags=["132"], why="all of it", to=Decision.KEEP)
    assert gone.facts.stage is Stage.WITHDRAWN
    with refused(oren, "withdrawn"):
        call_back(oren, 1, why="late")
    assert prove(oren).sound


def test_sherds_are_called_back_until_they_are_carried_away(oren: Desk) -> None:
    bag(oren, "131")
    signed(oren)
    with refused(oren, "already_signed"):
        take_off(oren, 1, why="late")
    back = call_back(oren, 1, tags=["131"], why="one joins 87", to=Decision.KEEP)
    # The reason alone: the number of the list in front of it was read as part of the sentence.
    found = find(oren, "131")
    assert isinstance(found, Dossier)
    assert [step.note for step in found.life if step.kind is StepKind.REOPENED] == ["one joins 87"]
    told = [f"{step.head}{step.rest}" for step in life_steps(found, WordsAround.of(oren))]
    assert any(one.startswith("Back from a discard list") and one.endswith("by Oren, one joins 87") for one in told)
    assert "back from a discard list" in life_in_words(found.life)
    assert (back.facts.stage, back.facts.pieces) == (Stage.SIGNED, 12)
    assert (ledger(oren, "131").kept, ledger(oren, "131").discarded) == (32, 0)
    assert standing_of(oren, back.lines[0].code) is Standing.SETTLED
    assert sum(one.pieces for one in bag(oren, "131")) == 32
    carried_away(oren, 1, where="marked pit in A4", how="barrow", marker="tile dated 2026")
    with refused(oren, "carried_off"):
        call_back(oren, 1, why="too late")
    with refused(oren, "carried_off"):
        carried_away(oren, 1, where="x", how="x", marker="x")
    group = next(one for one in table_of(oren, "132").groups if one.discarded)
    with refused(oren, "carried_off"):
        lift_pieces(oren, group.id, seen=group.version)
    assert prove(oren).sound


def test_what_was_carried_away_leaves_the_rest_of_its_container_free(oren: Desk) -> None:
    signed(oren)
    carried_away(oren, 1, where="marked pit", how="barrow", marker="tile")
    reopen(oren, "131", reason="a join")
    kept, thrown = table_of(oren, "131").groups
    change_group(oren, kept.id, seen=kept.version, note="joins 87")
    with refused(oren, "carried_off"):
        change_group(oren, thrown.id, seen=thrown.version, pieces=9)
    noted = annotate(oren, 1, text="the tile lies on top")
    assert [note.text for note in noted.notes] == ["the tile lies on top"]
    settle(oren, "131")
    assert prove(oren).sound


def test_nothing_is_carried_away_unsigned_or_nowhere(oren: Desk) -> None:
    make_list(oren)
    with refused(oren, "not_signed"):
        carried_away(oren, 1, where="pit", how="barrow", marker="tile")
    sign_list(oren, 1, signer="Ilo", pin=PIN)
    for missing in ("where", "how", "marker"):
        with refused(oren, "empty"):
            carried_away(oren, 1, **({"where": "pit", "how": "barrow", "marker": "tile"} | {missing: " "}))


def test_where_the_permit_asks_for_it_the_inspector_comes_first(oren: Desk) -> None:
    with_settings(oren, inspector_signs=True)
    make_list(oren)
    with refused(oren, "not_signed"):
        inspected(oren, 1, inspector="Sela Orin")
    sign_list(oren, 1, signer="Ilo", pin=PIN)
    with refused(oren, "not_inspected"):
        carried_away(oren, 1, where="pit", how="barrow", marker="tile")
    with refused(oren, "empty"):
        inspected(oren, 1, inspector="")
    assert inspected(oren, 1, inspector="Sela Orin").facts.stage is Stage.INSPECTED
    with refused(oren, "inspected"):
        inspected(oren, 1, inspector="Sela Orin")
    assert carried_away(oren, 1, where="pit", how="barrow", marker="tile").facts.stage is Stage.CARRIED


def test_what_was_called_back_needs_a_person_until_it_is_packed(oren: Desk) -> None:
    def called_back() -> list[tuple[tuple[str, ...], object, object]]:
        return [(one.numbers, one.facts["number"], one.facts["n"]) for one in the_day(oren).needs
                if one.kind == "called_back"]  # fmt: skip

    bag(oren, "131")
    signed(oren)
    assert called_back() == []
    call_back(oren, 1, tags=["131"], why="one joins 87")
    assert called_back() == [(("131",), 1, 10)]
    said = [line for line, _since in needs_in_words(the_day(oren).needs, wording(oren), oren.facts.zone)]
    assert "131: 10 sherds off discard list 1 in no bag: pack them" in said
    bag(oren, "131")
    assert called_back() == []


def test_pieces_go_onto_the_list_beside_groups(oren: Desk) -> None:
    reopen(oren, "131", reason="one to be measured")
    group = table_of(oren, "131").groups[1]
    [lifted] = lift_pieces(oren, group.id, seen=group.version).pieces
    lifted = change_piece(oren, lifted.id, seen=lifted.version, decision=Decision.DISCARD, reason="modern")
    settle(oren, "131")
    made = make_list(oren)
    assert [(line.number, line.piece, line.pieces) for line in made.lines] == [
        ("131", None, 9),
        ("131", 1, 1),
        ("132", None, 12),
    ]
    with refused(oren, "on_discard_list"):
        lay_back(oren, lifted.id, seen=lifted.version)
    sign_list(oren, 1, signer="Ilo", pin=PIN)
    assert ledger(oren, "131").discarded == 10
    assert prove(oren).sound


def test_an_excavation_that_discards_nothing_makes_no_list(oren: Desk) -> None:
    with_settings(oren, discards=False)
    with refused(oren, "nothing_discarded"):
        make_list(oren)


def test_prove_finds_what_somebody_did_to_a_list_in_the_file(oren: Desk) -> None:
    signed(oren)
    group = table_of(oren, "131").groups[1]
    with oren.store.writing() as session:
        session.execute(update(SherdGroup).where(SherdGroup.id == group.id).values(discarded=False))
    assert "discard" in {finding.kind for finding in prove(oren).findings}
    with oren.store.writing() as session:
        session.execute(update(SherdGroup).where(SherdGroup.decision == "keep").values(discarded=True))
    said = [finding.in_words(oren.terms) for finding in prove(oren).findings if finding.kind == "discard"]
    assert "Sherds of bucket 131 count as discarded, and no signed list names them." in said


def test_the_day_says_which_list_waits_for_whom(oren: Desk) -> None:
    def waiting() -> list[tuple[object, object]]:
        return [
            (need.facts["number"], need.facts["stage"]) for need in the_day(oren).needs if need.kind == "discard_list"
        ]

    assert waiting() == []
    make_list(oren)
    assert waiting() == [(1, Stage.PROPOSED)]
    sign_list(oren, 1, signer="Ilo", pin=PIN)
    assert waiting() == [(1, Stage.SIGNED)]
    assert waits_for(Stage.SIGNED, inspector_signs=True) is Waits.INSPECTOR
    assert waits_for(Stage.SIGNED, inspector_signs=False) is Waits.BARROW
    carried_away(oren, 1, where="pit", how="barrow", marker="tile")
    assert waiting() == []


def dossier_of_131(desk: Desk) -> Dossier:
    found = find(desk, table_of(desk, "131").code)
    assert isinstance(found, Dossier)
    return found


def test_a_dossier_says_where_its_discards_went(oren: Desk) -> None:
    assert dossier_of_131(oren).discards == ()
    signed(oren)
    carried_away(oren, 1, where="marked pit", how="barrow", marker="tile")
    [gone] = dossier_of_131(oren).discards
    assert (gone.number, gone.season, gone.stage, gone.pieces, gone.carried_to) == (
        1,
        "2026",
        Stage.CARRIED,
        10,
        "marked pit",
    )


def test_who_decided_a_line_is_not_the_second_person_though_somebody_else_made_the_list(oren: Desk) -> None:
    set_pin(oren, "Oren", pin="3307")
    make_list(sitting(oren, "Mika"))
    with refused(oren, "signs_own_decisions"):
        sign_list(oren, 1, pin="3307")
    take_off(oren, 1, tags=["131"], why="looked at again")
    with refused(oren, "signs_own_decisions"):
        sign_list(oren, 1, pin="3307")
    assert sign_list(oren, 1, signer="Ilo", pin=PIN).facts.signed_by == "Ilo Marr"


def test_a_later_change_of_the_count_decides_nothing_and_a_decision_made_anew_does(desk: Desk) -> None:
    tessa = sitting(desk, "Tessa")
    code = dry_container(desk, 133, 9)
    made = add_group(tessa, code, ware="MBU", part="body", pieces=8, decision=Decision.DISCARD, reason="modern")
    change_group(desk, made.id, seen=made.version, pieces=9)
    settle(desk, code)
    assert [line.decided_by for line in make_list(desk).lines] == ["Tessa Quill"]
    take_off(desk, 1, why="another look", to=Decision.KEEP)
    reopen(desk, code, reason="it is modern after all")
    [group] = table_of(desk, code).groups
    change_group(desk, group.id, seen=group.version, decision=Decision.DISCARD, reason="modern")
    settle(desk, code)
    assert [line.decided_by for line in make_list(desk).lines] == ["Ilo Marr"]
