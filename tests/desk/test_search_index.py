"""The full-text index: kept with each deed, made anew, proved, and asked by whatever people type."""

from random import Random

import pytest
from sqlalchemy import func, select, text

from findsdesk.desk.correcting import correct_container
from findsdesk.desk.counting import log_count
from findsdesk.desk.desk import Desk
from findsdesk.desk.proving import FindingKind, prove
from findsdesk.desk.registers import Register, page
from findsdesk.desk.renumbering import renumber_deposit
from findsdesk.desk.searching import make_search_anew
from findsdesk.domain.searched_words import words_looked_for
from findsdesk.store.every_table import every_model
from findsdesk.store.models import Container, FormerNumber, Journaled, SearchedText
from findsdesk.store.search_index import SAYS, found, place_of
from findsdesk.store.texts_proved import WrongText, wrong_texts
from tests.yard import LOOKED_AT, put_containers, statements_of


def kinds(desk: Desk, said: str, kind: str = "") -> list[str]:
    with desk.reading() as reading:
        answers = found(reading.session, words_looked_for(said), 100)
        return [one.kind for one in answers for _row in one.newest if kind in ("", one.kind)]


def wrong(desk: Desk) -> list[WrongText]:
    with desk.reading() as reading:
        return list(wrong_texts(reading.session))


def in_the_store(desk: Desk, *statements: str) -> None:
    with desk.store.writing() as session:
        for statement in statements:
            session.execute(text(statement))


def test_a_row_is_found_by_its_words_as_soon_as_it_is_written(desk: Desk) -> None:
    put_containers(desk, (1, 2))
    assert kinds(desk, "etag") == []
    correct_container(desk, "1", description="Rims of an Étagère, κέραμος, 陶片, 90.4", reason="looked")
    for said in ("ETAGERE", "étag", "rims of", "κεραμοσ", "陶片", "片", "90.4", "Étagère κέρ"):
        assert kinds(desk, said, "container") == ["container"], said
    for said in ("tagere", "90.5", "rims cups", "陶器"):
        assert kinds(desk, said, "container") == [], said
    correct_container(desk, "1", description="", reason="it was another's")
    assert kinds(desk, "etag", "container") == []
    assert wrong(desk) == []


def test_no_sign_that_people_type_breaks_a_search(desk: Desk) -> None:
    put_containers(desk, (1,))
    correct_container(desk, "1", description="and or not near zz", reason="looked")
    for said in ('"', "'", "a'b", 'NEAR("and" or)', "x*", "said:1", "=container", "()", "\\", "&|!", ":*", "%", "--"):
        kinds(desk, f"{said} zz")
    for said in ('"and" OR', "near* (not)", "AND NOT", "%zz'"):
        assert kinds(desk, said, "container") == ["container"], said


def test_what_is_found_is_what_a_look_through_all_rows_finds(desk: Desk) -> None:
    """OWN check: the plain way, word by word in Python, beside the database's index."""
    words = ("rim", "rims", "handle", "red", "redder", "slip", "amphora", "stopper", "burnt", "of", "2017-131", "x")
    by_chance = Random(20261130)
    put_containers(desk, range(1, 31))
    says = {}
    with desk.deed("correct_container") as deed:
        for row in deed.session.execute(select(Container)).scalars():
            says[row.id] = [*by_chance.choices(words, k=4), "ab"]
            row.description = ", ".join(says[row.id]).upper()
    for asked in (("ri",), ("red",), ("x",), ("of", "sl"), ("rim", "han"), ("2017",), ("ab", "am", "bu"), ("rimss",)):
        expected = {
            row_id
            for row_id, said in says.items()
            if all(any(word == one or (len(one) > 1 and word.startswith(one)) for word in said) for one in asked)
        }
        with desk.reading() as reading:
            answers = found(reading.session, asked, 100)
        got = [row for one in answers if one.kind == "container" for row in one.newest]
        assert got == sorted(expected, reverse=True), asked
    assert wrong(desk) == []


def test_a_word_of_one_sign_is_the_whole_word(desk: Desk) -> None:
    put_containers(desk, (1, 10, 100))
    assert len(kinds(desk, "1", "container")) == 1
    assert len(kinds(desk, "10", "container")) == 2


def test_a_deed_that_says_nothing_new_sends_no_statement_for_it(desk: Desk) -> None:
    codes = put_containers(desk, (1, 2), steps=LOOKED_AT)
    log_count(desk, codes[0], pieces=3)
    with statements_of(desk) as heard:
        log_count(desk, codes[1], pieces=5)
    assert not [one for one in heard if "searched_text" in one]


def test_rows_that_went_are_found_no_more(desk: Desk) -> None:
    put_containers(desk, (1,))
    renumber_deposit(desk, "2017", to="2099", reason="misread as a pit")
    assert kinds(desk, "misread pit") == ["former_number"]
    with desk.deed("renumber_deposit") as deed:
        deed.session.delete(deed.session.execute(select(FormerNumber)).scalar_one())
    assert kinds(desk, "misread pit") == []
    assert wrong(desk) == []


def test_prove_names_what_the_search_has_wrong_and_made_anew_it_is_right(desk: Desk) -> None:
    put_containers(desk, (1, 2, 3))
    first, second, _third = (row.id for row in page(desk, Register.CONTAINERS))
    in_the_store(
        desk,
        f"UPDATE searched_text SET said = said || ' more' WHERE place = {place_of('container', first)}",
        f"DELETE FROM searched_text WHERE place = {place_of('container', second)}",
        f"INSERT INTO searched_text (place, said) VALUES ({place_of('container', 9)}, 'ghost')",
    )
    assert sorted(one.why for one in wrong(desk)) == ["left over", "missing", "stale"]
    findings = [one for one in prove(desk).findings if one.kind is FindingKind.SEARCH]
    assert len(findings) == 3
    assert all(one.in_words(desk.terms) for one in findings)
    with desk.reading() as reading:
        before = reading.session.execute(select(func.count()).select_from(SearchedText)).scalar_one()
    assert make_search_anew(desk) == before
    assert wrong(desk) == []
    assert kinds(desk, "3", "container") == ["container"]


def test_prove_sees_an_index_that_the_texts_ran_away_from(desk: Desk) -> None:
    if desk.store.path is None:
        pytest.skip("a server keeps its index itself")
    put_containers(desk, (1,))
    in_the_store(desk, "DROP TRIGGER searched_text_changed")
    correct_container(desk, "1", description="amphora", reason="looked")
    assert [one.why for one in wrong(desk)] == [""]
    make_search_anew(desk)
    assert wrong(desk) == []
    correct_container(desk, "1", description="stopper", reason="looked")
    assert wrong(desk) == []


def test_each_kind_that_is_found_is_a_journaled_table_with_such_columns() -> None:
    """Only what is journaled tells the index of its changes."""
    journaled = {model.__tablename__: model.__table__ for model in every_model() if issubclass(model, Journaled)}
    for kind, (_number, columns) in SAYS.items():
        assert set(columns) <= set(journaled[kind].columns.keys()), kind
