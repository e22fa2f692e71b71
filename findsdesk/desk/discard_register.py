"""The register of discards: every line of every list, with the three events of its list, called-back lines too."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from sqlalchemy import and_, or_, select
from sqlalchemy.orm import aliased

from findsdesk.desk.container_register import of_container
from findsdesk.desk.desk import Reading
from findsdesk.desk.discard_deciders import Decider, deciders
from findsdesk.desk.discard_lists import stage_of_row
from findsdesk.desk.filters_of_finds import by_origin, of_type_called, out_of
from findsdesk.desk.register_windows import Condition, Key, Source
from findsdesk.desk.setting_up import season_of
from findsdesk.desk.word_lists import words_of
from findsdesk.domain.discards import Stage
from findsdesk.domain.refusals import Refusal
from findsdesk.store.models import Container, Deposit, DiscardLine, DiscardList, Person, Piece, Season, Square, Ware
from findsdesk.words import N_


@dataclass(frozen=True, slots=True)
class DiscardInRegister:
    """One line of a discard list; ``piece`` is the number of a piece, None for a group; tenths of a gram, dry.

    What was done with the list after the line had come off it is not the line's: it was not signed for, not carried.
    ``part`` and ``reason`` are messages: words of the excavation's lists, to be put into words.
    """

    id: int
    list_number: int
    season: str
    stage: Stage
    code: str
    container: str
    deposit: str
    square: str
    piece: int | None
    ware: str
    part: str
    pieces: int
    tenths: int | None
    reason: str
    rule: str
    proposed: str
    made_at: datetime
    made_by: str
    decided_by: str
    signed_at: datetime | None
    signed_by: str
    inspector: str
    inspected_at: datetime | None
    carried_at: datetime | None
    carried_to: str
    carried_how: str
    marker: str
    called_back_at: datetime | None
    called_back_by: str
    called_back_why: str


_STAGES: Mapping[str, Condition] = {
    "proposed": and_(DiscardList.signed_at.is_(None), DiscardList.withdrawn_at.is_(None)),
    "signed": and_(DiscardList.signed_at.is_not(None), DiscardList.carried_at.is_(None)),
    "carried": DiscardList.carried_at.is_not(None),
}


def _holds_word(word: str) -> Condition:
    return or_(out_of(DiscardLine.container_id, of_container(word)), of_type_called(DiscardLine.ware_id, Ware, word))


def _on(condition: Condition) -> Condition:
    return DiscardLine.list_id.in_(select(DiscardList.id).where(condition))


def _of_lists(_reading: Reading, values: Sequence[str]) -> Condition:
    return _on(DiscardList.number.in_([int(value) for value in values if value.isdecimal()]))


def _in_stages(_reading: Reading, values: Sequence[str]) -> Condition:
    conditions: list[Condition] = []
    for value in values:
        if value == "called back":
            conditions.append(DiscardLine.called_back_at.is_not(None))
        elif value in _STAGES:
            conditions.append(and_(DiscardLine.called_back_at.is_(None), _on(_STAGES[value])))
        else:
            raise Refusal(
                "unknown_state",
                N_("{said} is none of {known}. Choose one of them."),
                said=value,
                known=", ".join((*_STAGES, "called back")),
            )
    return or_(*conditions)


def _of_seasons(reading: Reading, values: Sequence[str]) -> Condition:
    return _on(DiscardList.season_id.in_([season_of(reading.session, date.max, value).id for value in values]))


def _rows(reading: Reading, keys: Sequence[Key]) -> Mapping[Key, DiscardInRegister]:
    words = words_of(reading.desk)
    maker, signer, caller = aliased(Person), aliased(Person), aliased(Person)
    people = (maker.name, signer.name, caller.name)
    shown = (Season.name, Deposit.number, Square.name, Ware.code, Piece.number, *people)
    found = reading.session.execute(
        select(DiscardLine, DiscardList, Container, *shown)
        .join(DiscardList, DiscardLine.list_id == DiscardList.id)
        .join(Season, DiscardList.season_id == Season.id)
        .join(Container, DiscardLine.container_id == Container.id)
        .outerjoin(Deposit, Container.deposit_id == Deposit.id)
        .outerjoin(Square, Container.square_id == Square.id)
        .outerjoin(Ware, DiscardLine.ware_id == Ware.id)
        .outerjoin(Piece, DiscardLine.piece_id == Piece.id)
        .outerjoin(maker, DiscardList.made_by_id == maker.id)
        .outerjoin(signer, DiscardList.signed_by_id == signer.id)
        .outerjoin(caller, DiscardLine.called_back_by_id == caller.id)
        .where(DiscardLine.id.in_(keys))
    ).all()
    decided = deciders(reading.session, DiscardLine.id.in_(keys))
    return {
        line.id: DiscardInRegister(
            id=line.id,
            list_number=of.number,
            season=season,
            stage=stage_of_row(of),
            code=container.code,
            container=container.number,
            deposit=deposit or "",
            square=square or "",
            piece=piece,
            ware=ware or "",
            part=words["parts"].called(line.part),
            pieces=line.pieces,
            tenths=line.tenths,
            reason=words["discard_reasons"].called(line.reason),
            rule=line.rule,
            proposed=line.proposed,
            made_at=of.made_at,
            made_by=made_by or "",
            decided_by=decided.get(line.id, Decider(None, "")).name,
            **_events(line, of, signed_by or ""),
            called_back_at=line.called_back_at,
            called_back_by=called_back_by or "",
            called_back_why=line.called_back_why,
        )
        for line, of, container, season, deposit, square, ware, piece, made_by, signed_by, called_back_by in found
    }


def _events(line: DiscardLine, of: DiscardList, signed_by: str) -> dict[str, Any]:
    """Return what was done with the list while the line stood on it."""
    off = line.called_back_at
    signed, seen, carried = (
        moment if moment is not None and (off is None or moment <= off) else None
        for moment in (of.signed_at, of.inspected_at, of.carried_at)
    )
    return {
        "signed_at": signed,
        "signed_by": signed_by if signed else "",
        "inspector": of.inspector if seen else "",
        "inspected_at": seen,
        "carried_at": carried,
        "carried_to": of.carried_to if carried else "",
        "carried_how": of.carried_how if carried else "",
        "marker": of.marker if carried else "",
    }


DISCARDS = Source(
    key=DiscardLine.id,
    # By when the list was made: of two stations the one of the lower ids may have made the newer one.
    sorts={"list": (DiscardList.made_at, DiscardList.id)},
    filters={
        "list": _of_lists,
        "stage": _in_stages,
        **by_origin(DiscardLine.container_id),
        "season": _of_seasons,
    },
    holds_word=_holds_word,
    rows=_rows,
    only=DiscardLine.list_id == DiscardList.id,
    newest_first=True,
)
