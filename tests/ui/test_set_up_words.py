"""The set-up in words, without a window: the mark with its length, where things lie, a proof, a scanner's test.

Lettering: a character of 2 mm hand lettering takes 1.2 to 1.5 mm with its gap (common practice, no source).
"""

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from findsdesk.desk.cards import scanner_sheet
from findsdesk.desk.desk import Desk
from findsdesk.desk.proving import prove
from findsdesk.desk.restoring import restore
from findsdesk.desk.setting_up import seasons
from findsdesk.desk.whereabouts import whereabouts
from findsdesk.domain.scanner_check import TEST_CODES, compare
from findsdesk.ui.benches.set_up.mark_preview import mark_in_words
from findsdesk.ui.benches.set_up.scanner_part import arrival_in_words, verdict_in_words
from findsdesk.ui.benches.set_up.subjects import list_subjects
from findsdesk.ui.benches.set_up.where_words import copies_in_words, findings_in_words, place_lines, proof_in_words
from findsdesk.ui.words_around import WordsAround
from tests.yard import TERMS, advance, new_yard, put_settled


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    opened = new_yard(tmp_path, by="Ilo")
    yield opened
    opened.close()


def test_a_mark_is_shown_with_its_length_at_the_lettering_height() -> None:
    values = {"permit": "VE-26-014", "mark_pattern": "{permit}\n{deposit}-{container}"}
    assert mark_in_words(values, "TQ", 20, TERMS) == "VE-26-014 / 2017-131: 13 mm long at 2 mm lettering."
    assert "20 mm long" in mark_in_words(values, "TQ", 30, TERMS)


def test_a_pattern_that_cannot_be_used_says_why_while_it_is_typed() -> None:
    assert "bucket" in mark_in_words({"mark_pattern": "{bucket}"}, "TQ", 20, TERMS)
    assert mark_in_words({"mark_pattern": ""}, "TQ", 20, TERMS)


def test_the_places_of_an_excavation_are_told_with_folders_to_open(desk: Desk, tmp_path: Path) -> None:
    lines = {line.what: line for line in place_lines(whereabouts(desk))}
    assert lines["Store"].where == str(tmp_path / "tannery.findsdesk")
    assert lines["Store"].folder == str(tmp_path)
    assert lines["Copies"].where.startswith(str(tmp_path))
    assert lines["Settings of this station"].folder
    assert lines["Photographs"].folder == str(tmp_path / "tannery.photos")


def test_copies_are_told_with_their_age_and_late_ones_are_marked(desk: Desk) -> None:
    around = WordsAround.of(desk)
    said, late = copies_in_words(whereabouts(desk), around)
    assert late
    assert said.startswith("No copy yet")
    desk.copy()
    said, late = copies_in_words(whereabouts(desk), around)
    assert (said.startswith("1 copy, the newest just made"), late) == (True, False)
    advance(desk, hours=25)
    said, late = copies_in_words(whereabouts(desk), around)
    assert late
    assert "25 h old" in said


def test_a_copy_that_is_told_can_be_restored(desk: Desk, tmp_path: Path) -> None:
    desk.copy()
    newest = whereabouts(desk).newest
    assert newest is not None
    assert restore(newest.path, tmp_path / "again").is_file()
    assert whereabouts(desk).now - newest.made_at < timedelta(minutes=1)


def test_a_sound_store_and_a_tampered_one_are_told_apart(desk: Desk) -> None:
    put_settled(desk, 131)
    said = proof_in_words(prove(desk))
    assert said.startswith("Sound: ")
    assert desk.head() in said
    with desk.store.engine.begin() as connection:
        connection.exec_driver_sql("UPDATE container SET standing = 'dry'")
    proof = prove(desk)
    assert proof_in_words(proof).startswith("Found wrong: ")
    assert any("131" in what for _where, what in findings_in_words(proof, desk.terms))


def test_a_scanner_is_judged_when_all_three_codes_have_arrived() -> None:
    good = {code: compare(code, code) for code in TEST_CODES}
    assert verdict_in_words({}).endswith("To come: 3.")
    assert verdict_in_words(good) == "This scanner reads every code."
    swapped = compare(TEST_CODES[2], "OPQRSTUVWXZY")
    assert arrival_in_words(swapped) == "other signs: Y came as Z, Z came as Y"
    assert "keyboard layout" in verdict_in_words(good | {TEST_CODES[2]: swapped})


def test_the_test_sheet_is_a_page_of_paper(desk: Desk) -> None:
    assert scanner_sheet(desk).startswith(b"%PDF")


def test_every_subject_reads_what_is_there_and_shows_what_it_would_change(desk: Desk) -> None:
    for subject in list_subjects(desk.terms):
        for entry in subject.entries(desk):
            assert len(entry.row.cells) == len(subject.columns)
            if subject.change is not None:
                assert set(entry.values) == {field.key for field in subject.fields}


def test_writing_an_entry_back_as_it_is_changes_nothing(desk: Desk) -> None:
    before = seasons(desk)
    for subject in list_subjects(desk.terms):
        if subject.change is not None:
            for entry in subject.entries(desk):
                subject.change(desk, entry, dict(entry.values))
    assert seasons(desk) == before
