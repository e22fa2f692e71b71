"""The table of wares by deposit from the kept totals, and deposits compared by it."""

import pytest

from findsdesk.desk.comparing import compare_deposits
from findsdesk.desk.desk import Desk
from findsdesk.desk.sherd_groups import add_group
from findsdesk.desk.ware_table import ware_table
from findsdesk.domain.refusals import Refusal
from tests.desk.at_the_table import dry_container
from tests.yard import put_deposit

SHERDS = {
    "2003": {"QRS": 50, "MBU": 30, "TGY": 5},
    "2017": {"QRS": 20, "MBU": 30, "TGY": 40},
    "2019": {"TGY": 40, "CSJ": 60},
    "2040": {"GGL": 3},
}


@pytest.fixture
def yard(desk: Desk) -> Desk:
    """Return a yard with four contexts, early to late, each with one sorted bucket."""
    put_deposit(desk, "2040", square="C4")
    for number, (deposit, wares) in enumerate(SHERDS.items(), start=1):
        code = dry_container(desk, number, 200, deposit=deposit)
        for ware, pieces in wares.items():
            add_group(desk, code, ware=ware, part="body", pieces=pieces, tenths=100 * pieces)
        add_group(desk, code, ware="", part="body", pieces=1)
    return desk


def test_the_ware_table_holds_what_was_sorted(yard: Desk) -> None:
    table = ware_table(yard)
    assert table.wares == ("CSJ", "GGL", "MBU", "QRS", "TGY")
    rows = {row.deposit: dict(zip(table.wares, row.pieces, strict=True)) for row in table.rows}
    assert {number: {ware: n for ware, n in row.items() if n} for number, row in rows.items()} == SHERDS
    assert [(row.square, sum(row.tenths)) for row in table.rows] == [
        ("B2", 8500),
        ("A1", 9000),
        ("A2", 10000),
        ("C4", 300),
    ]
    assert [row.deposit for row in ware_table(yard, ["2019", "2003"]).rows] == ["2003", "2019"]


def test_deposits_stand_in_the_order_of_their_wares(yard: Desk) -> None:
    found = compare_deposits(yard)
    order = [row.deposit for row in found.deposits]
    assert order in (["2003", "2017", "2019"], ["2019", "2017", "2003"])
    assert found.left_out == ("2040",)
    first, last = order.index("2003"), order.index("2019")
    assert found.alike[1][1] == pytest.approx(200)
    assert found.alike[first][last] == pytest.approx(200 * 5 / 85)
    assert found.alike[first][1] > found.alike[first][last]


def test_too_little_to_compare_is_refused(yard: Desk) -> None:
    with pytest.raises(Refusal) as refused:
        compare_deposits(yard, ["2003", "2040"])
    assert refused.value.code == "table_too_small"
    with pytest.raises(Refusal) as refused:
        compare_deposits(yard, ["2999"])
    assert refused.value.code == "unknown_deposit"
