import pytest

from findsdesk.desk.correcting import move_container
from findsdesk.desk.desk import Desk
from findsdesk.desk.dossiers import Dossier, find
from findsdesk.desk.renumbering import renumber_deposit
from findsdesk.domain.refusals import Refusal
from tests.yard import earlier_season, put_container, put_settled


def found(desk: Desk, text: str) -> tuple[str, str]:
    dossier = find(desk, text)
    assert isinstance(dossier, Dossier)
    return dossier.season, dossier.number


def test_an_old_label_is_found_by_its_mark(desk: Desk) -> None:
    earlier_season(desk)
    put_container(desk, 131, season="2024")
    put_container(desk, 131)
    assert found(desk, "VE-24-009 / 2017-131") == ("2024", "131")
    assert found(desk, "ve-26-014 2017-131") == ("2026", "131")
    assert found(desk, "2024/2017-131") == ("2024", "131")
    assert found(desk, "2024/131") == ("2024", "131")
    assert found(desk, "131") == ("2026", "131")


def test_the_season_is_asked_where_two_fit(desk: Desk) -> None:
    earlier_season(desk)
    put_container(desk, 131, season="2024")
    put_container(desk, 131)
    with pytest.raises(Refusal) as refused:
        find(desk, "2017-131")
    assert refused.value.code == "which_season"
    assert refused.value.in_words(desk.terms) == (
        "Which season? 2017-131 fits 2026, 2024. Type the season before it: 2024/2017-131."
    )
    put_container(desk, 132, season="2024", deposit="2003")
    put_container(desk, 132)
    assert found(desk, "2003-132") == ("2024", "132")


def test_a_mark_is_found_by_what_it_said_when_it_was_written(desk: Desk) -> None:
    code = put_settled(desk, 131, marked=True)
    renumber_deposit(desk, "2017", to="2031", reason="given twice")
    assert found(desk, "2017-131") == found(desk, "2031-131") == ("2026", "131")
    move_container(desk, code, to="2019", reason="misread", sure=True)
    assert found(desk, "2017-131") == ("2026", "131")


@pytest.mark.parametrize("text", ["2017-999", "2099-131", "1999/131", "VE-99-001 2017-131", "/", "2024/", "131²"])
def test_what_no_season_marked_like_that_is_unknown(desk: Desk, text: str) -> None:
    put_container(desk, 131)
    with pytest.raises(Refusal) as refused:
        find(desk, text)
    assert refused.value.code == "unknown_number"


def test_a_raised_figure_is_no_number_of_a_piece(desk: Desk) -> None:
    """A sign that is a digit and no decimal one went past the check and failed where it was counted with."""
    put_container(desk, 131)
    with pytest.raises(Refusal):
        find(desk, "131.²")
