"""A coin met in a bucket becomes an object in one act; samples take grams and sherds that stay accounted for."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest

from findsdesk.desk.changing_objects import change_object
from findsdesk.desk.changing_pieces import change_piece, describe_piece
from findsdesk.desk.desk import Desk
from findsdesk.desk.discards import carried_away, make_list, sign_list
from findsdesk.desk.dossiers import dossier_of
from findsdesk.desk.objects import (
    Leaves,
    RegisteredObject,
    know_of_objects,
    new_objects,
    object_of,
    register_object,
)
from findsdesk.desk.photos import photos_of
from findsdesk.desk.pieces import lift_pieces, pieces_of
from findsdesk.desk.pins import set_pin
from findsdesk.desk.playing import do
from findsdesk.desk.proving import prove
from findsdesk.desk.register_columns import fields_of, wording
from findsdesk.desk.registers import Register, RegisterQuery, page
from findsdesk.desk.samples import SampleFacts, change_sample, sample_of, take_sample
from findsdesk.desk.searching import search
from findsdesk.desk.sorting import add_group, answer_entry, explain, settle, table_of
from findsdesk.desk.the_day import the_day
from findsdesk.desk.washing import hand_on
from findsdesk.desk.word_lists import words_of
from findsdesk.domain.balance import Decision, Entry
from findsdesk.domain.routes import Standing
from findsdesk.domain.settings import Role
from tests.desk.at_the_table import dry_container, prove_totals, refused
from tests.desk.test_photos import drawn, folder_of, text
from tests.yard import acts, earlier_season, last_said, put_container, sitting


@pytest.fixture
def bucket(desk: Desk) -> str:
    """Return a bucket of 132 on the table, 130 of them written."""
    code = dry_container(desk, 131, 132)
    add_group(desk, code, ware="QRS", part="rim", pieces=11, tenths=3400)
    add_group(desk, code, ware="TGY", part="body", pieces=119, tenths=20000)
    return code


def coin(desk: Desk, tag: str, **said: Any) -> RegisteredObject:
    return register_object(desk, tag, **{"what": "coin", "material": "bronze", "leaves": Leaves.NOT_A_SHERD, **said})


def test_a_coin_becomes_an_object_in_one_act(desk: Desk, bucket: str) -> None:
    found = coin(desk, bucket, earliest=330, latest=348, tenths=24).found
    assert (found.number, found.season, found.what, found.material) == (1, "2026", "coin", "metal")
    assert (found.from_container, found.deposit, found.square) == ("131", "2017", "A1")
    ledger = table_of(desk, bucket).ledger
    assert (ledger.not_a_sherd, ledger.unsorted) == (1, 1)
    own = dossier_of(desk, found.container_id)
    assert (own.standing, own.route.key, own.ledger.arrived) == (Standing.ARRIVED, "metal", 1)
    prove_totals(desk)
    assert prove(desk).sound


def test_the_word_for_its_material_is_kept_beside_its_route_and_found(desk: Desk, bucket: str) -> None:
    found = coin(desk, bucket, material=" Bronze ").found
    assert (found.material, found.made_of) == ("metal", "Bronze")
    (hits,) = (kind.hits for kind in search(desk, "bronze").kinds if kind.kind == "found_object")
    assert [hit.row_id for hit in hits] == [found.id]
    (row,) = page(desk, Register.OBJECTS, RegisterQuery("bronze"))
    (material,) = (one for one in fields_of(Register.OBJECTS) if one.key == "material")
    assert material.value(row, wording(desk)) == "Metal: Bronze"
    # The route's own name says nothing more; a corrected word is searched.
    assert coin(desk, bucket, leaves=Leaves.NOT_COUNTED, material="Metal").found.made_of == ""
    change_object(desk, found.id, seen=found.version, made_of="billon")
    assert list(page(desk, Register.OBJECTS, RegisterQuery("bronze"))) == []
    whole = put_container(desk, 141, material="metal")
    assert register_object(desk, whole, what="brooch", material="iron", leaves=Leaves.ITSELF).found.made_of == "iron"
    assert prove(desk).sound


@pytest.mark.parametrize("leaves", Leaves)
def test_the_grams_of_an_object_stay_with_it_however_it_stood_in_the_count(
    desk: Desk, bucket: str, leaves: Leaves
) -> None:
    found = coin(desk, bucket, leaves=leaves, tenths=24).found
    assert (found.tenths, object_of(desk, found.number).tenths) == (24, 24)
    (grams,) = (one for one in fields_of(Register.OBJECTS) if one.key == "grams")
    assert grams.value(found, wording(desk)) == 2.4
    assert change_object(desk, found.id, seen=found.version, tenths=25).tenths == 25
    assert prove(desk).sound


@pytest.mark.parametrize(
    ("leaves", "moved", "not_sherd", "unsorted", "arrived"),
    [
        (Leaves.MOVED_OUT, 1, 0, 1, 1),
        (Leaves.NOT_A_SHERD, 0, 1, 1, 1),
        (Leaves.NOT_COUNTED, 0, 0, 2, 0),
    ],
)
def test_how_it_leaves_the_count_is_the_callers_word(
    desk: Desk, bucket: str, leaves: Leaves, moved: int, not_sherd: int, unsorted: int, arrived: int
) -> None:
    found = coin(desk, bucket, leaves=leaves).found
    ledger = table_of(desk, bucket).ledger
    assert (ledger.moved_out, ledger.not_a_sherd, ledger.unsorted) == (moved, not_sherd, unsorted)
    assert dossier_of(desk, found.container_id).ledger.arrived == arrived
    assert prove(desk).sound


def test_a_container_that_is_the_object_gets_no_second_tag(desk: Desk) -> None:
    code = put_container(desk, 140, material="metal")
    registered = register_object(desk, code, what="brooch", leaves=Leaves.ITSELF)
    assert (registered.new_tag, registered.tag.code) == (False, code)
    assert registered.found.container == "140"


def test_its_photograph_is_taken_in_by_the_same_act(desk: Desk, bucket: str, tmp_path: Path) -> None:
    before = acts(desk)
    found = coin(desk, bucket, photo=drawn(tmp_path)).found
    assert (acts(desk), found.photos) == (before + 1, 1)
    assert [one.file_name for one in photos_of(desk, ("object", found.id))] == ["rim.jpg"]
    with refused(desk, "not_a_photo"):
        coin(desk, bucket, photo=text(tmp_path))
    lie_there = list(folder_of(desk).rglob("*"))
    with refused(desk, "unknown_number"):
        coin(desk, "999", photo=drawn(tmp_path, "other.jpg", (60, 40)))
    assert list(folder_of(desk).rglob("*")) == lie_there
    do(desk, "register-object", {"what": "bead", "material": "glass", "photo": str(drawn(tmp_path))}, ("131",))
    assert object_of(desk, 2).photos == 1
    assert prove(desk).sound


def test_an_object_is_described_by_its_number(desk: Desk, bucket: str) -> None:
    coin(desk, bucket, earliest=330, latest=348)
    do(desk, "change-object", {"what": "token", "latest": "340", "description": "worn"}, ("1",))
    said = object_of(desk, 1)
    assert (said.what, said.earliest, said.latest, said.description) == ("token", 330, 340, "worn")
    assert last_said(desk) == "1: what it is, latest year, description"
    do(desk, "change-object", {"earliest": "-", "latest": "-", "description": ""}, ("1",))
    said = object_of(desk, 1)
    assert (said.what, said.earliest, said.latest, said.description) == ("token", None, None, "")
    with refused(desk, "unknown_object"):
        do(desk, "change-object", {"what": "token"}, ("7",))


def test_objects_are_numbered_within_their_season(desk: Desk, bucket: str) -> None:
    earlier_season(desk)
    old = put_container(desk, 87, season="2024", deposit=None)
    assert coin(desk, bucket, number=31).found.number == 31
    assert coin(desk, bucket).found.number == 32
    assert coin(desk, old).found.number == 1
    assert object_of(desk, 1).season == "2024"
    with refused(desk, "object_number_taken"):
        coin(desk, bucket, number=31)
    with refused(desk, "unknown_object"):
        object_of(desk, 99)


@pytest.mark.parametrize(
    ("said", "code"),
    [
        ({"what": " "}, "empty"),
        ({"material": "cheese"}, "unknown_material"),
        ({"earliest": 348, "latest": 330}, "range_reversed"),
        ({"number": 0}, "object_number_taken"),
    ],
)
def test_what_is_no_object(desk: Desk, bucket: str, said: dict[str, Any], code: str) -> None:
    with refused(desk, code):
        coin(desk, bucket, **said)


def test_nothing_leaves_a_settled_or_an_empty_bucket(desk: Desk) -> None:
    code = dry_container(desk, 131, 1)
    add_group(desk, code, ware="QRS", part="rim", pieces=1)
    settle(desk, code)
    with refused(desk, "already_settled"):
        coin(desk, code)
    # What was never counted changes no count: it may be met in one that is settled.
    before = table_of(desk, code)
    assert coin(desk, code, leaves=Leaves.NOT_COUNTED).found.from_container == "131"
    assert (table_of(desk, code).ledger, table_of(desk, code).standing) == (before.ledger, Standing.SETTLED)
    assert prove(desk).sound
    empty = dry_container(desk, 140, 1)
    add_group(desk, empty, ware="QRS", part="rim", pieces=1)
    coin(desk, empty)
    with refused(desk, "more_than_there"):
        coin(desk, empty)


def test_an_object_is_described_and_the_director_takes_note(desk: Desk, bucket: str) -> None:
    found = coin(desk, bucket).found
    assert [one.number for one in new_objects(desk)] == [1]
    (need,) = [need for need in the_day(desk).needs if need.kind == "new_object"]
    assert (need.numbers, need.facts) == ((found.container,), {"number": 1, "what": "coin"})
    said = change_object(desk, found.id, seen=found.version, description="emperor to the right", earliest=330)
    assert (said.description, said.earliest, said.told_at) == ("emperor to the right", 330, None)
    with refused(desk, "changed_meanwhile"):
        change_object(desk, found.id, seen=found.version, what="token")
    with refused(desk, "object_gone"):
        change_object(desk, 12, seen=1, what="token")
    with refused(desk, "not_the_director"):
        know_of_objects(sitting(desk, "Oren"))
    assert desk.person.role is Role.DIRECTOR
    assert know_of_objects(desk, [found.id]) == 1
    assert object_of(desk, 1).told_at == desk.now()
    assert know_of_objects(desk) == 0
    assert new_objects(desk) == ()
    assert not [need for need in the_day(desk).needs if need.kind == "new_object"]


def sampled(desk: Desk, of: str, **said: Any) -> SampleFacts:
    return take_sample(desk, of, **{"what_for": "thin section", **said})


def lift_one(desk: Desk, code: str, tenths: int = 412) -> str:
    group = table_of(desk, code).groups[0]
    lift_pieces(desk, group.id, seen=group.version, tenths=tenths)
    return "131.1"


def test_a_chip_off_a_piece_leaves_its_grams_and_stays_accounted_for(desk: Desk, bucket: str) -> None:
    before = table_of(desk, bucket)
    sample = sampled(desk, lift_one(desk, bucket), taken_tenths=25, permit="VE-26-014")
    assert (sample.number, sample.piece, sample.what_for, sample.taken_tenths) == (1, "131.1", "thin_section", 25)
    assert last_said(desk) == "1: 131.1, thin section"
    assert pieces_of(desk, bucket)[0].tenths == 387
    assert table_of(desk, bucket).grams.accounted == before.grams.accounted
    assert table_of(desk, bucket).ledger == before.ledger
    assert prove(desk).sound


def test_a_piece_that_is_used_up_keeps_its_number(desk: Desk, bucket: str) -> None:
    before = table_of(desk, bucket).ledger
    sampled(desk, lift_one(desk, bucket), taken_tenths=412, pieces_used=1)
    (piece,) = pieces_of(desk, bucket)
    assert (piece.name, piece.pieces, piece.tenths) == ("131.1", 0, 0)
    after = table_of(desk, bucket).ledger
    assert (after.kept, after.used_up, after.unsorted) == (before.kept - 1, 1, before.unsorted)
    assert prove(desk).sound


@pytest.mark.parametrize("grams", [{}, {"taken_tenths": 25}])
def test_the_grams_of_a_piece_that_is_used_up_go_with_it(desk: Desk, bucket: str, grams: dict[str, int]) -> None:
    """No sherd without grams, no grams without a sherd: whatever was said of the sample's own weight."""
    before = table_of(desk, bucket).grams.accounted
    sampled(desk, lift_one(desk, bucket), pieces_used=1, **grams)
    (piece,) = pieces_of(desk, bucket)
    assert (piece.pieces, piece.tenths) == (0, 0)
    table = table_of(desk, bucket)
    assert table.grams.accounted == before
    assert [entry.tenths for entry in table.entries if entry.kind is Entry.USED_UP][-1:] == [412]
    assert prove(desk).sound


def test_whole_sherds_of_a_bucket_are_used_up_by_an_entry(desk: Desk, bucket: str) -> None:
    sampled(desk, bucket, what_for="residues", pieces_used=2)
    assert last_said(desk).startswith("1: 131, ")
    assert last_said(desk).removeprefix("1: 131, ") == words_of(desk)["sample_purposes"].called("residue")
    table = table_of(desk, bucket)
    assert (table.ledger.used_up, table.ledger.unsorted) == (2, 0)
    assert [entry.why for entry in table.entries if entry.pieces == 2] == ["residue"]
    settle(desk, bucket, sure=True)
    with refused(desk, "already_settled"):
        sampled(desk, bucket, pieces_used=1)
    assert prove(desk).sound


@pytest.mark.parametrize(
    ("of", "said", "code"),
    [
        ("131.1", {}, "nothing_taken"),
        ("131.1", {"taken_tenths": -1}, "nothing_taken"),
        ("131.1", {"taken_tenths": 413}, "more_than_there"),
        ("131.1", {"pieces_used": 2}, "more_than_there"),
        ("131", {"pieces_used": 133}, "more_than_there"),
        ("131.1", {"taken_tenths": 1, "what_for": "lunch"}, "unknown_word"),
        ("131.7", {"taken_tenths": 1}, "unknown_piece"),
        ("999", {"taken_tenths": 1}, "unknown_number"),
    ],
)
def test_what_cannot_be_taken(desk: Desk, bucket: str, of: str, said: dict[str, Any], code: str) -> None:
    lift_one(desk, bucket)
    with refused(desk, code):
        sampled(desk, of, **said)


def test_a_sample_is_followed_to_its_result(desk: Desk, bucket: str) -> None:
    taken = sampled(desk, lift_one(desk, bucket), taken_tenths=25)
    with refused(desk, "sent_without_permit"):
        change_sample(desk, taken.number, sent_on=date(2026, 8, 20))
    sent = change_sample(
        desk, taken.number, seen=taken.version, laboratory="Kiln House", permit="VE-26-031", sent_on=date(2026, 8, 20)
    )
    with refused(desk, "back_before_sent"):
        change_sample(desk, taken.number, back_on=date(2026, 8, 1))
    with refused(desk, "rest_above_taken"):
        change_sample(desk, taken.number, rest_tenths=26)
    with refused(desk, "changed_meanwhile"):
        change_sample(desk, taken.number, seen=taken.version, result="x")
    with refused(desk, "unknown_sample"):
        change_sample(desk, 99, result="x")
    change_sample(desk, taken.number, seen=sent.version, back_on=date(2026, 9, 30), rest_tenths=20, result="local clay")
    assert sample_of(desk, 1).result == "local clay"
    # A day and grams given by mistake are emptied again, by the act and in the terminal's words.
    emptied = change_sample(desk, taken.number, back_on=None, rest_tenths=None)
    assert (emptied.back_on, emptied.rest_tenths, emptied.result) == (None, None, "local clay")
    do(desk, "change-sample", {"sent_on": "-", "permit": ""}, ("1",))
    assert (sample_of(desk, 1).sent_on, sample_of(desk, 1).permit) == (None, "")
    assert last_said(desk) == "1: sent on, permit"


def test_by_name(desk: Desk, bucket: str) -> None:
    lift_one(desk, bucket)
    do(desk, "register-object", {"what": "coin", "material": "coin", "leaves": "not-a-sherd", "number": "31"}, ("131",))
    do(desk, "take-sample", {"what-for": "residue", "taken": "2.5", "permit": "VE-26-031"}, ("131.1",))
    do(desk, "change-sample", {"sent_on": "2026-08-20", "rest": "1"}, ("1",))
    assert object_of(desk, 31).what == "coin"
    assert (sample_of(desk, 1).taken_tenths, sample_of(desk, 1).rest_tenths) == (25, 10)


def test_a_used_up_piece_is_described_further(desk: Desk, bucket: str) -> None:
    sampled(desk, lift_one(desk, bucket), taken_tenths=412, pieces_used=1)
    changed = describe_piece(desk, "131.1", note="thin section 1", part="base")
    assert (changed.note, changed.part, changed.pieces) == ("thin section 1", "base", 0)
    prove_totals(desk)
    lift_one(desk, bucket)
    with refused(desk, "group_pieces"):
        describe_piece(desk, "131.2", pieces=0)


def test_nothing_is_taken_of_a_piece_on_a_discard_list_or_carried_away(desk: Desk) -> None:
    code, oren = dry_container(desk, 131, 1), sitting(desk, "Oren")
    row = add_group(oren, code, ware="MBU", part="body", pieces=1, decision=Decision.DISCARD, reason="modern")
    [lifted] = lift_pieces(oren, row.id, seen=row.version).pieces
    change_piece(oren, lifted.id, seen=lifted.version, decision=Decision.DISCARD, reason="modern")
    settle(desk, code)
    make_list(oren)
    with refused(desk, "on_discard_list"):
        sampled(desk, "131.1", pieces_used=1)
    set_pin(desk, "Ilo", pin="2406")
    sign_list(desk, 1, pin="2406")
    carried_away(desk, 1, where="pit", how="barrow", marker="tile")
    with refused(desk, "carried_off"):
        sampled(desk, "131.1", pieces_used=1)
    assert prove(desk).sound


def test_what_a_sample_used_up_is_not_answered_as_if_it_were_there(desk: Desk, bucket: str) -> None:
    sampled(desk, bucket, pieces_used=2)
    entry = next(row for row in table_of(desk, bucket).entries if row.kind is Entry.USED_UP)
    with refused(desk, "entry_of_sample") as caught:
        answer_entry(desk, entry.id, why="not so")
    assert caught.value.facts["sample"] == 1


def test_nothing_is_written_of_a_bucket_that_is_away(desk: Desk) -> None:
    code = dry_container(desk, 131, 3)
    add_group(desk, code, ware="QRS", part="rim", pieces=3)
    settle(desk, code)
    hand_on(desk, code, to="the glass specialist")
    with refused(desk, "not_here"):
        explain(desk, code, Entry.FOUND_MORE, pieces=1)
    with refused(desk, "not_here"):
        sampled(desk, code, pieces_used=1)
    assert table_of(desk, code).ledger.balances
