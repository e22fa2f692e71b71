"""The field list on paper: the tags that are out, by supervisor, to be filled in at the trench as finds come up."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from sqlalchemy import Row, select

from findsdesk.desk.desk import Desk
from findsdesk.desk.sheets import PrintedList, Wording
from findsdesk.desk.whole_papers import Asked, caution_slip, material_in_words, print_whole
from findsdesk.domain.cautions import At
from findsdesk.domain.routes import Standing
from findsdesk.paper.list_kinds import Column, ListRow, Section, Signature
from findsdesk.paper.report_kinds import Part, Table, Words
from findsdesk.store.models import Container, Deposit, Person, Square
from findsdesk.words import N_, plural

OUT = (Standing.ISSUED, Standing.LISTED, Standing.MISSING)
"""Standings of tags that are in the field."""
LINE = 8.5


def field_sheet(now: Desk, asked: Asked) -> PrintedList:
    """Return the field list: every tag that was issued and has not come in, what the field said of it filled in."""
    with now.at_one_moment() as desk:
        say = Wording(desk)
        return print_whole(
            say,
            asked,
            title=say(N_("Field list")),
            filter_words=say(N_("Tags that are out, by supervisor; tick what goes down to the yard")),
            parts=lambda: _parts(say),
            rows=len(_out(say)),
        )


def _out(say: Wording) -> list[Row[Any]]:
    wanted: Any = (
        select(Person.name, Container, Deposit.number, Square.name)
        .select_from(Container)
        .outerjoin(Person, Container.supervisor_id == Person.id)
        .outerjoin(Deposit, Container.deposit_id == Deposit.id)
        .outerjoin(Square, Container.square_id == Square.id)
        .where(Container.standing.in_(OUT))
        .order_by(Person.name, Container.number_key, Container.id)
    )
    with say.desk.reading() as reading:
        return list(reading.session.execute(wanted).all())


def _parts(say: Wording) -> Iterator[Part]:
    slip = caution_slip(say, At.CARRY)
    if slip is not None:
        yield slip
    yield Words(say(N_("A line for each tag: one without finds is written as unused, a lost one as lost.")))
    columns = (
        Column(say(N_("{Container}")), 0.9),
        Column(say(N_("Tag")), 1.4),
        Column(say(N_("{Deposit}")), 0.8),
        Column(say(N_("{Square}")), 0.7),
        Column(say(N_("Material")), 1.1),
        Column(say(N_("Day")), 1.0),
        Column(say(N_("Remarks")), 2.2),
        Column(say(N_("Went down")), 0.8),
    )
    yield Table(
        columns, lambda: _rows(say), least=LINE, ruled=True, when_empty=say(N_("No tag is out. Issue tags first."))
    )
    yield Signature(say(N_("Supervisor")))


def _rows(say: Wording) -> Iterator[ListRow]:
    rows = _out(say)
    supervisor: str | None = "\0"
    for found in rows:
        name, row, deposit, square = tuple(found)
        if name != supervisor:
            supervisor = name
            tags = sum(1 for other in rows if other[0] == name)
            yield Section(name or say(N_("nobody named")), plural("{n} tag", "{n} tags", tags, say.language))
        known = row.standing != Standing.ISSUED
        yield (
            row.number,
            row.code,
            deposit or "",
            square or "",
            material_in_words(row.material, say) if known else "",
            row.collected_on.isoformat() if row.collected_on and known else "",
            row.description,
            "",
        )
