"""Going back a step goes back: never forward, never past what it was, never into water while it is held."""

import pytest

from findsdesk.desk.bagging import bag_unsorted
from findsdesk.desk.counting import log_count
from findsdesk.desk.desk import Desk
from findsdesk.desk.discards import make_list, take_off
from findsdesk.desk.proving import prove
from findsdesk.desk.sorting import reopen
from findsdesk.desk.tags import void_tag
from findsdesk.desk.washing import dip_and_look, hold_back, mark_dry, start_soak, step_back
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.routes import Hold
from findsdesk.domain.standings import Standing, StepKind
from tests.desk.at_the_table import refused
from tests.yard import LOOKED_AT, put_container, put_settled, sitting, standing_of


@pytest.mark.parametrize("to", [Standing.DRY, Standing.SETTLED, Standing.BAGGED, Standing.AWAY, Standing.ARRIVED])
def test_a_step_back_never_goes_forward(desk: Desk, to: Standing) -> None:
    code = put_container(desk, 131)
    with pytest.raises(Refusal) as caught:
        step_back(desk, code, to=to, reason="no")
    assert caught.value.code == "wrong_step"
    assert standing_of(desk, code) is Standing.ARRIVED


def test_bone_never_goes_back_into_a_tub(desk: Desk) -> None:
    code = put_container(desk, 131, material="bone", steps=(StepKind.ISSUED, StepKind.ARRIVED, StepKind.DRY))
    with pytest.raises(Refusal) as caught:
        step_back(desk, code, to=Standing.SOAKING, reason="no")
    assert caught.value.code == "wrong_step"


@pytest.mark.parametrize("to", [Standing.ARRIVED, Standing.DRY, Standing.BAGGED])
def test_a_void_tag_goes_back_to_a_tag_and_not_to_finds(desk: Desk, to: Standing) -> None:
    code = put_container(desk, 131, steps=(StepKind.ISSUED,))
    void_tag(desk, code, reason="torn")
    with pytest.raises(Refusal) as caught:
        step_back(desk, code, to=to, reason="no")
    assert caught.value.code == "wrong_step"
    step_back(desk, code, to=Standing.ISSUED, reason="not torn at all")
    assert standing_of(desk, code) is Standing.ISSUED


def test_what_is_held_back_goes_into_no_tub_by_its_parts_either(desk: Desk) -> None:
    code = put_container(desk, 131)
    dip_and_look(desk, code)
    start_soak(desk, code, tub="1")
    hold_back(desk, code, reason=Hold.PAINTED)
    for part in (None, 1):
        with pytest.raises(Refusal) as caught:
            start_soak(desk, code, tub="2", part=part)
        assert caught.value.code == "held_back"


def test_a_bag_of_what_is_not_sorted_here_is_reopened_to_where_it_was(desk: Desk) -> None:
    code = put_container(desk, 131, material="beads", steps=LOOKED_AT)
    log_count(desk, code, pieces=4)
    mark_dry(desk, [code])
    bag_unsorted(desk, code)
    reopen(desk, code, reason="one more in the tray")
    assert standing_of(desk, code) is Standing.DRY
    assert bag_unsorted(desk, code)[0].pieces == 4
    assert prove(desk).findings == ()


def test_what_waits_on_a_discard_list_goes_back_no_step(desk: Desk) -> None:
    code = put_settled(desk, 131)
    make_list(sitting(desk, "Oren"))
    with refused(desk, "container_on_list"):
        step_back(desk, code, to=Standing.SORTING, reason="look again")
    take_off(desk, 1, why="look again")
    step_back(desk, code, to=Standing.SORTING, reason="look again")
    assert prove(desk).findings == ()
