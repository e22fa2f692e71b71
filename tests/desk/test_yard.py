"""The yard that other tests stand on is what it says."""

from findsdesk.desk.desk import Desk
from findsdesk.desk.setting_up import seasons, wares
from findsdesk.desk.squares import squares
from findsdesk.domain.standings import Standing
from tests.yard import SETTLED, acts, advance, put_container, put_containers, sitting, standing_of


def test_the_yard_is_the_invented_excavation(desk: Desk) -> None:
    assert (desk.facts.code, desk.terms.container, desk.facts.example) == ("TQ", "bucket", True)
    assert [season.permit for season in seasons(desk)] == ["VE-26-014"]
    assert squares(desk)[0] == "A1"
    assert len(squares(desk)) == 12
    assert "QRS" in {ware.code for ware in wares(desk)}


def test_containers_stand_where_their_steps_lead(desk: Desk) -> None:
    before = acts(desk)
    (first, second) = put_containers(desk, (118, 119))
    settled = put_container(desk, 120, deposit="2019", steps=SETTLED)
    assert standing_of(desk, first) == standing_of(desk, second) == Standing.ARRIVED
    assert standing_of(desk, settled) is Standing.SETTLED
    assert acts(desk) == before + 2


def test_the_clock_stands_until_it_is_moved(desk: Desk) -> None:
    before = desk.now()
    assert desk.now() == before
    assert advance(desk, hours=2) == desk.now()
    assert sitting(desk, "Tessa").person.name == "Tessa Quill"
