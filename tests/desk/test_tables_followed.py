"""Taking in a table tells how far it is, and can be called off at any moment: then nothing of it is written."""

from __future__ import annotations

from pathlib import Path

import pytest

from findsdesk.desk.desk import Desk
from findsdesk.desk.proving import prove
from findsdesk.desk.table_looks import TableAsk, look_again, see_table
from findsdesk.desk.tables_taken import take_in_table
from findsdesk.domain.passing import Passing
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.table_kinds import TableKind
from findsdesk.words import N_
from tests.yard import acts

ROWS = 40
TABLES = {
    TableKind.DEPOSITS: ("number,square,opened,description", "{n},A1,2026-07-08,layer {n}"),
    TableKind.WARES: ("kind,code,name,ware,from,to", "ware,W{n},Ware {n},,100,200"),
    TableKind.PEOPLE: ("name,role", "Person {n},supervisor"),
    TableKind.PLACES: ("name,kind,within", "Hall {n},building,"),
    TableKind.SEASON: ("number,deposit,material,day,ware,part,pieces", "{n},2017,pottery,2026-07-08,QRS,body,3"),
}


class Heard:
    """Hears how far work is, and calls it off when it was told so often."""

    def __init__(self, off_at: int | None = None) -> None:
        self.told: list[tuple[int, int]] = []
        self._off_at = off_at

    def __call__(self, done: int, of: int) -> None:
        self.told.append((done, of))
        if len(self.told) == self._off_at:
            raise Refusal("called_off", N_("Called off. Ask again when you want it."))


def table(folder: Path, kind: TableKind) -> TableAsk:
    head, row = TABLES[kind]
    path = folder / f"{kind}.csv"
    path.write_text("\n".join((head, *(row.format(n=700 + n) for n in range(ROWS)))), encoding="utf-8")
    return TableAsk(path, kind, "2026" if kind is TableKind.SEASON else None)


@pytest.mark.parametrize("kind", TABLES)
def test_every_table_tells_rows_done_of_rows(desk: Desk, tmp_path: Path, kind: TableKind) -> None:
    seen = see_table(desk, table(tmp_path, kind))
    looking, taking = Heard(), Heard()
    look = look_again(desk, seen, looking)
    assert [done for done, _of in looking.told] == sorted(done for done, _of in looking.told)
    assert {of for _done, of in looking.told} == {ROWS}
    taken = take_in_table(desk, look, follow=taking)
    assert taken.taken == ROWS, [doubt.in_words() for row in look.rows([0]) for doubt in row.doubts]
    assert [done for done, _of in taking.told] == sorted(done for done, _of in taking.told)
    assert taking.told[-1] == (ROWS, ROWS)
    assert prove(desk).sound


def test_called_off_at_whichever_moment_nothing_is_written(desk: Desk, tmp_path: Path) -> None:
    seen = see_table(desk, table(tmp_path, TableKind.DEPOSITS))
    before = acts(desk)
    stages = Heard()
    look = look_again(desk, seen, stages)
    for moment in range(1, len(stages.told) + 1):
        with pytest.raises(Refusal, match="called_off"):
            look_again(desk, seen, Heard(moment))
    for moment in (1, 2, 3, 4, 5):
        with pytest.raises(Refusal, match="called_off"):
            take_in_table(desk, look, follow=Heard(moment))
        assert acts(desk) == before
    assert take_in_table(desk, look).taken == ROWS
    assert acts(desk) == before + 1
    assert prove(desk).sound


def test_what_is_told_never_goes_back() -> None:
    heard = Heard()
    passing = Passing(heard, 100, 2)
    for stage, done, of in ((0, 0, 50), (0, 50, 50), (0, 10, 50), (1, 0, 0), (1, 5, 5)):
        passing.at(stage, done, of)
    assert heard.told == [(0, 100), (50, 100), (50, 100), (100, 100), (100, 100)]
