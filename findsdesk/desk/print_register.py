"""The register of prints: each label that came out of a printer, when, on what, which copy, why again, if spoiled."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, time, timedelta

from sqlalchemy import or_, select

from findsdesk.desk.container_register import read_day
from findsdesk.desk.desk import Reading
from findsdesk.desk.finding import container_of
from findsdesk.desk.label_contents import ONE_IN_WORDS, PrintKind
from findsdesk.desk.register_fields import RegisterField
from findsdesk.desk.register_windows import Condition, Key, Source
from findsdesk.desk.spoiled_papers import why_spoiled
from findsdesk.store.models import Container, Person, PrintedLabel, Printing
from findsdesk.words import N_


@dataclass(frozen=True, slots=True)
class LabelInRegister:
    """One printed label; ``reason`` says why it was printed again, ``spoiled`` why it did not come out well."""

    id: int
    code: str
    kind: str
    container: str
    container_code: str
    copy: int
    reason: str
    spoiled: str
    stock: str
    page: int
    place: int
    printed_at: datetime
    came_out_at: datetime | None
    person: str


def _holds_word(word: str) -> Condition:
    of_containers = select(Container.id).where(Container.search_text.like(word, escape="/"))
    return or_(
        PrintedLabel.code.like(word.upper(), escape="/"),
        PrintedLabel.container_id.in_(of_containers),
        PrintedLabel.printing_id.in_(select(Printing.id).where(Printing.stock.ilike(word, escape="/"))),
    )


def _of(condition: Condition) -> Condition:
    return PrintedLabel.printing_id.in_(select(Printing.id).where(condition))


def _kinds(_reading: Reading, values: Sequence[str]) -> Condition:
    return _of(Printing.kind.in_(values))


def _again(_reading: Reading, values: Sequence[str]) -> Condition:
    return PrintedLabel.copy > 1 if "yes" in values else PrintedLabel.copy == 1


def _containers(reading: Reading, values: Sequence[str]) -> Condition:
    return PrintedLabel.container_id.in_([container_of(reading.session, reading.desk, value).id for value in values])


def _days(reading: Reading, values: Sequence[str]) -> Condition:
    begin = [datetime.combine(read_day(value), time(), reading.desk.facts.zone) for value in values]
    return or_(*(PrintedLabel.printed_at.between(one, one + timedelta(days=1)) for one in begin))


def _rows(reading: Reading, keys: Sequence[Key]) -> Mapping[Key, LabelInRegister]:
    found = reading.session.execute(
        select(PrintedLabel, Printing, Container.number, Container.code, Person.name)
        .join(Printing, PrintedLabel.printing_id == Printing.id)
        .outerjoin(Container, PrintedLabel.container_id == Container.id)
        .outerjoin(Person, Printing.person_id == Person.id)
        .where(PrintedLabel.id.in_(keys))
    ).all()
    before = _spoiled_before(reading, [(row, printing) for row, printing, *_rest in found])
    return {
        row.id: LabelInRegister(
            id=row.id,
            code=row.code,
            kind=printing.kind,
            container=number or "",
            container_code=code or "",
            copy=row.copy,
            reason=printing.reason or before.get((printing.kind, row.code, row.copy - 1), ""),
            spoiled=printing.spoiled,
            stock=printing.stock,
            page=row.page,
            place=row.place,
            printed_at=row.printed_at,
            came_out_at=printing.came_out_at,
            person=person or "",
        )
        for row, printing, number, code, person in found
    }


def _spoiled_before(
    reading: Reading, rows: Sequence[tuple[PrintedLabel, Printing]]
) -> Mapping[tuple[str, str, int], str]:
    """Return why papers were spoiled, by (kind, code, copy): for that the next one was printed."""
    again: dict[str, list[str]] = {}
    for row, printing in rows:
        if row.copy > 1 and not printing.reason:
            again.setdefault(printing.kind, []).append(row.code)
    return {
        (kind, code, copy): why
        for kind, codes in again.items()
        for (code, copy), why in why_spoiled(reading.session, PrintKind(kind), codes).items()
    }


PRINTS = Source(
    key=PrintedLabel.id,
    sorts={"written": (PrintedLabel.printed_at,), "code": (PrintedLabel.code,)},
    filters={"print_kind": _kinds, "again": _again, "container": _containers, "day": _days},
    holds_word=_holds_word,
    rows=_rows,
    newest_first=True,
)

FIELDS = (
    RegisterField("code", N_("Label"), lambda row, say: row.code, "code"),
    RegisterField("kind", N_("Kind"), lambda row, say: say(ONE_IN_WORDS[PrintKind(row.kind)])),
    RegisterField("container", N_("{Container}"), lambda row, say: row.container),
    RegisterField("copy", N_("Copy"), lambda row, say: row.copy, figures=True),
    RegisterField("reason", N_("Why again"), lambda row, say: say(row.reason) if row.reason else ""),
    RegisterField("spoiled", N_("Spoiled"), lambda row, say: say(row.spoiled) if row.spoiled else ""),
    RegisterField("stock", N_("Stock"), lambda row, say: row.stock, grows=True),
    RegisterField("page", N_("Page"), lambda row, say: row.page, figures=True),
    RegisterField("place", N_("Place"), lambda row, say: row.place, figures=True),
    RegisterField("person", N_("Who"), lambda row, say: row.person),
    RegisterField("printed", N_("Printed"), lambda row, say: row.printed_at, "written"),
)
