"""Inked again: old marks and slips give way to what has to be said now, in parts too; undone, they come back."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from sqlalchemy import select
from sqlalchemy.orm import Session, aliased

from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.mark_lines import MarkLine
from findsdesk.desk.mark_sums import TextBorne, texts_borne
from findsdesk.desk.marks_again import SLIP, TextsNow, answer, ask_marks_again, standing_entries, tick
from findsdesk.desk.marks_meant import Meant, acting_person, lines_of
from findsdesk.domain.marking import Tick, need_pieces
from findsdesk.domain.refusals import Refusal
from findsdesk.store.models import MarkEntry, Redo
from findsdesk.words import N_, CountOf


def write_marks_again(desk: Desk, which: str, *, pieces: int | None = None, who: str | None = None) -> MarkLine:
    """Tick off that old marks of a container (by tag, number or bag) or of a piece were taken off and inked again.

    ``pieces`` not said means all whose mark says something no longer true; ``who`` wrote, where that is not who sits
    here. Opposite: ``answer_mark``. Refusals: ``nothing_to_redo``, ``more_than_again``, ``no_pieces``,
    ``unknown_person``, those of finding it.
    """
    with desk.deed("write_marks_again") as deed:
        meant = Meant.find(deed, which)
        line, by = meant.line, acting_person(deed, who)
        n = line.tally.outdated if pieces is None else pieces
        _need_again(line, n, all_meant=pieces is None)
        left = n
        for one in _outdated(deed, meant):
            over = min(left, one.written)
            if over > 0:
                _ink_over(deed, one, line.text, over, by.id)
                left -= over
        ask_marks_again(deed, [line.container_id], line.text)
        deed.said = f"{line.number}: {n} × {line.text}"
        return meant.again(deed)


def _need_again(line: MarkLine, pieces: int, *, all_meant: bool) -> None:
    again = line.tally.outdated
    if all_meant and not again:
        raise Refusal(
            "nothing_to_redo", N_("No mark of {container} {number} is to be written again."), number=line.number
        )
    need_pieces(pieces)
    if pieces > again:
        raise Refusal(
            "more_than_again",
            N_("{Container} {number}: {again} to be written again. Write at most that many."),
            number=line.number,
            again=CountOf("{n} mark", "{n} marks", again),
        )


def _outdated(deed: Deed, meant: Meant) -> list[TextBorne]:
    """Return the texts of a line that say something no longer true, the oldest first."""
    line = meant.line
    of_others = {one.piece_id for one in lines_of(deed, meant.container)} - {None, line.piece_id}
    borne = texts_borne(deed.session, [line.container_id])
    mine = [one for one in borne if one.piece_id == line.piece_id or line.piece_id is None]
    return [one for one in mine if one.said != line.text and one.piece_id not in of_others and one.written > 0]


def ink_again(deed: Deed, row: Redo, by: int | None = None) -> None:
    """Write that all marks (or slips) of a text were written again: what bore it is answered, and says the new one.

    Marks that were checked are to be checked again. ``by`` wrote, where that is not the person of the deed.
    """
    says = TextsNow(deed, [row.container_id])
    for one in texts_borne(deed.session, [row.container_id]):
        if one.said != row.said:
            continue
        now = says.of(one.container_id, one.piece_id)
        if row.what == SLIP:
            _slips_over(deed, one, now, by)
        elif one.written > 0:
            _ink_over(deed, one, now, one.written, by)


def _slips_over(deed: Deed, old: TextBorne, now: str, by: int | None) -> None:
    for entry in _standing(deed.session, old, Tick.SLIP):
        answer(deed, entry, _why(old.said, now))
        tick(deed, entry.container_id, entry.piece_id, Tick.SLIP, entry.pieces,
             said=now, why=entry.why, by=by, instead_of=old.said)  # fmt: skip


def _ink_over(deed: Deed, old: TextBorne, now: str, pieces: int, by: int | None) -> None:
    """Let so many marks of an old text say another; checks stay only for marks that are still there."""
    why = _why(old.said, now)
    if pieces == old.written:
        for entry in _standing(deed.session, old, Tick.WRITTEN, Tick.CHECKED, Tick.WRONG):
            answer(deed, entry, why)
    else:
        _lessen(deed, _standing(deed.session, old, Tick.WRITTEN), pieces, why)
        over = old.checked - (old.written - pieces)
        _lessen(deed, _standing(deed.session, old, Tick.CHECKED), over, why)
    tick(deed, old.container_id, old.piece_id, Tick.WRITTEN, pieces, said=now, by=by, instead_of=old.said)


def _lessen(deed: Deed, entries: Iterable[MarkEntry], pieces: int, why: str) -> None:
    """Take so many sherds off ticks, the oldest first; what is left of one is ticked anew for the same person."""
    for entry in entries:
        if pieces <= 0:
            return
        answer(deed, entry, why)
        rest = entry.pieces - pieces
        if rest > 0:
            _like(deed, entry, rest)
        pieces -= entry.pieces


def _like(deed: Deed, entry: MarkEntry, pieces: int) -> None:
    tick(deed, entry.container_id, entry.piece_id, Tick(entry.kind), pieces,
         said=entry.said, why=entry.why, by=entry.person_id, instead_of=entry.instead_of)  # fmt: skip


def _standing(session: Session, old: TextBorne, *kinds: Tick) -> Sequence[MarkEntry]:
    entries = standing_entries(session, old.container_id, old.said)
    return [one for one in entries if one.piece_id == old.piece_id and one.kind in kinds]


def put_back(deed: Deed, entry: MarkEntry) -> None:
    """Let the sherds of a tick that was taken back bear again what stood there before, by whom it was written."""
    left = entry.pieces
    for was in _gave_way(deed.session, entry):
        if left <= 0:
            return
        _like(deed, was, min(left, was.pieces))
        left -= was.pieces
    if left > 0:
        tick(deed, entry.container_id, entry.piece_id, Tick(entry.kind), left,
             said=entry.instead_of, why=entry.why, by=entry.person_id)  # fmt: skip


def texts_put_back(session: Session, container_id: int) -> frozenset[str]:
    """Return the texts that sherds of a container bear again because a re-inking was taken back."""
    later = aliased(MarkEntry)
    taken_back = select(MarkEntry.instead_of).where(
        MarkEntry.container_id == container_id,
        MarkEntry.instead_of != "",
        select(later.id).where(later.answers_id == MarkEntry.id).exists(),
    )
    return frozenset(session.execute(taken_back.distinct()).scalars())


def _gave_way(session: Session, entry: MarkEntry) -> Sequence[MarkEntry]:
    """Return the ticks that gave way to what an entry says: one of as many sherds first, then the newest first."""
    later = aliased(MarkEntry)
    found = (
        session.execute(
            select(MarkEntry)
            .join(later, later.answers_id == MarkEntry.id)
            .where(
                MarkEntry.container_id == entry.container_id,
                MarkEntry.piece_id.is_not_distinct_from(entry.piece_id),
                MarkEntry.kind == entry.kind,
                MarkEntry.said == entry.instead_of,
                later.why == _why(entry.instead_of, entry.said),
            )
            .order_by(MarkEntry.id.desc())
        )
        .scalars()
        .all()
    )
    return sorted(found, key=lambda one: one.pieces != entry.pieces)


def _why(said: str, now: str) -> str:
    return f"{said} → {now}"
