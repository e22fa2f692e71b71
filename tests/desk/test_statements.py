"""How many statements the deeds of every minute send: few, and no more with many containers."""

from findsdesk.desk.counting import log_count
from findsdesk.desk.desk import Desk
from tests.yard import LOOKED_AT, put_containers, statements_of


def test_a_count_is_written_with_few_statements(desk: Desk) -> None:
    first, second = put_containers(desk, (131, 132), steps=LOOKED_AT)
    log_count(desk, first, pieces=88)
    with statements_of(desk) as heard:
        log_count(desk, second, pieces=132, tenths=23_100)
    assert 5 <= len(heard) <= 14, heard


def test_a_count_takes_as_many_statements_beside_many_containers(desk: Desk) -> None:
    (alone,) = put_containers(desk, (1,), steps=LOOKED_AT)
    with statements_of(desk) as beside_none:
        log_count(desk, alone, pieces=5)
    codes = put_containers(desk, range(2, 300), steps=LOOKED_AT)
    with statements_of(desk) as beside_many:
        log_count(desk, codes[-1], pieces=5)
    assert len(beside_many) == len(beside_none)
