"""A container sorted by acts in any order: the acts, what stands there, that its totals are those of its rows."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from typing import NamedTuple

from hypothesis import strategies as st
from sqlalchemy import select

from findsdesk.desk.desk import Desk
from findsdesk.desk.figure_scopes import Of, scope_of
from findsdesk.desk.objects import Leaves
from findsdesk.desk.shares import shares_ahead
from findsdesk.desk.sherd_figures import figures_of
from findsdesk.desk.sorting import table_of, take_back_last
from findsdesk.domain.balance import COLUMN_OF_ENTRY, COMES_IN, Decision, Entry, column_of
from findsdesk.domain.standings import Standing
from findsdesk.store.models import BalanceTotal, Container, LedgerEntry, Part, Piece, SherdGroup, Vessel

ON_ROWS = (
    "add",
    "paste",
    "change",
    "change",
    "remove",
    "lift",
    "lift",
    "lay back",
    "describe",
    "describe",
    "share",
    "pot",
)
BESIDE = (
    *("share", "pot", "explain", "count again", "object", "take out", "left"),
    *("vessel", "leave", "join", "part", "doubt", "sample"),
)
TO_THE_END = ("home", "settle", "reopen", "list", "sign", "off", "call back", "carry")
TURNS = ("back", "back", "again")


class Act(NamedTuple):
    """One act as hypothesis chooses it; each kind takes what it needs of the rest."""

    kind: str
    undo_it: bool
    pieces: int
    which: int
    ware: str
    part: str
    decision: Decision | None
    entry: Entry
    leaves: Leaves


ACTS = st.builds(
    Act,
    kind=st.sampled_from([*ON_ROWS, *ON_ROWS, *BESIDE, *TO_THE_END, *TURNS, *TURNS]),
    undo_it=st.booleans(),
    pieces=st.integers(1, 9),
    which=st.integers(0, 3),
    ware=st.sampled_from(["QRS", "MBU", ""]),
    part=st.sampled_from(["rim", "body", "base"]),
    decision=st.sampled_from([None, *Decision]),
    entry=st.sampled_from([Entry.FOUND_MORE, Entry.NOT_A_SHERD, Entry.NOT_FOUND, Entry.USED_UP]),
    leaves=st.sampled_from([Leaves.MOVED_OUT, Leaves.NOT_A_SHERD, Leaves.NOT_COUNTED]),
)
AT_THE_TABLE = tuple(dict.fromkeys(("add", *ON_ROWS, *BESIDE, *TURNS)))
AT_THE_END = tuple(kind for kind in TO_THE_END if kind != "home")
"""Of few acts chosen by chance most would never be done: these orders have each of them once."""


@st.composite
def every_act_once(draw: st.DrawFn) -> list[Act]:
    """Draw every act of the table in any order, then, when the container goes home, every act of its end in any."""
    kinds = [*draw(st.permutations(AT_THE_TABLE)), "home", *draw(st.permutations(AT_THE_END))]
    return [draw(ACTS)._replace(kind=kind) for kind in kinds]


@dataclass
class Sorting:
    """A container that is sorted in an example: what stood there before each act that can be taken back."""

    desk: Desk
    code: str
    past: list[object] = field(default_factory=list)
    ahead: list[object] = field(default_factory=list)

    def rows(self) -> object:
        """Return what lies there, where it stands and since when."""
        with self.desk.reading() as reading:
            session = reading.session
            container = session.execute(select(Container).where(Container.code == self.code)).scalar_one()
            where = container.id
            parts = session.execute(select(Part).where(Part.container_id == where).order_by(Part.ordinal)).scalars()
            stands = container.standing, [(part.place_kind, part.place, part.since) for part in parts]
        return self.lying(), stands

    def lying(self) -> object:
        """Return all that is said of groups and pieces, neither ids nor versions, and what waits for a share."""
        with self.desk.reading() as reading:
            session = reading.session
            where = session.execute(select(Container.id).where(Container.code == self.code)).scalar_one()
            numbers = {row.id: row.number for row in session.execute(select(Vessel)).scalars()}
            lying = [
                {
                    column.key: numbers.get(value) if column.key == "vessel_id" else value
                    for column in kind.__table__.columns
                    if column.key not in ("id", "version", "search_text")
                    for value in (getattr(row, column.key),)
                }
                for kind in (SherdGroup, Piece)
                for row in session.execute(select(kind).where(kind.container_id == where)).scalars()
            ]
        waiting = [(one.what, one.laid_out, one.first, one.kept_before) for one in shares_ahead(self.desk, self.code)]
        return sorted(map(repr, lying)), waiting

    def everything(self) -> object:
        """Return the rows, the ledger, the grams, its figures and those of its wares and forms, its dates."""
        table = table_of(self.desk, self.code)
        figures = figures_of(self.desk, scope_of(self.desk, Of.CONTAINER, self.code))
        of_types = [one.figures for one in figures.types]
        told = [[(one.key, one.figure and one.figure.value) for one in some] for some in (figures.figures, *of_types)]
        dates = figures.dates
        years = [one and one.year.value for one in (dates.terminus, dates.mean, dates.mean_with_late)]
        return self.rows(), table.ledger, table.grams, table.wares, told, years, dates.bars, dates.undated, dates.late

    def take_back(self) -> object:
        return take_back_last(self.desk, self.code)


def obeys(desk: Desk, code: str) -> None:
    """Sum the container afresh and compare with what is kept."""
    sums: Counter[str] = Counter()
    with desk.reading() as reading:
        session = reading.session
        where = session.execute(select(Container.id).where(Container.code == code)).scalar_one()
        for entry in session.execute(select(LedgerEntry).where(LedgerEntry.container_id == where)).scalars():
            sums[COLUMN_OF_ENTRY[Entry(entry.kind)]] += entry.pieces
            sums["counted_tenths" if Entry(entry.kind) in COMES_IN else "accounted_tenths"] += entry.tenths
        lying: list[SherdGroup | Piece] = [
            *session.execute(select(SherdGroup).where(SherdGroup.container_id == where)).scalars(),
            *session.execute(select(Piece).where(Piece.container_id == where)).scalars(),
        ]
        for row in lying:
            sums[column_of(Decision(row.decision), discarded=row.discarded)] += row.pieces
            sums["accounted_tenths"] += row.tenths or 0
        total = session.get_one(BalanceTotal, (where, "pottery"))
        names = [column.name for column in BalanceTotal.__table__.columns if not column.primary_key]
        assert {name: getattr(total, name) for name in names} == {name: sums[name] for name in names}
    ledger = table_of(desk, code).ledger
    assert ledger.expected == ledger.accounted + ledger.unsorted
    assert ledger.balances or table_of(desk, code).standing in (Standing.SORTING, Standing.DRYING)
