"""Explanations at the sorting table: found more, not a sherd, not found, used up; each answered at most once."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import select

from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.finding import container_of
from findsdesk.desk.ledgers import enter, ledger_of
from findsdesk.desk.one_at_a_time import only_here
from findsdesk.domain.balance import Entry, Ledger, needs_lead
from findsdesk.domain.numbers import MOST_PIECES, MOST_TENTHS
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.route_refusals import BY_STANDING
from findsdesk.domain.routes import Standing
from findsdesk.domain.settings import LEADS
from findsdesk.store.models import Container, LabSample, LedgerEntry
from findsdesk.words import N_, CountOf

EXPLANATIONS = frozenset({Entry.FOUND_MORE, Entry.NOT_A_SHERD, Entry.NOT_FOUND, Entry.USED_UP})
"""The entries a person writes at the table; counts and moves between containers have acts of their own."""

AT_ONCE = "taken back at once"
"""Why an explanation is answered that was taken back by the key that takes back."""

SHUT = frozenset({Standing.SETTLED, Standing.BAGGED})
"""Containers whose ledger is closed."""


@dataclass(frozen=True, slots=True)
class Explained:
    """An entry that was written, and the ledger as it stands with it."""

    entry_id: int
    container_id: int
    code: str
    number: str
    kind: Entry
    pieces: int
    why: str
    happened_at: datetime
    ledger: Ledger


def explain(desk: Desk, tag: str, entry: Entry, *, pieces: int, why: str = "", tenths: int = 0) -> Explained:
    """Write what became of pieces that lie in no group, or that more were found. Opposite: ``answer_entry``.

    ``pieces`` count up for every kind. Refusals: ``no_explanation``, ``entry_pieces``, ``not_counted_yet``,
    ``already_settled``, ``not_here``, ``group_grams``, and ``lead_needed`` where more than the set share would be
    written off as not found.
    """
    if entry not in EXPLANATIONS:
        raise Refusal(
            "no_explanation",
            N_("“{entry}” is not written here. Count again, or take pieces out into another {container}."),
            entry=entry.value,
        )
    if not 1 <= pieces <= MOST_PIECES:
        raise Refusal(
            "entry_pieces",
            N_("An explanation is for 1 to {most} pieces, not {pieces}."),
            pieces=pieces,
            most=MOST_PIECES,
        )
    if not 0 <= tenths <= MOST_TENTHS:
        raise Refusal("group_grams", N_("{grams} g is no weight. Weigh it again, or leave it out."), grams=tenths / 10)
    with desk.deed("explain") as deed:
        container = container_of(deed.session, desk, tag)
        only_here(deed, container)
        ledger = ledger_of(deed.session, container.id, container.material)
        _need_open(deed, container)
        after = ledger.plus(entry, pieces)
        if entry is Entry.NOT_FOUND:
            _need_lead(deed, container, after)
        entry_id = enter(deed, container, entry, pieces, tenths=tenths, why=why.strip())
        deed.said = _in_short(container, entry, pieces, why)
    return _explained(deed, entry_id, container, entry, pieces, why, after)


def answer_entry(desk: Desk, entry_id: int, *, why: str) -> Explained:
    """Answer an explanation by its opposite; both stay readable.

    Refusals: ``unknown_entry``, ``no_explanation``, ``already_answered``, ``entry_of_sample``, ``already_settled``,
    ``not_here``, ``reason_needed``.
    """
    if not why.strip():
        raise Refusal("reason_needed", N_("Write why the entry is answered."))
    with desk.deed("answer_entry") as deed:
        row = deed.session.get(LedgerEntry, entry_id)
        if row is None:
            raise Refusal("unknown_entry", N_("There is no such entry. Look at the table again."))
        container = deed.session.get_one(Container, row.container_id)
        only_here(deed, container)
        kind = Entry(row.kind)
        _need_answerable(deed, row, container)
        _need_open(deed, container)
        after = ledger_of(deed.session, container.id, container.material).plus(kind, -row.pieces)
        entry_id = enter(deed, container, kind, -row.pieces, tenths=-row.tenths, why=why.strip(), answers=row)
        deed.said = _in_short(container, kind, row.pieces, row.why)
    return _explained(deed, entry_id, container, kind, -row.pieces, why, after)


def answer_at_once(deed: Deed, container: Container, row: LedgerEntry) -> None:
    """Answer an explanation by its opposite within a deed that takes back. Refusals: those of ``answer_entry``."""
    _need_answerable(deed, row, container)
    _need_open(deed, container)
    enter(deed, container, Entry(row.kind), -row.pieces, tenths=-row.tenths, why=AT_ONCE, answers=row)


def write_again(deed: Deed, container: Container, row: LedgerEntry) -> None:
    """Write an explanation that was answered once more, within a deed that does again. Refusals: as ``explain``."""
    _need_open(deed, container)
    kind = Entry(row.kind)
    if kind is Entry.NOT_FOUND:
        _need_lead(deed, container, ledger_of(deed.session, container.id, container.material).plus(kind, row.pieces))
    enter(deed, container, kind, row.pieces, tenths=row.tenths, why=row.why)


def _in_short(container: Container, kind: Entry, pieces: int, why: str) -> str:
    """Return an explanation in one line: 131: 1 not a sherd (pebble)."""
    because = f" ({why.strip()})" if why.strip() else ""
    return f"{container.number}: {pieces} {kind}{because}"


def need_not_shut(container: Container) -> None:
    """Refuse to change the ledger of a container that is settled or not here: ``already_settled``, ``not_here``."""
    standing = Standing(container.standing)
    if standing in SHUT:
        raise Refusal(
            "already_settled",
            N_("{Container} {number} is settled. Reopen it first, with a reason."),
            number=container.number,
        )
    if standing is Standing.AWAY:
        code, sentence = BY_STANDING[standing]
        raise Refusal(code, sentence, number=container.number)


def _need_open(deed: Deed, container: Container) -> None:
    need_not_shut(container)
    on_table = Standing(container.standing) is Standing.SORTING
    if not on_table and ledger_of(deed.session, container.id, container.material) == Ledger():
        raise Refusal(
            "not_counted_yet",
            N_("{Container} {number} was not counted yet. Write its first count."),
            number=container.number,
        )


def _need_lead(deed: Deed, container: Container, after: Ledger) -> None:
    expected = after.expected or after.accounted
    share = deed.settings.not_found_share_permille
    if needs_lead(after.not_found, expected, share) and deed.desk.person.role not in LEADS:
        raise Refusal(
            "lead_needed",
            N_("{Container} {number}: {missing} of {expected} not found is above {share} %. A lead writes that."),
            number=container.number,
            missing=after.not_found,
            expected=CountOf("{n} piece", "{n} pieces", expected),
            share=f"{share / 10:g}",
        )


def _need_answerable(deed: Deed, row: LedgerEntry, container: Container) -> None:
    if Entry(row.kind) not in EXPLANATIONS:
        raise Refusal(
            "no_explanation",
            N_("“{entry}” is not answered here. Count again, or take pieces out into another {container}."),
            entry=row.kind,
        )
    answered = deed.session.execute(select(LedgerEntry.id).where(LedgerEntry.answers_id == row.id).limit(1)).first()
    if answered is not None or row.answers_id is not None:
        raise Refusal(
            "already_answered",
            N_("That entry of {container} {number} was answered already. Write a new one instead."),
            number=container.number,
        )
    _refuse_of_sample(deed, row)


def _refuse_of_sample(deed: Deed, row: LedgerEntry) -> None:
    """Refuse to answer what a sample used up: what was taken off is gone, and its sample goes on saying so."""
    sample = deed.session.execute(
        select(LabSample.number).where(
            LabSample.container_id == row.container_id,
            LabSample.taken_at == row.happened_at,
            LabSample.what_for == row.why,
        )
    ).scalar()
    if row.kind == Entry.USED_UP and sample is not None:
        raise Refusal(
            "entry_of_sample",
            N_("Sample {sample} used these up, so the entry stays. Where fewer were taken, write them as found more."),
            sample=sample,
        )


def _explained(
    deed: Deed, entry_id: int, container: Container, kind: Entry, pieces: int, why: str, ledger: Ledger
) -> Explained:
    return Explained(
        entry_id=entry_id,
        container_id=container.id,
        code=container.code,
        number=container.number,
        kind=kind,
        pieces=pieces,
        why=why.strip(),
        happened_at=deed.happened_at,
        ledger=ledger,
    )
