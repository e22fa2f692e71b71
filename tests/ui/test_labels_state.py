"""What the labels bench knows and says, worked out without a window."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from findsdesk.desk.bagging import bag_settled
from findsdesk.desk.desk import Desk
from findsdesk.desk.dossiers import Dossier, find
from findsdesk.desk.labels_waiting import TagsToPrint
from findsdesk.desk.printing import PrintKind, ReadBack, bag_labels, came_out_well, lay_out, lay_out_bag_labels
from findsdesk.desk.tags import issue_tags, void_tag
from findsdesk.ui.benches.labels import label_words
from findsdesk.ui.benches.labels.papers_again import Reprint
from findsdesk.ui.benches.labels.reading import Wanted, read_bench
from findsdesk.ui.benches.labels.rows import Row
from findsdesk.ui.benches.labels.sheet_part import sheet_facts
from findsdesk.ui.benches.labels.state import LabelsState, Phase
from findsdesk.ui.paper_memory import PaperMemory, read_paper, write_paper
from findsdesk.ui.words_around import WordsAround
from tests.ui.at_the_labels import SHEET, settled_container
from tests.yard import new_yard


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    """Return a yard with four bags that wait for their labels."""
    made = new_yard(tmp_path, by="Mika")
    settled_container(made, 104)
    settled_container(made, 106, deposit="2003")
    bag_settled(made)
    yield made
    made.let_go()


def looking(desk: Desk, **used: frozenset[int]) -> LabelsState:
    """Return a state with the labels that wait laid out."""
    state = LabelsState(used={f"bag labels: {SHEET}": used.get("used", frozenset())})
    state.show_read(read_bench(desk, state.wanted()))
    assert state.batch is not None
    state.sheets = lay_out(desk, state.batch, stock=state.stock().name, used_places=state.used_places())
    return state


def test_the_stock_that_is_proposed_fits_the_kind() -> None:
    state = LabelsState()
    assert state.stock().name == SHEET
    state.choose_row(Row.TAGS)
    assert state.stock().kind == "tags"
    state.stock_of[PrintKind.TAG] = "roll-57x32"
    assert (state.stock().kind, state.used_places()) == ("roll", frozenset())
    state.stock_of[PrintKind.TAG] = "a stock that is gone"
    assert state.stock().kind == "tags"


def test_places_of_the_begun_sheet_are_gone_or_free(desk: Desk) -> None:
    state = looking(desk)
    assert state.toggle_used(2)
    assert state.toggle_used(1)
    assert (state.first_free(), state.used_places()) == (3, {1, 2})
    assert state.toggle_used(1)
    assert state.first_free() == 1
    assert state.begin_at(6)
    assert state.used_places() == {1, 2, 3, 4, 5}
    assert not state.begin_at(6), "nothing changed"
    assert not state.begin_at(25)
    assert not state.begin_at(0)


def test_the_last_free_label_cannot_be_clicked_away(desk: Desk) -> None:
    state = looking(desk, used=frozenset(range(1, 24)))
    assert not state.toggle_used(24)
    assert state.first_free() == 24


def test_only_the_first_sheet_has_used_places(desk: Desk) -> None:
    state = looking(desk, used=frozenset(range(1, 23)))
    assert state.sheets is not None
    assert state.sheets.pages == 2
    assert state.turn(1)
    assert not state.turn(1)
    assert not state.may_change_used()
    assert sheet_facts(state).used == frozenset()
    assert state.turn(-1)
    assert sheet_facts(state).used == frozenset(range(1, 23))


@pytest.mark.parametrize(
    ("before", "after"),
    [
        (frozenset(), {1, 2, 3, 4}),
        (frozenset({1, 3}), {1, 2, 3, 4, 5, 6}),
        (frozenset(range(1, 23)), {1, 2}),
        (frozenset(range(1, 21)), set()),
    ],
)
def test_what_was_printed_is_gone_from_the_next_sheet(desk: Desk, before: frozenset[int], after: set[int]) -> None:
    state = looking(desk, used=before)
    state.handed_over()
    state.use_up()
    assert state.used_places() == after


def test_while_the_question_stands_the_sheet_stays_as_it_is(desk: Desk) -> None:
    state = looking(desk)
    state.handed_over()
    sheets = state.sheets
    issue_tags(desk, how_many=1)
    came_out_well(desk, lay_out_bag_labels(desk, stock=SHEET))
    assert not state.show_read(read_bench(desk, state.wanted()))
    assert state.sheets is sheets
    assert not state.toggle_used(9)
    assert state.waiting is not None
    assert state.waiting.bag_labels == 0


def test_the_spoiled_are_left_out_of_those_that_came_out_well(desk: Desk) -> None:
    state = looking(desk)
    state.handed_over()
    state.phase = Phase.SPOILED
    assert state.sheets is not None
    first, second, *rest = state.sheets.codes
    state.toggle_spoiled(first)
    state.toggle_spoiled(second)
    state.toggle_spoiled(second)
    assert state.well() == (second, *rest)
    assert sheet_facts(state).spoiled == {1}
    assert label_words.spoiled_line(state) == "1 of 4 spoiled"


def test_it_turns_to_what_waits_only_when_it_was_just_opened(desk: Desk) -> None:
    came_out_well(desk, lay_out_bag_labels(desk, stock=SHEET))
    issue_tags(desk, how_many=2)
    state = LabelsState()
    state.show_read(read_bench(desk, state.wanted()))
    state.turn_to_work()
    assert state.row is Row.TAGS
    state.choose_row(Row.BAG)
    state.turn_to_work()
    assert state.row is Row.BAG


def test_a_reprint_is_read_with_its_codes_and_reason(desk: Desk) -> None:
    code = bag_labels(desk).labels[0].code
    state = LabelsState()
    state.begin_reprint(Reprint(PrintKind.BAG, (code,), "lost"))
    assert state.wanted() == Wanted(Row.BAG, PrintKind.BAG, (code,), "lost")
    state.show_read(read_bench(desk, state.wanted()))
    assert state.batch is not None
    assert [(one.code, one.copy) for one in state.batch.labels] == [(code, 1)], "never printed, it is the first"
    state.sheets = lay_out(desk, state.batch, stock=SHEET)
    assert label_words.batch_line(state) == "1 label never printed before, as copy 1: lost or unreadable"


def test_a_void_tag_is_not_offered_again(desk: Desk) -> None:
    tag = issue_tags(desk, how_many=1).tags[0]
    state = LabelsState()
    state.take(dossier(desk, tag.code), asked=True)
    assert state.offered() is not None
    void_tag(desk, tag.code, reason="torn")
    state.take(dossier(desk, tag.code), asked=False)
    assert state.offered() is None


def dossier(desk: Desk, code: str) -> Dossier:
    found = find(desk, code)
    assert isinstance(found, Dossier)
    return found


@pytest.mark.parametrize(
    ("read", "said"),
    [
        (ReadBack(52, 52, (), ()), "At 203 dpi: 52 of 52 read, none wrong."),
        (ReadBack(1499, 1500, ("A",), ()), "At 203 dpi: 1,499 of 1,500 read. Not read: A."),
        (ReadBack(48, 52, ("A", "B", "C", "D"), ()), "At 203 dpi: 48 of 52 read. Not read: A, B and 2 more."),
        (ReadBack(52, 52, (), ("X",)), "At 203 dpi: 52 of 52 read, and X is not meant."),
    ],
)
def test_what_was_read_back_is_said_in_words(read: ReadBack, said: str) -> None:
    assert label_words.read_back_line(read) == said


def test_the_buttons_say_what_leaves_the_printer(desk: Desk) -> None:
    state = looking(desk)
    assert label_words.print_button(state) == "Print 1 sheet"
    assert label_words.batch_line(state) == "4 labels on 1 sheet"
    assert label_words.all_well_button(state) == "Yes, all 4 came out well"
    assert [words for _key, words in label_words.reasons()] == [
        "jammed or badly printed",
        "lost or unreadable",
        "what it says has changed",
    ]


def test_a_group_of_tags_says_numbers_for_whom_and_how_many(desk: Desk) -> None:
    around = WordsAround.of(desk)
    block = TagsToPrint("block 1", "Bryn Hallo", "41", "60", ("a", "b"), for_the_trench=True)
    assert label_words.tags_in_words(block, around) == "41 to 60, Bryn Hallo: 2"
    one = TagsToPrint("block 2", "", "61", "61", ("a",), for_the_trench=True)
    assert label_words.tags_in_words(one, around) == "61: 1"
    here = TagsToPrint("here", "", "1", "9", ("a", "b", "c"), for_the_trench=False)
    assert label_words.tags_in_words(here, around) == "Already here without a printed tag: 3"


def test_a_station_remembers_its_paper(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    assert read_paper("dig house") == PaperMemory()
    memory = PaperMemory("/somewhere", {"bag labels": SHEET}, {SHEET: (1, 2, 5)})
    write_paper("dig house", memory)
    assert read_paper("dig house") == memory
    assert read_paper("another") == PaperMemory()
    for file in tmp_path.rglob("paper-*.json"):
        file.write_text("{not json", encoding="utf-8")
    assert read_paper("dig house") == PaperMemory()
