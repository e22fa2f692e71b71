"""What another station wrote is heard here: on one file by who reads along, on a server by everybody.

Where FINDSDESK_TEST_SERVER names a PostgreSQL database, both stations write; on a file one program alone does.
"""

from collections.abc import Iterator
from pathlib import Path

import pytest

from findsdesk.desk.changing_excavation import change_excavation
from findsdesk.desk.changing_words import add_word
from findsdesk.desk.desk import Desk
from findsdesk.desk.news import MOST_ACTS, everything, news_since, others_write
from findsdesk.desk.sorting import add_group, change_group, remove_group, table_of
from findsdesk.desk.word_lists import words_of
from findsdesk.words import Terms
from tests.desk.at_the_table import dry_container
from tests.yard import new_yard, second_station


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    made = new_yard(tmp_path, by="Oren")
    yield made
    made.let_go()


@pytest.fixture
def other(desk: Desk) -> Iterator[Desk]:
    """Return a second station at the same store: reading along on a file, writing on a server."""
    made = second_station(desk, by="Mika")
    yield made
    made.let_go()


def test_a_row_written_at_one_station_is_news_at_the_other_and_read_there_alone(desk: Desk, other: Desk) -> None:
    assert others_write(other)
    code = dry_container(desk, 131, 132)
    first = add_group(desk, code, ware="QRS", part="rim", pieces=11)
    began = news_since(other, None)
    assert began.touched == frozenset()
    assert news_since(other, began.seen).touched == frozenset()
    second = add_group(desk, code, ware="TGY", part="body", pieces=5)
    heard = news_since(other, began.seen)
    assert {("sherd_group", second.id), ("container", second.container_id)} <= heard.touched
    assert ("sherd_group", first.id) not in heard.touched
    assert news_since(other, heard.seen).touched == frozenset()
    ids = frozenset(number for kind, number in heard.touched if kind == "sherd_group")
    part = table_of(other, code, only=ids)
    assert [row.id for row in part.groups] == [second.id]
    assert (part.only, part.ledger.sorted) == (ids, 16)
    assert table_of(other, code).only is None


def test_a_row_that_was_changed_or_removed_is_news_of_its_container_here_and_at_the_other_station(
    desk: Desk, other: Desk
) -> None:
    code = dry_container(desk, 131, 132)
    row = add_group(desk, code, ware="QRS", part="rim", pieces=11)
    own: list[frozenset[tuple[str, int]]] = []
    desk.listen(own.append)
    began = news_since(other, None)
    row = change_group(desk, row.id, seen=row.version, pieces=12)
    of_it = {("sherd_group", row.id), ("container", row.container_id)}
    changed = news_since(other, began.seen)
    assert of_it <= changed.touched
    remove_group(desk, row.id, seen=row.version)
    assert of_it <= news_since(other, changed.seen).touched
    assert [of_it <= touched for touched in own] == [True, True]


def test_ones_own_acts_are_no_news(desk: Desk) -> None:
    if desk.store.path is not None:
        assert not others_write(desk)
    began = news_since(desk, None)
    dry_container(desk, 131, 132)
    assert news_since(desk, began.seen).touched == frozenset()


def test_words_another_station_added_are_known_here_with_the_news(desk: Desk, other: Desk) -> None:
    began = news_since(other, None)
    add_word(desk, "surfaces", name="stippled")
    assert words_of(other)["surfaces"].named("stippled") is None
    heard = news_since(other, began.seen)
    assert "word" in {kind for kind, _number in heard.touched}
    assert words_of(other)["surfaces"].named("stippled") is not None


def test_after_a_great_many_acts_everything_is_read_anew(desk: Desk, other: Desk) -> None:
    code = dry_container(desk, 131, 1000)
    began = news_since(other, None)
    behind = {station: running - MOST_ACTS - 1 for station, running in began.seen.items()}
    assert news_since(other, behind).touched == everything()
    assert code


def test_who_hears_that_the_excavations_words_changed_finds_the_new_ones(desk: Desk) -> None:
    """The window is told on the deed's thread and may look at once."""
    heard: list[str] = []
    desk.listen(lambda _touched: heard.append(desk.terms.container))
    change_excavation(desk, terms=Terms("locus", "loci", "basket", "baskets", "square", "squares"))
    assert heard == ["basket"]
