"""Marking: ticks of what was written, put into slip bags and checked by a second person; answered, never edited."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy import case, func, select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Acting, Deed, Desk
from findsdesk.desk.inking_again import put_back, texts_put_back
from findsdesk.desk.mark_lines import MarkLine
from findsdesk.desk.mark_sums import borne_by, texts_borne
from findsdesk.desk.marks_again import answer, ask_marks_again, standing_entries, tick
from findsdesk.desk.marks_meant import Meant, acting_person, lines_of, thing_marked
from findsdesk.domain.marking import NoInk, Tick, may_check, may_mark
from findsdesk.domain.refusals import Refusal
from findsdesk.store.models import Container, MarkEntry
from findsdesk.words import N_, CountOf


@dataclass(frozen=True, slots=True)
class TickAnswered:
    """A tick that was taken back by its opposite."""

    entry_id: int
    number: str
    kind: Tick
    pieces: int
    said: str
    why: str
    instead_of: str = ""
    """What the sherds bear again, where they had been written again."""


def write_marks(desk: Desk, which: str, *, pieces: int | None = None, who: str | None = None) -> MarkLine:
    """Tick off that the mark was inked on sherds of a container (by tag, number or bag) or on a piece.

    ``pieces`` not said means all that are still to be marked; ``who`` wrote it, where that is not who sits here.
    Opposite: ``answer_mark``. Refusals: ``nothing_to_mark``, ``more_than_kept``, ``no_pieces``, ``not_sorted_yet``,
    ``not_inked``, ``unknown_person``, those of finding it.
    """
    with desk.deed("write_marks") as deed:
        meant = Meant.find(deed, which)
        line = meant.line
        n = min(line.tally.left, meant.at_most or line.tally.left) if pieces is None else pieces
        if pieces is None and not n:
            raise Refusal("nothing_to_mark", N_("{Container} {number} has no sherd left to mark."), number=line.number)
        may_mark(line.tally, n, {"number": line.number})
        _tick(deed, line, Tick.WRITTEN, n, acting_person(deed, who))
        deed.said = f"{line.number}: {n} × {line.text}"
        return meant.again(deed)


def slip_bag(
    desk: Desk, which: str, *, pieces: int = 1, why: NoInk = NoInk.TOO_SMALL, who: str | None = None
) -> MarkLine:
    """Write that sherds were not inked: a slip with the mark lies with them in a small bag of their own.

    Opposite: ``answer_mark``. Refusals: those of ``write_marks``.
    """
    with desk.deed("slip_bag") as deed:
        meant = Meant.find(deed, which)
        line = meant.line
        may_mark(line.tally, pieces, {"number": line.number})
        _tick(deed, line, Tick.SLIP, pieces, acting_person(deed, who), why=why)
        deed.said = f"{line.number}: {pieces}, {why}"
        return meant.again(deed)


def check_marks(
    desk: Desk, which: str, *, pieces: int | None = None, wrong: int = 0, who: str | None = None
) -> MarkLine:
    """Tick off that a second person looked at marks; ``wrong`` of them were taken off and are to be written again.

    ``pieces`` not said means as many as are still to be checked; ``who`` checked, where that is not who sits here.
    Opposite: ``answer_mark``. Refusals: ``nothing_to_check``, ``more_wrong_than_checked``, ``more_than_written``,
    ``checks_own_marks``, ``no_pieces``, and of ``write_marks`` those of finding it.
    """
    with desk.deed("check_marks") as deed:
        meant, person = Meant.find(deed, which), acting_person(deed, who)
        line = meant.line
        n = max(line.to_check, wrong) if pieces is None else pieces
        if pieces is None and not n:
            raise Refusal(
                "nothing_to_check",
                N_("{Container} {number} has no mark left to check. Say how many, to check more."),
                number=line.number,
            )
        by_others, looked_at = _by_whom(deed.session, line, person.id)
        facts = {"number": line.number, "who": person.name}
        may_check(line.tally, n, wrong, facts, by_others=by_others, looked_at=looked_at)
        for kind, of in ((Tick.CHECKED, n - wrong), (Tick.WRONG, wrong)):
            if of:
                _tick(deed, line, kind, of, person)
        deed.said = f"{line.number}: {n}, {wrong}"
        return meant.again(deed)


def answer_mark(desk: Desk, entry_id: int, *, why: str) -> TickAnswered:
    """Take a tick back by its opposite; both stay readable. Works on what lies on the table again, too.

    Where it was written again, the sherds bear what stood there before, which waits to be written again.

    Refusals: ``unknown_entry``, ``already_answered``, ``checked_since``, ``more_than_kept``, ``reason_needed``.
    """
    if not why.strip():
        raise Refusal("reason_needed", N_("Write why the tick is taken back."))
    with desk.deed("answer_mark") as deed:
        row = deed.session.get(MarkEntry, entry_id)
        if row is None:
            raise Refusal("unknown_entry", N_("There is no such tick. Look at the register of marks again."))
        container = deed.session.get_one(Container, row.container_id)
        _need_answerable(deed, row, container)
        answer_id = answer(deed, row, why.strip())
        if row.instead_of:
            put_back(deed, row)
        ask_marks_again(deed, [container.id], why.strip())
        deed.said = f"{container.number}: {row.kind} {-row.pieces}, {why.strip()}"
        return TickAnswered(
            answer_id, container.number, Tick(row.kind), row.pieces, row.said, why.strip(), row.instead_of
        )


def answer_newest_tick(desk: Desk, which: str, kind: Tick | None = None, *, why: str) -> TickAnswered:
    """Take back the newest tick (of a kind) on a container or piece. Refusals: ``unknown_entry``, ``answer_mark``'s."""
    with desk.reading() as reading:
        container, piece = thing_marked(reading.session, desk, which)
        entries = [one for one in standing_entries(reading.session, container.id) if kind in (None, one.kind)]
        if piece is not None and any(one.piece_id == piece.id for one in entries):
            entries = [one for one in entries if one.piece_id == piece.id]
        # What was put back is younger than what still stands of that day, and yet no newer tick.
        old_texts = texts_put_back(reading.session, container.id)
        entries.sort(key=lambda one: one.said not in old_texts)
        newest = entries[-1].id if entries else None
        known = _kinds(standing_entries(reading.session, container.id), *Tick)
    if newest is None:
        raise Refusal(
            "unknown_entry",
            N_("{Container} {number} has no such tick. Its ticks, the newest first: {kinds}."),
            number=container.number,
            kinds=known or "–",
        )
    return answer_mark(desk, newest, why=why)


def need_marks_kept(deed: Deed, container: Container, kept: int) -> None:
    """Refuse to settle what would keep fewer sherds than bear a mark or a slip: ``marked_not_kept``."""
    marked = borne_by(deed.session, container.id)
    if marked > kept:
        raise Refusal(
            "marked_not_kept",
            N_("{Container} {number}: {marked}, {kept} kept. Take marks back first."),
            number=container.number,
            marked=CountOf("{n} sherd bears a mark or slip", "{n} sherds bear a mark or slip", marked),
            kept=kept,
        )


def _tick(deed: Deed, line: MarkLine, kind: Tick, pieces: int, person: Acting, *, why: str = "") -> None:
    tick(deed, line.container_id, line.piece_id, kind, pieces, said=line.text, why=why, by=person.id)


def _by_whom(session: Session, line: MarkLine, person_id: int | None) -> tuple[int, int]:
    """Return how many marks with the line's text others wrote, and how many of them this person looked at."""
    theirs = MarkEntry.person_id.is_not_distinct_from(person_id)
    of = MarkEntry.pieces
    wrote = case(((MarkEntry.kind == Tick.WRITTEN) & ~theirs, of), else_=0)
    looked = case((MarkEntry.kind.in_((Tick.CHECKED, Tick.WRONG)) & theirs, of), else_=0)
    wanted = select(func.coalesce(func.sum(wrote), 0), func.coalesce(func.sum(looked), 0)).where(
        MarkEntry.container_id == line.container_id, MarkEntry.said == line.text
    )
    if line.piece_id is not None:
        wanted = wanted.where(MarkEntry.piece_id == line.piece_id)
    row = session.execute(wanted).one()
    return int(row[0]), int(row[1])


def _kinds(entries: Sequence[MarkEntry], *kinds: Tick) -> str:
    """Return which of these kinds of ticks stand, each once, the newest first, as they are said."""
    return ", ".join(dict.fromkeys(one.kind for one in reversed(entries) if one.kind in kinds))


def _need_answerable(deed: Deed, row: MarkEntry, container: Container) -> None:
    answered = deed.session.execute(select(MarkEntry.id).where(MarkEntry.answers_id == row.id).limit(1)).first()
    if answered is not None or row.answers_id is not None:
        raise Refusal(
            "already_answered",
            N_("That tick of {container} {number} was taken back already. Write a new one instead."),
            number=container.number,
        )
    of = [
        one for one in texts_borne(deed.session, [container.id]) if (one.said, one.piece_id) == (row.said, row.piece_id)
    ]
    if row.kind == Tick.WRITTEN and sum(one.written - one.checked for one in of) < row.pieces:
        since = _kinds(standing_entries(deed.session, container.id), Tick.CHECKED, Tick.WRONG)
        raise Refusal(
            "checked_since",
            N_("Marks of {container} {number} were checked since. Take back first, the newest first: {kinds}."),
            number=container.number,
            kinds=since,
        )
    if row.kind == Tick.WRONG:
        line = next((one for one in lines_of(deed, container) if one.piece_id == row.piece_id), None)
        if line is not None:
            may_mark(line.tally, row.pieces, {"number": line.number})
