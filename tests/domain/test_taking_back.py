"""Which act is taken back: checked against a pile of acts kept by hand."""

from hypothesis import given
from hypothesis import strategies as st

from findsdesk.domain.taking_back import Found, PastAct, RowChange, last_of

ME, SHE = 1, 2


def added(act: str, row: int, who: int = ME) -> PastAct:
    return PastAct(act, who, False, (RowChange(row, None, {"pieces": 1}),))


def removed(act: str, row: int, who: int = ME) -> PastAct:
    return PastAct(act, who, False, (RowChange(row, {"pieces": 1}, None),))


def changed(act: str, row: int, who: int = ME) -> PastAct:
    return PastAct(act, who, False, (RowChange(row, {"pieces": 1}, {"pieces": 2}),))


def back(act: str, *changes: RowChange, who: int = ME) -> PastAct:
    return PastAct(act, who, True, changes)


def found(*acts: PastAct) -> Found | None:
    """Look from the newest back; the acts are given as they happened."""
    return last_of(tuple(reversed(acts)), ME)


def test_nothing_written_is_nothing_to_take_back() -> None:
    assert found() is None
    assert found(added("a", 1, who=SHE)) is None


def test_the_last_act_is_taken_back_first() -> None:
    answer = found(added("a", 1), added("b", 2))
    assert answer is not None
    assert (answer.act.id, answer.in_the_way) == ("b", None)


def test_somebody_elses_act_on_another_row_is_not_in_the_way() -> None:
    answer = found(added("a", 1), added("b", 2, who=SHE))
    assert answer is not None
    assert (answer.act.id, answer.in_the_way) == ("a", None)


def test_the_newest_act_in_the_way_is_named() -> None:
    answer = found(added("a", 1), changed("b", 1, who=SHE), changed("c", 1, who=SHE))
    assert answer is not None
    assert answer.in_the_way is not None
    assert answer.in_the_way.id == "c"


def test_a_row_that_came_back_is_known_by_its_new_id() -> None:
    came_back = back("c", RowChange(9, None, {"pieces": 1}))
    again = back("e", RowChange(12, None, {"pieces": 1}))
    answer = found(added("a", 1), removed("b", 1), came_back, removed("d", 9), again)
    assert answer is not None
    assert answer.act.id == "a"
    assert [change.row_id for change in answer.changes] == [12]


def test_an_act_on_the_row_that_came_back_is_in_the_way() -> None:
    came_back = back("c", RowChange(9, None, {"pieces": 1}))
    answer = found(added("a", 1), removed("b", 1), came_back, changed("d", 9, who=SHE))
    assert answer is not None
    assert answer.in_the_way is not None
    assert answer.in_the_way.id == "d"


@given(st.lists(st.booleans(), max_size=12))
def test_taking_back_goes_down_the_pile(adds: list[bool]) -> None:
    pile: list[int] = []
    acts: list[PastAct] = []
    for place, adding in enumerate(adds):
        if adding:
            pile.append(place)
            acts.append(added(str(place), place))
        elif pile:
            row = pile.pop()
            acts.append(back(str(place), RowChange(row, {"pieces": 1}, None)))
    answer = found(*acts)
    assert (answer.act.id if answer else None) == (str(pile[-1]) if pile else None)
