"""The Desk: who is at which station of which excavation, and the one way to do a deed or to read.

A use case is a function ``deed(desk, *, …)``: it opens ``desk.deed("name")``, loads what it needs, asks the domain,
changes rows, and returns a frozen dataclass. Leaving the block writes the kept totals, the act and its lines and
commits; an error leaves the store as it was.
"""

from __future__ import annotations

import uuid
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from datetime import UTC, date, datetime, timedelta
from typing import Any, TypeVar
from zoneinfo import ZoneInfo

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.domain.refusals import Refusal
from findsdesk.domain.settings import Role, Settings
from findsdesk.domain.word_lists import OwnWord
from findsdesk.store.backup import Copy, copy_store
from findsdesk.store.journal import ActFacts, Changes, short_head, store_head, watch, write_act, write_fact
from findsdesk.store.lock import StoreLock
from findsdesk.store.models import Act, Base, Excavation, Fact, Word
from findsdesk.store.numbers import RowIds
from findsdesk.store.search_index import keep_index
from findsdesk.store.session import OneMoment, Store
from findsdesk.store.totals import TotalChanges
from findsdesk.words import N_, Terms

Touched = frozenset[tuple[str, int]]
Row = TypeVar("Row", bound=Base)

FACTS = frozenset({Excavation.__tablename__, Word.__tablename__})
"""Kinds of rows from which the excavation's facts are read."""


@dataclass(frozen=True, slots=True)
class Acting:
    """Somebody of the team at the desk."""

    id: int | None
    name: str
    role: Role | None


@dataclass(frozen=True, slots=True)
class ExcavationFacts:
    """What every use case knows of the excavation without asking the store."""

    name: str
    code: str
    director: str
    zone: ZoneInfo
    terms: Terms
    settings: Settings
    example: bool
    own_words: tuple[OwnWord, ...] = ()
    """What the excavation's word lists say otherwise than those that ship (``desk.word_lists.words_of``)."""


@dataclass(slots=True)
class Deed:
    """One deed under way: its session, who does it, when it happened, and what to say of it."""

    session: Session
    desk: Desk
    id: str
    happened_at: datetime
    written_at: datetime
    changes: Changes
    totals: TotalChanges = field(default_factory=TotalChanges)
    said: str = ""

    @property
    def person_id(self) -> int | None:
        """Return the id of the person who does the deed."""
        return self.desk.person.id

    @property
    def settings(self) -> Settings:
        """Return the excavation's settings."""
        return self.desk.facts.settings

    def new_id(self) -> int:
        """Return the id of a new row."""
        return self.desk.row_ids.take(self.session)

    def add(self, row: Row) -> Row:
        """Give a new row its id and put it into the session."""
        row.id = self.new_id()  # type: ignore[attr-defined]
        self.session.add(row)
        return row

    def write(self, kind: type[Fact], /, **values: Any) -> int:
        """Write a fact, which nobody changes later (a step, a count, an entry); returns its id."""
        row_id = self.new_id()
        write_fact(self.session, self.changes, kind, {"id": row_id, **values})
        return row_id

    def today(self) -> date:
        """Return the day on which the deed happened, in the excavation's time zone."""
        return self.happened_at.astimezone(self.desk.facts.zone).date()


@dataclass(frozen=True, slots=True)
class Reading:
    """One look at the store."""

    session: Session
    desk: Desk
    now: datetime


@dataclass(slots=True)
class _Shared:
    """What all views of one desk share."""

    lock: StoreLock | None
    facts: ExcavationFacts
    listeners: list[Callable[[Touched], None]]
    last_written: datetime | None = None
    last_copy: Copy | None = None
    others_wrote: datetime | None = None
    """When stations that write elsewhere wrote last, by their clocks, as far as their acts came here."""


def real_clock() -> datetime:
    """Return the present moment, aware."""
    return datetime.now(UTC)


@dataclass(frozen=True, slots=True)
class Desk:
    """A person at a station of an open excavation. Views with another person, time or act share everything else."""

    store: Store
    station_id: int
    station_name: str
    person: Acting
    clock: Callable[[], datetime]
    shared: _Shared
    row_ids: RowIds
    happened_at: datetime | None = None
    act_id: str | None = None

    @property
    def facts(self) -> ExcavationFacts:
        """Return the excavation's facts."""
        return self.shared.facts

    @property
    def terms(self) -> Terms:
        """Return the excavation's own words."""
        return self.shared.facts.terms

    def by(self, person: Acting) -> Desk:
        """Return this desk with another person at it."""
        return replace(self, person=person)

    def seat(self, person: Acting) -> Desk:
        """Let another person sit down at this station and return the desk with them at it; the lock names them."""
        if self.shared.lock is not None:
            self.shared.lock.name_holder(person=person.name, station=self.station_name)
        return self.by(person)

    def at(self, moment: datetime) -> Desk:
        """Return this desk for a deed that truly happened at another moment (entered later from paper)."""
        return replace(self, happened_at=moment)

    def as_act(self, act_id: str) -> Desk:
        """Return this desk for one deed with an act id made beforehand: written once, however often it is sent."""
        return replace(self, act_id=act_id)

    def now(self) -> datetime:
        """Return the moment at which what is being done happened."""
        return self.happened_at or self.clock()

    @contextmanager
    def deed(self, name: str) -> Iterator[Deed]:
        """Do a deed: one transaction, one act in the journal; then those who listen are told what was touched."""
        act_id = self.act_id or str(uuid.uuid4())
        now = self.clock()
        written_at = self.after_others(now)
        try:
            with self.store.writing() as session:
                changes = watch(session)
                deed = Deed(session, self, act_id, self.happened_at or now, written_at, changes)
                if self.act_id is not None:
                    _refuse_twice(session, act_id)
                yield deed
                session.flush()
                deed.totals.write(session)
                keep_index(session, changes)
                write_act(session, self.station_id, self._act_facts(name, deed), changes)
        except BaseException:
            self.row_ids.forget()
            raise
        self._told(changes, written_at)

    def after_others(self, now: datetime) -> datetime:
        """Return when something is written: now, or where another store's clock goes before, just after its last act.

        What is laid, stepped or put right later is later by the moment of its writing, whatever the clocks say.
        """
        others = self.shared.others_wrote
        return now if others is None or now > others else others + timedelta(milliseconds=1)

    def _act_facts(self, name: str, deed: Deed) -> ActFacts:
        return ActFacts(
            id=deed.id,
            deed=name,
            person_id=self.person.id,
            person_name=self.person.name,
            happened_at=deed.happened_at,
            zone=self.facts.zone.key,
            written_at=deed.written_at,
            said=deed.said,
        )

    def _told(self, changes: Changes, written_at: datetime) -> None:
        self.shared.last_written = written_at
        touched = changes.touched()
        if FACTS & {kind for kind, _row_id in touched}:
            # Before anybody is told: who hears of the change looks at the facts.
            self.read_facts()
        for listener in self.shared.listeners:
            listener(touched)

    @contextmanager
    def reading(self) -> Iterator[Reading]:
        """Look at the store as it stands at one moment."""
        with self.store.reading() as session:
            yield Reading(session, self, self.now())

    @contextmanager
    def at_one_moment(self) -> Iterator[Desk]:
        """Give this desk with its store as it stands now: what reads there sees nothing that is written meanwhile.

        Within such a moment it is the same one.
        """
        if isinstance(self.store, OneMoment):
            yield self
            return
        with self.store.reading() as session:
            yield replace(self, store=OneMoment(self.store, session))

    def has_act(self, act_id: str) -> bool:
        """Tell whether an act is already written here."""
        with self.reading() as reading:
            return reading.session.get(Act, act_id) is not None

    def listen(self, listener: Callable[[Touched], None]) -> None:
        """Be told after each deed what it touched (called on the deed's thread)."""
        self.shared.listeners.append(listener)

    def read_facts(self) -> None:
        """Read the excavation's facts afresh, after its set-up changed."""
        with self.store.reading() as session:
            self.shared.facts = facts_of(session)

    def head(self) -> str:
        """Return the store's head as it is printed on lists: twelve hexadecimal characters."""
        with self.store.reading() as session:
            return short_head(store_head(session))

    def copy(self) -> Copy | None:
        """Make a verified copy of the store beside it; a store on a server is copied there and not here."""
        if self.store.path is None or self.store.read_only:
            return None
        with self.store.reading() as session:
            head = store_head(session)
        self.shared.last_copy = copy_store(self.store.path, self.clock(), head)
        return self.shared.last_copy

    def close(self) -> None:
        """Make the closing copy and let the store go."""
        try:
            self.copy()
        finally:
            self.let_go()

    def let_go(self) -> None:
        """Let the store go without a closing copy."""
        self.store.close()
        if self.shared.lock is not None:
            self.shared.lock.release()


def _refuse_twice(session: Session, act_id: str) -> None:
    if session.get(Act, act_id) is not None:
        raise Refusal("already_written", N_("This was written already. Nothing was changed."))


def facts_of(session: Session) -> ExcavationFacts:
    """Read the excavation's facts."""
    row = session.execute(select(Excavation)).scalar_one()
    terms: dict[str, Any] = row.terms
    words = session.execute(
        select(
            Word.list,
            Word.key,
            Word.name,
            Word.position,
            Word.diagnostic,
            Word.in_use,
            Word.address,
            Word.counts_as,
        ).order_by(Word.id)
    ).all()
    return ExcavationFacts(
        name=row.name,
        code=row.code,
        director=row.director,
        zone=ZoneInfo(row.time_zone),
        terms=Terms(**terms),
        settings=Settings.from_plain(row.settings),
        example=row.example,
        own_words=tuple(OwnWord(*word) for word in words),
    )
