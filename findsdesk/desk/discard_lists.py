"""The discard lists there are: how far each has come, its lines and sums, what was said of it."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import func, select
from sqlalchemy.orm import Session, aliased

from findsdesk.desk.desk import Desk
from findsdesk.desk.discard_deciders import Decider, deciders
from findsdesk.desk.listed_discards import standing_lines
from findsdesk.desk.register_fields import Say, against_in_words
from findsdesk.desk.word_lists import WordLists
from findsdesk.domain.discards import Stage, stage_of
from findsdesk.domain.refusals import Refusal
from findsdesk.store.models import (
    Container,
    Deposit,
    DiscardLine,
    DiscardList,
    DiscardNote,
    Person,
    Piece,
    Season,
    SherdGroup,
    Square,
    Ware,
)
from findsdesk.words import N_


@dataclass(frozen=True, slots=True)
class ListFacts:
    """A discard list: its three events with who and when, and the sums of the lines that stand on it.

    ``tenths`` are the dry tenths of a gram of what was weighed, ``unweighed`` the pieces that were not.
    """

    id: int
    season: str
    number: int
    stage: Stage
    made_at: datetime
    made_by: str
    signed_at: datetime | None
    signed_by: str
    inspector: str
    inspected_at: datetime | None
    carried_at: datetime | None
    carried_by: str
    carried_to: str
    carried_how: str
    marker: str
    lines: int
    pieces: int
    tenths: int
    unweighed: int


@dataclass(frozen=True, slots=True)
class LineFacts:
    """One line of a discard list as it was when the list was made; ``called_back_why`` '' while it stands."""

    id: int
    container_id: int
    code: str
    number: str
    deposit: str
    square: str
    piece: int | None
    """The number of the piece within its container; None for a group."""
    ware: str
    part: str
    pieces: int
    tenths: int | None
    reason: str
    rule: str
    proposed: str
    """What the rule says, where they are discarded against it; '' where the rule discards them, or there is none."""
    decided_by: str
    """Who made these sherds a discard."""
    called_back_at: datetime | None
    called_back_by: str
    called_back_why: str


def rule_of_line(line: LineFacts, say: Say, words: WordLists) -> str:
    """Return the rule that discards the sherds of a line, or the one they are discarded against; '' for none."""
    said = say(words["decisions"].called(line.proposed)) if line.proposed else ""
    return against_in_words(line.rule, line.proposed, say, said)


@dataclass(frozen=True, slots=True)
class NoteFacts:
    """What was said of a list afterwards."""

    text: str
    happened_at: datetime
    person: str


@dataclass(frozen=True, slots=True)
class WholeList:
    """A discard list with its lines, in natural order of deposit and container, and its notes."""

    facts: ListFacts
    lines: tuple[LineFacts, ...]
    notes: tuple[NoteFacts, ...]

    @property
    def standing(self) -> tuple[LineFacts, ...]:
        """Return the lines that still stand."""
        return tuple(line for line in self.lines if line.called_back_at is None)

    @property
    def deciders(self) -> tuple[tuple[str, int], ...]:
        """Return who decided lines that still stand, and how many pieces: the most first."""
        sums: Counter[str] = Counter()
        for line in self.standing:
            sums[line.decided_by] += line.pieces
        return tuple(sums.most_common())


_MAKER, _SIGNER, _CARRIER = aliased(Person), aliased(Person), aliased(Person)


def discard_lists(desk: Desk, *, season: str | None = None) -> tuple[ListFacts, ...]:
    """Return the discard lists of a season, or of all, the newest first."""
    with desk.reading() as reading:
        wanted = _lists()
        if season is not None:
            wanted = wanted.where(Season.name == season)
        return _facts(reading.session, wanted)


def discard_list(desk: Desk, number: int, *, season: str | None = None) -> WholeList:
    """Return a discard list with its lines and notes; no season means the newest that has this number.

    Refusal: ``unknown_list_number``.
    """
    with desk.reading() as reading:
        row = list_numbered(reading.session, number, season)
        [facts] = _facts(reading.session, _lists().where(DiscardList.id == row.id))
        return WholeList(facts, _lines(reading.session, row.id), _notes(reading.session, row.id))


@dataclass(frozen=True, slots=True)
class OnList:
    """How many sherds of a container stand on a discard list, and how far that has come."""

    season: str
    number: int
    stage: Stage
    pieces: int
    carried_to: str


def lists_of_container(session: Session, container_id: int) -> tuple[OnList, ...]:
    """Return the discard lists on which sherds of a container stand, the oldest first."""
    rows = session.execute(
        select(DiscardList, Season.name, func.sum(DiscardLine.pieces))
        .join(Season, DiscardList.season_id == Season.id)
        .join(DiscardLine, DiscardLine.list_id == DiscardList.id)
        .where(DiscardLine.container_id == container_id, *standing_lines())
        .group_by(DiscardList.id, Season.name)
        .order_by(DiscardList.made_at, DiscardList.id)
    )
    return tuple(OnList(season, row.number, stage_of_row(row), int(n), row.carried_to) for row, season, n in rows)


def list_numbered(session: Session, number: int, season: str | None) -> DiscardList:
    """Return the row of a list; raises ``unknown_list_number``."""
    wanted = (
        select(DiscardList)
        .join(Season, DiscardList.season_id == Season.id)
        .where(DiscardList.number == number)
        .order_by(Season.starts.desc())
        .limit(1)
    )
    if season is not None:
        wanted = wanted.where(Season.name == season)
    row = session.execute(wanted).scalar_one_or_none()
    if row is None:
        raise Refusal(
            "unknown_list_number",
            N_("There is no discard list {number}. Look at the lists there are, or make one."),
            number=number,
        )
    return row


def stage_of_row(row: DiscardList) -> Stage:
    """Return how far a list has come."""
    return stage_of(
        signed=row.signed_at is not None,
        inspected=row.inspected_at is not None,
        carried=row.carried_at is not None,
        withdrawn=row.withdrawn_at is not None,
    )


def _lists() -> Any:
    return (
        select(DiscardList, Season.name, _MAKER.name, _SIGNER.name, _CARRIER.name)
        .join(Season, DiscardList.season_id == Season.id)
        .outerjoin(_MAKER, DiscardList.made_by_id == _MAKER.id)
        .outerjoin(_SIGNER, DiscardList.signed_by_id == _SIGNER.id)
        .outerjoin(_CARRIER, DiscardList.carried_by_id == _CARRIER.id)
        .order_by(Season.starts.desc(), DiscardList.number.desc())
    )


def _facts(session: Session, wanted: Any) -> tuple[ListFacts, ...]:
    rows = session.execute(wanted).all()
    sums = _sums(session)
    return tuple(
        ListFacts(
            id=row.id,
            season=season,
            number=row.number,
            stage=stage_of_row(row),
            made_at=row.made_at,
            made_by=maker or "",
            signed_at=row.signed_at,
            signed_by=signer or "",
            inspector=row.inspector,
            inspected_at=row.inspected_at,
            carried_at=row.carried_at,
            carried_by=carrier or "",
            carried_to=row.carried_to,
            carried_how=row.carried_how,
            marker=row.marker,
            **sums.get(row.id, _NOTHING),
        )
        for row, season, maker, signer, carrier in rows
    )


_NOTHING = {"lines": 0, "pieces": 0, "tenths": 0, "unweighed": 0}


def _sums(session: Session) -> dict[int, dict[str, int]]:
    unweighed = func.sum(DiscardLine.pieces).filter(DiscardLine.tenths.is_(None))
    rows = session.execute(
        select(
            DiscardLine.list_id,
            func.count(),
            func.sum(DiscardLine.pieces),
            func.coalesce(func.sum(DiscardLine.tenths), 0),
            func.coalesce(unweighed, 0),
        )
        .where(DiscardLine.called_back_at.is_(None))
        .group_by(DiscardLine.list_id)
    )
    names = ("lines", "pieces", "tenths", "unweighed")
    return {row[0]: {name: int(value or 0) for name, value in zip(names, row[1:], strict=True)} for row in rows}


def _lines(session: Session, list_id: int) -> tuple[LineFacts, ...]:
    rows = session.execute(
        select(DiscardLine, Container, Deposit.number, Square.name, Ware.code, Person.name, Piece.number)
        .join(Container, DiscardLine.container_id == Container.id)
        .outerjoin(Deposit, Container.deposit_id == Deposit.id)
        .outerjoin(Square, Container.square_id == Square.id)
        .outerjoin(Ware, DiscardLine.ware_id == Ware.id)
        .outerjoin(Person, DiscardLine.called_back_by_id == Person.id)
        .outerjoin(Piece, DiscardLine.piece_id == Piece.id)
        .outerjoin(SherdGroup, DiscardLine.group_id == SherdGroup.id)
        .where(DiscardLine.list_id == list_id)
        .order_by(
            Deposit.number_key,
            Container.number_key,
            Container.id,
            DiscardLine.piece_id.is_not(None),
            SherdGroup.ordinal,
            Piece.number,
            DiscardLine.id,
        )
    )
    decided = deciders(session, DiscardLine.list_id == list_id)
    return tuple(
        LineFacts(
            id=line.id,
            container_id=container.id,
            code=container.code,
            number=container.number,
            deposit=deposit or "",
            square=square or "",
            piece=piece,
            ware=ware or "",
            part=line.part,
            pieces=line.pieces,
            tenths=line.tenths,
            reason=line.reason,
            rule=line.rule,
            proposed=line.proposed,
            decided_by=decided.get(line.id, Decider(None, "")).name,
            called_back_at=line.called_back_at,
            called_back_by=person or "",
            called_back_why=line.called_back_why,
        )
        for line, container, deposit, square, ware, person, piece in rows
    )


def _notes(session: Session, list_id: int) -> tuple[NoteFacts, ...]:
    rows = session.execute(
        select(DiscardNote, Person.name)
        .outerjoin(Person, DiscardNote.person_id == Person.id)
        .where(DiscardNote.list_id == list_id)
        .order_by(DiscardNote.happened_at, DiscardNote.id)
    )
    return tuple(NoteFacts(note.text, note.happened_at, person or "") for note, person in rows)
