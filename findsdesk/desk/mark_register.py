"""The register of marks: every tick of the marking list, with who and when and what the mark said; answers too."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, time, timedelta

from sqlalchemy import and_, or_, select
from sqlalchemy.orm import aliased

from findsdesk.desk.container_register import of_container, read_day
from findsdesk.desk.desk import Reading
from findsdesk.desk.filters_of_finds import by_origin, out_of
from findsdesk.desk.register_fields import RegisterField, SayListed
from findsdesk.desk.register_windows import Condition, Key, Source
from findsdesk.desk.setting_up import person_named
from findsdesk.domain.marking import NO_INK_IN_WORDS, TICK_IN_WORDS, NoInk, Tick
from findsdesk.store.models import Container, Deposit, MarkEntry, Person, Piece, Season, Square
from findsdesk.words import N_


@dataclass(frozen=True, slots=True)
class MarkInRegister:
    """One tick; ``pieces`` have a minus where it takes another back, and ``answered`` says that it was taken back."""

    id: int
    kind: Tick
    pieces: int
    said: str
    why: str
    happened_at: datetime
    person: str
    container_code: str
    container: str
    piece: str
    deposit: str
    square: str
    season: str
    answers: bool
    answered: bool


def _holds_word(word: str) -> Condition:
    of = of_container(word)
    return or_(
        MarkEntry.said.ilike(word, escape="/"),
        MarkEntry.why.ilike(word, escape="/"),
        out_of(MarkEntry.container_id, of),
    )


def _by_people(reading: Reading, values: Sequence[str]) -> Condition:
    people = [person_named(reading.session, value) for value in values]
    return MarkEntry.person_id.in_([person.id for person in people if person is not None])


def _ticks(_reading: Reading, values: Sequence[str]) -> Condition:
    return MarkEntry.kind.in_(values)


def _midnight(reading: Reading, day: str) -> datetime:
    return datetime.combine(read_day(day), time(), reading.desk.facts.zone)


def _from_day(reading: Reading, values: Sequence[str]) -> Condition:
    return and_(*(MarkEntry.happened_at >= _midnight(reading, value) for value in values))


def _until_day(reading: Reading, values: Sequence[str]) -> Condition:
    return and_(*(MarkEntry.happened_at < _midnight(reading, value) + timedelta(days=1) for value in values))


def _rows(reading: Reading, keys: Sequence[Key]) -> Mapping[Key, MarkInRegister]:
    later = aliased(MarkEntry)
    found = reading.session.execute(
        select(
            MarkEntry,
            Container.code,
            Container.number,
            Piece.number,
            Deposit.number,
            Square.name,
            Season.name,
            Person.name,
            select(later.id).where(later.answers_id == MarkEntry.id).exists(),
        )
        .join(Container, MarkEntry.container_id == Container.id)
        .join(Season, Container.season_id == Season.id)
        .outerjoin(Piece, MarkEntry.piece_id == Piece.id)
        .outerjoin(Deposit, Container.deposit_id == Deposit.id)
        .outerjoin(Square, Container.square_id == Square.id)
        .outerjoin(Person, MarkEntry.person_id == Person.id)
        .where(MarkEntry.id.in_(keys))
    ).all()
    return {
        row.id: MarkInRegister(
            id=row.id,
            kind=Tick(row.kind),
            pieces=row.pieces,
            said=row.said,
            why=row.why,
            happened_at=row.happened_at,
            person=person or "",
            container_code=code,
            container=number,
            piece=f"{number}.{piece}" if piece else "",
            deposit=deposit or "",
            square=square or "",
            season=season,
            answers=row.answers_id is not None,
            answered=bool(answered),
        )
        for row, code, number, piece, deposit, square, season, person, answered in found
    }


MARKS = Source(
    key=MarkEntry.id,
    sorts={"ticked": (MarkEntry.happened_at,)},
    filters={
        "tick": _ticks,
        **by_origin(MarkEntry.container_id),
        "person": _by_people,
        "from": _from_day,
        "until": _until_day,
    },
    holds_word=_holds_word,
    rows=_rows,
)


def _stands(row: MarkInRegister, say: SayListed) -> str:
    return say(N_("takes a tick back")) if row.answers else say(N_("taken back")) if row.answered else ""


def _why(row: MarkInRegister, say: SayListed) -> str:
    return say(NO_INK_IN_WORDS[NoInk(row.why)]) if row.why in tuple(NoInk) else row.why


MARK_FIELDS = (
    RegisterField("ticked", N_("When"), lambda row, say: row.happened_at, "ticked"),
    RegisterField("container", N_("{Container}"), lambda row, say: row.piece or row.container),
    RegisterField("deposit", N_("{Deposit}"), lambda row, say: row.deposit),
    RegisterField("square", N_("{Square}"), lambda row, say: row.square),
    RegisterField("what", N_("What"), lambda row, say: say(TICK_IN_WORDS[row.kind])),
    RegisterField("pieces", N_("Count"), lambda row, say: row.pieces, figures=True),
    RegisterField("said", N_("What the mark said"), lambda row, say: row.said, grows=True),
    RegisterField("why", N_("Why"), _why),
    RegisterField("stands", N_("Stands"), _stands),
    RegisterField("person", N_("Who"), lambda row, say: row.person),
    RegisterField("tag", N_("Tag"), lambda row, say: row.container_code, in_file=True),
    RegisterField("season", N_("Season"), lambda row, say: row.season, in_file=True),
)
