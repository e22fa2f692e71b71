"""Samples for analysis: what was taken off, for what, where it went, what is left, what came back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import TypedDict, Unpack

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.editing import ask, refuse_if_moved
from findsdesk.desk.explaining import need_not_shut
from findsdesk.desk.finding import container_of
from findsdesk.desk.finding_pieces import looks_like_a_piece, piece_of
from findsdesk.desk.group_checks import words_named
from findsdesk.desk.ledgers import enter, ledger_of, there_now
from findsdesk.desk.one_at_a_time import only_here
from findsdesk.desk.piece_rows import piece_name
from findsdesk.desk.sample_use import sample_numbered, use_up_of_a_piece
from findsdesk.desk.word_lists import words_of
from findsdesk.domain.balance import Entry
from findsdesk.domain.codes import Kind, could_be_code, read_code
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.store.models import Container, Deposit, LabSample, Piece, Season
from findsdesk.store.numbers import take_numbers
from findsdesk.words import N_, CountOf, put

SERIES = "sample"


@dataclass(frozen=True, slots=True)
class SampleFacts:
    """A sample as it is shown: grams in tenths, dates of sending and coming back."""

    id: int
    version: int
    number: int
    container: str
    container_code: str
    piece: str
    deposit: str
    season: str
    what_for: str
    taken_tenths: int | None
    pieces_used: int
    laboratory: str
    permit: str
    sent_on: date | None
    back_on: date | None
    rest_tenths: int | None
    result: str
    taken_at: datetime
    used_up_on: date | None


def take_sample(
    desk: Desk,
    of: str,
    *,
    what_for: str,
    taken_tenths: int | None = None,
    pieces_used: int = 0,
    laboratory: str = "",
    permit: str = "",
) -> SampleFacts:
    """Take a sample of a container (its tag or number) or of a piece (its code or name).

    Grams and whole sherds that are used up leave what is kept or unsorted and stand in the ledger as used up, as an
    entry of its own. A piece that is used up keeps its number with no sherd left. Opposite: none; what was taken off
    is gone. Refusals: ``unknown_word``, ``nothing_taken``, ``more_than_there``, ``already_settled``, ``not_here``,
    ``on_discard_list``, ``carried_off``, finding it.
    """
    with desk.deed("take_sample") as deed:
        piece = piece_of(deed.session, desk, of) if _means_a_piece(desk, of) else None
        container = (
            container_of(deed.session, desk, of)
            if piece is None
            else deed.session.get_one(Container, piece.container_id)
        )
        purpose = words_named("sample_purposes", what_for, words_of(desk))
        _check_amounts(taken_tenths, pieces_used)
        only_here(deed, container)
        _use_up(deed, container, piece, taken_tenths or 0, pieces_used, purpose)
        number = take_numbers(deed.session, SERIES, 1, station_id=desk.station_id)[0]
        row = deed.add(
            LabSample(
                number=number,
                container_id=container.id,
                piece_id=piece.id if piece else None,
                what_for=purpose,
                taken_tenths=taken_tenths,
                pieces_used=pieces_used,
                laboratory=laboratory.strip(),
                permit=permit.strip(),
                sent_on=None,
                back_on=None,
                rest_tenths=None,
                taken_at=deed.happened_at,
                person_id=deed.person_id,
            )
        )
        of_what = _piece_name(container, piece) or container.number
        deed.said = f"{number}: {of_what}, {put(words_of(desk)['sample_purposes'].called(purpose))}"
        deed.session.flush()
        return sample_rows(deed.session, [row.id])[0]


def _means_a_piece(desk: Desk, of: str) -> bool:
    if could_be_code(of):
        return read_code(of, desk.facts.code).kind is Kind.PIECE
    return looks_like_a_piece(of)


def _check_amounts(taken_tenths: int | None, pieces_used: int) -> None:
    if (taken_tenths or 0) < 0 or pieces_used < 0 or not (taken_tenths or pieces_used):
        raise Refusal("nothing_taken", N_("Write how many grams were taken, or how many whole sherds were used up."))


def _use_up(deed: Deed, container: Container, piece: Piece | None, tenths: int, pieces: int, purpose: str) -> None:
    if piece is not None:
        use_up_of_a_piece(deed, container, piece, tenths, pieces, purpose)
    elif pieces:
        _need_unsorted(deed, container, pieces)
        enter(deed, container, Entry.USED_UP, pieces, tenths=tenths, why=purpose)


def _need_unsorted(deed: Deed, container: Container, pieces: int) -> None:
    need_not_shut(container)
    left = there_now(ledger_of(deed.session, container.id, container.material))
    if pieces > left:
        raise Refusal(
            "more_than_there",
            N_("{Container} {number} holds {pieces}. Take out {left} or fewer."),
            number=container.number,
            pieces=CountOf("{n} piece", "{n} pieces", left),
            left=left,
        )


class SampleSaid(TypedDict, total=False):
    """What can be said of a sample after it was taken; a day or grams (tenths) that are None are emptied."""

    laboratory: str
    permit: str
    sent_on: date | None
    back_on: date | None
    rest_tenths: int | None
    result: str


_CALLED = {"sent_on": "sent on", "back_on": "back on", "rest_tenths": "grams left"}


def change_sample(
    desk: Desk, number: int, *, seen: int | None = None, sure: bool = False, **said: Unpack[SampleSaid]
) -> SampleFacts:
    """Write where a sample went, what is left of it, what came back; what is not named stays.

    Opposite: the change back. Refusals: ``unknown_sample``, ``changed_meanwhile``, ``back_before_sent``,
    ``rest_above_taken``. Question: ``sent_without_permit``.
    """
    with desk.deed("change_sample") as deed:
        row = sample_numbered(deed.session, number)
        mine = {name: value.strip() if isinstance(value, str) else value for name, value in said.items()}
        if seen is not None:
            refuse_if_moved(deed.session, row, seen, mine)
        for name, value in mine.items():
            setattr(row, name, value)
        _check_way(row)
        deed.said = f"{row.number}: {', '.join(_CALLED.get(name, name) for name in mine)}"
        ask(deed, _without_permit(row) if mine.get("sent_on") is not None else None, sure)
        deed.session.flush()
        return sample_rows(deed.session, [row.id])[0]


def _check_way(row: LabSample) -> None:
    if row.sent_on is not None and row.back_on is not None and row.back_on < row.sent_on:
        raise Refusal(
            "back_before_sent",
            N_("Sample {number} cannot be back ({back}) before it was sent ({sent})."),
            number=row.number,
            back=row.back_on,
            sent=row.sent_on,
        )
    if row.rest_tenths is not None and row.taken_tenths is not None and row.rest_tenths > row.taken_tenths:
        raise Refusal(
            "rest_above_taken",
            N_("Of sample {number} {taken} g were taken; {rest} g cannot be left. Weigh it again."),
            number=row.number,
            taken=f"{row.taken_tenths / 10:g}",
            rest=f"{row.rest_tenths / 10:g}",
        )


def _without_permit(row: LabSample) -> Question | None:
    if row.permit:
        return None
    return Question(
        "sent_without_permit",
        N_("Sample {number} has no permit written. Was it sent without one, as local law allows?"),
        number=row.number,
    )


def sample_of(desk: Desk, number: int) -> SampleFacts:
    """Return a sample by its number. Refusal: ``unknown_sample``."""
    with desk.reading() as reading:
        return sample_rows(reading.session, [sample_numbered(reading.session, number).id])[0]


def _piece_name(container: Container, piece: Piece | None) -> str:
    return "" if piece is None else piece_name(container, piece)


def sample_rows(session: Session, ids: Sequence[int]) -> tuple[SampleFacts, ...]:
    """Return samples by their ids, in that order; those that are gone are left out."""
    found = session.execute(
        select(LabSample, Container, Piece, Deposit.number, Season.name)
        .join(Container, LabSample.container_id == Container.id)
        .join(Season, Container.season_id == Season.id)
        .outerjoin(Piece, LabSample.piece_id == Piece.id)
        .outerjoin(Deposit, Container.deposit_id == Deposit.id)
        .where(LabSample.id.in_(ids))
    ).all()
    rows = {
        row.id: SampleFacts(
            id=row.id,
            version=row.version,
            number=row.number,
            container=container.number,
            container_code=container.code,
            piece=_piece_name(container, piece),
            deposit=deposit or "",
            season=season,
            what_for=row.what_for,
            taken_tenths=row.taken_tenths,
            pieces_used=row.pieces_used,
            laboratory=row.laboratory,
            permit=row.permit,
            sent_on=row.sent_on,
            back_on=row.back_on,
            rest_tenths=row.rest_tenths,
            result=row.result,
            taken_at=row.taken_at,
            used_up_on=row.used_up_on,
        )
        for row, container, piece, deposit, season in found
    }
    return tuple(rows[row_id] for row_id in ids if row_id in rows)
