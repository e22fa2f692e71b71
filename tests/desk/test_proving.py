"""Proving: a sound store proves sound; what is tampered with in the file is found, the first wrong entry named."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from findsdesk.desk.correcting import correct_container, move_container
from findsdesk.desk.counting import count_again, log_count
from findsdesk.desk.deposits import open_deposit
from findsdesk.desk.desk import Desk
from findsdesk.desk.moving import swap_tags, take_out
from findsdesk.desk.opening import at_station, open_store
from findsdesk.desk.proving import Finding, FindingKind, prove
from findsdesk.desk.redoing import redo_done, things_to_redo
from findsdesk.desk.renumbering import merge_deposits, renumber_deposit, split_deposit
from findsdesk.desk.sherd_groups import add_group, remove_group
from findsdesk.desk.sorting import reopen
from tests.yard import LOOKED_AT, advance, new_yard, put_bag, put_container, put_containers, put_settled

BUCKET_102 = "SELECT id FROM container WHERE number = '102'"
COLUMNS = "container_id, pieces, tenths, wet, purpose, happened_at, person_id"
COUNT_AGAIN = f"INSERT INTO count (id, {COLUMNS}) SELECT id + 1000000, {COLUMNS} FROM count WHERE pieces = 5"


@pytest.fixture
def lived(tmp_path: Path) -> Iterator[Desk]:
    """Return a desk after a day in which much was written, corrected and taken out again."""
    desk = new_yard(tmp_path)
    live_a_day(desk)
    yield desk
    desk.let_go()


def live_a_day(desk: Desk) -> None:
    settled = put_settled(desk, 101, deposit="2017", kept=22, discarded=10, tenths=3400)
    put_bag(desk, settled)
    put_settled(desk, 102, deposit="2019", kept=5, discarded=0)
    first, second = put_containers(desk, (103, 104), steps=LOOKED_AT)
    log_count(desk, first, pieces=88, tenths=9000)
    advance(desk, hours=1)
    log_count(desk, second, pieces=40)
    count_again(desk, first, pieces=91)
    swap_tags(desk, first, second, reason="trays")
    take_out(desk, first, pieces=7, material="bone")
    correct_container(desk, second, material="tile_brick", reason="looked")
    open_deposit(desk, "2020", square="B1")
    move_container(desk, settled, to="2020", reason="misread", sure=True)
    renumber_deposit(desk, "2017", to="2018", reason="misread")
    merge_deposits(desk, "2018", into="2019", reason="one layer", sure=True)
    split_deposit(desk, "2019", containers=["103"], to="2050", reason="pit")
    redo_done(desk, [thing.id for thing in things_to_redo(desk)][:2])
    reopen(desk, settled, reason="one more")
    row = add_group(desk, settled, ware="TGY", part="base", pieces=2)
    remove_group(desk, row.id, seen=row.version)


@pytest.fixture
def file(lived: Desk) -> Iterator[sqlite3.Connection]:
    """Return a bare connection to the store's file, as somebody with another program has it."""
    if lived.store.path is None:
        pytest.skip("a store on a server has no file that another program opens")
    with closing(sqlite3.connect(lived.store.path, isolation_level=None)) as connection:
        yield connection


def found(desk: Desk) -> list[tuple[FindingKind, str]]:
    """Return kind and place of all findings."""
    return [(finding.kind, finding.where) for finding in prove(desk).findings]


def only(desk: Desk, kind: FindingKind) -> Finding:
    """Return the one finding of a kind."""
    (one,) = [finding for finding in prove(desk).findings if finding.kind is kind]
    return one


def test_a_store_that_was_only_written_by_its_deeds_is_sound(lived: Desk) -> None:
    proof = prove(lived)
    assert [finding.in_words(lived.terms) for finding in proof.findings] == []
    assert proof.sound
    assert proof.acts > 40
    assert proof.lines > proof.acts
    assert proof.containers == 5
    assert proof.head == lived.head()


def act(file: sqlite3.Connection, deed: str) -> tuple[str, int]:
    """Return the id and the running number of the first act of a deed."""
    row = file.execute("SELECT id, running FROM act WHERE deed = ? ORDER BY running", (deed,)).fetchone()
    return str(row[0]), int(row[1])


def test_an_acts_text_that_was_changed_is_named(lived: Desk, file: sqlite3.Connection) -> None:
    act_id, running = act(file, "log_count")
    file.execute("UPDATE act SET said = '101: 33' WHERE id = ?", (act_id,))
    finding = only(lived, FindingKind.CHAIN)
    assert finding.where == f"first {running}"
    assert finding.in_words(lived.terms) == (
        f"Act {running} at first (counted, Ilo Marr: 101: 33) was changed after it was written."
    )


@pytest.mark.parametrize("column", ["person_name", "happened_at", "zone", "deed", "hash"])
def test_nothing_of_an_act_can_be_changed_unseen(lived: Desk, file: sqlite3.Connection, column: str) -> None:
    act_id, running = act(file, "count_again")
    file.execute(f"UPDATE act SET {column} = 7 WHERE id = ?", (act_id,))
    assert only(lived, FindingKind.CHAIN).where == f"first {running}"


def test_a_line_that_was_changed_names_its_act(lived: Desk, file: sqlite3.Connection) -> None:
    act_id, running = act(file, "log_count")
    file.execute("UPDATE line SET after = replace(after, '32', '33') WHERE act_id = ? AND kind = 'count'", (act_id,))
    assert (FindingKind.CHAIN, f"first {running}") in found(lived)


@pytest.mark.parametrize(
    "change",
    [
        "DELETE FROM line WHERE act_id = ? AND kind = 'count'",
        "UPDATE line SET ordinal = ordinal + 5 WHERE act_id = ? AND kind = 'step'",
    ],
)
def test_lines_taken_out_or_turned_round_name_their_act(lived: Desk, file: sqlite3.Connection, change: str) -> None:
    act_id, running = act(file, "log_count")
    file.execute(change, (act_id,))
    assert (FindingKind.CHAIN, f"first {running}") in found(lived)


def test_of_two_changed_acts_the_first_is_named(lived: Desk, file: sqlite3.Connection) -> None:
    _first, running = act(file, "log_count")
    file.execute("UPDATE act SET said = 'x' WHERE running >= ?", (running,))
    assert only(lived, FindingKind.CHAIN).where == f"first {running}"


def test_an_act_taken_out_of_the_middle_is_missed(lived: Desk, file: sqlite3.Connection) -> None:
    act_id, running = act(file, "count_again")
    file.execute("DELETE FROM line WHERE act_id = ?", (act_id,))
    file.execute("DELETE FROM act WHERE id = ?", (act_id,))
    finding = only(lived, FindingKind.CHAIN)
    assert finding.in_words() == f"Act {running} at first is missing from the journal."


def test_acts_closed_up_over_a_gap_do_not_follow(lived: Desk, file: sqlite3.Connection) -> None:
    act_id, running = act(file, "count_again")
    file.execute("DELETE FROM line WHERE act_id = ?", (act_id,))
    file.execute("DELETE FROM act WHERE id = ?", (act_id,))
    file.execute("UPDATE act SET running = -running WHERE running > ?", (running,))
    file.execute("UPDATE act SET running = -running - 1 WHERE running < 0")
    assert only(lived, FindingKind.CHAIN).where == f"first {running}"


def test_acts_cut_off_at_the_end_are_missed(lived: Desk, file: sqlite3.Connection) -> None:
    (last,) = file.execute("SELECT max(running) FROM act").fetchone()
    file.execute("DELETE FROM line WHERE act_id IN (SELECT id FROM act WHERE running >= ?)", (last - 1,))
    file.execute("DELETE FROM act WHERE running >= ?", (last - 1,))
    assert only(lived, FindingKind.CHAIN).where == f"first {last - 1}"
    file.execute("UPDATE station SET running = ? WHERE name = 'first'", (last - 2,))
    assert only(lived, FindingKind.CHAIN).facts["running"] == last - 2


def test_each_station_has_its_own_chain(lived: Desk, file: sqlite3.Connection) -> None:
    away = at_station(lived, "trench")
    put_container(away, 901)
    put_container(away, 902)
    assert prove(lived).sound
    file.execute("UPDATE act SET said = 'x' WHERE station_id = 2 AND running = 2")
    file.execute("UPDATE act SET said = 'x' WHERE station_id = 1 AND running = 3")
    assert [where for kind, where in found(lived) if kind is FindingKind.CHAIN] == ["first 3", "trench 2"]


@pytest.mark.parametrize(
    ("kind", "where", "change"),
    [
        (FindingKind.TOTAL, "container 101", "UPDATE balance_total SET kept = kept + 1 WHERE kept = 22"),
        (FindingKind.TOTAL, "container 101", "UPDATE balance_total SET accounted_tenths = 0 WHERE kept = 22"),
        (FindingKind.TOTAL, "container 102", "DELETE FROM balance_total WHERE kept = 5"),
        (FindingKind.TOTAL, "deposit 2020", "UPDATE ware_total SET pieces = pieces - 3 WHERE pieces = 22"),
        (FindingKind.STANDING, "container 102", "UPDATE container SET standing = 'dry' WHERE number = '102'"),
        (
            FindingKind.STANDING,
            "container 102",
            f"DELETE FROM step WHERE kind = 'settled' AND container_id = ({BUCKET_102})",
        ),
    ],
)
def test_a_kept_number_that_was_changed_is_found(
    lived: Desk, file: sqlite3.Connection, kind: FindingKind, where: str, change: str
) -> None:
    file.execute(change)
    assert {(what, place) for what, place in found(lived) if what is not FindingKind.ROW} == {(kind, where)}


def test_findings_say_what_is_kept_and_what_it_should_be(lived: Desk, file: sqlite3.Connection) -> None:
    file.execute("UPDATE balance_total SET kept = 23 WHERE kept = 22")
    file.execute("UPDATE container SET standing = 'dry' WHERE number = '102'")
    said = {finding.in_words(lived.terms) for finding in prove(lived).findings}
    assert "The balance of bucket 101 (pottery) keeps 23 as kept; its rows sum to 22." in said
    assert "Bucket 102 is kept as “dry”; its steps lead to “settled”." in said


@pytest.mark.parametrize(
    ("why", "change"),
    [
        ("not what the journal says of it: description", "UPDATE container SET description = 'x' WHERE number = '102'"),
        ("not what the journal says of it: material", "UPDATE container SET material = 'bone' WHERE number = '103'"),
        ("not what the journal says of it: happened_at", "UPDATE count SET happened_at = 7 WHERE pieces = 5"),
        ("not what the journal says of it: version", "UPDATE container SET version = 99 WHERE number = '102'"),
        ("known to the journal and is not there", "DELETE FROM count WHERE pieces = 5"),
        ("unknown to the journal", COUNT_AGAIN),
    ],
)
def test_a_row_that_the_journal_says_otherwise_is_found(
    lived: Desk, file: sqlite3.Connection, why: str, change: str
) -> None:
    file.execute(change)
    finding = only(lived, FindingKind.ROW)
    assert why in finding.in_words(lived.terms)


def test_a_reference_that_leads_nowhere_is_found(lived: Desk, file: sqlite3.Connection) -> None:
    file.execute("PRAGMA foreign_keys=OFF")
    file.execute("UPDATE bag SET container_id = 77")
    finding = only(lived, FindingKind.REFERENCE)
    assert "bag" in finding.in_words()


def test_of_a_damaged_file_the_damage_is_named_and_nothing_else(lived: Desk) -> None:
    path = lived.store.path
    if path is None:
        pytest.skip("a store on a server has no file that can be damaged")
    lived.let_go()
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        connection.execute("PRAGMA writable_schema=ON")
        pages = "(SELECT rootpage FROM sqlite_master WHERE name = 'ix_step_kind_happened_at')"
        connection.execute(f"UPDATE sqlite_master SET rootpage = {pages} WHERE name = 'ix_container_number_key'")
    again = open_store(path, read_only=True)
    assert {kind for kind, _where in found(again)} == {FindingKind.FILE}
    again.let_go()


def test_what_many_rows_have_wrong_is_named_at_most_so_often(
    lived: Desk, file: sqlite3.Connection, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("findsdesk.desk.proving.MOST_FINDINGS", 3)
    file.execute("UPDATE step SET place = 'x'")
    assert [kind for kind, _where in found(lived)] == [FindingKind.ROW] * 3
