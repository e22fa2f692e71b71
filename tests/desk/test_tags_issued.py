"""Tags issued to somebody by name."""

import pytest

from findsdesk.desk.desk import Desk
from findsdesk.desk.setting_up import people
from findsdesk.desk.tags import issue_tags
from findsdesk.domain.refusals import Question
from tests.yard import acts


def names(desk: Desk) -> set[str]:
    return {one.name for one in people(desk)}


def test_a_mistyped_supervisor_is_asked_about_and_makes_nobody(desk: Desk) -> None:
    before = acts(desk)
    with pytest.raises(Question, match="new_person") as asked:
        issue_tags(desk, how_many=1, supervisor="Orin Vade")
    assert "Oren Vade" in asked.value.in_words(desk.terms)
    assert (acts(desk), "Orin Vade" in names(desk)) == (before, False)
    issue_tags(desk, how_many=1, supervisor="Orin Vade", sure=True)
    assert "Orin Vade" in names(desk)
    assert issue_tags(desk, how_many=1, supervisor="lio").supervisor == "Lio"
    assert issue_tags(desk, how_many=1, supervisor="Quorra").supervisor == "Quorra", "a wholly new name joins"
