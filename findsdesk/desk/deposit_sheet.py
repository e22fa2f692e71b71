"""The sheet of a deposit with everything known: facts, containers and steps, balance, wares, dates, pieces, finds."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.balances import balances_in
from findsdesk.desk.deposit_facts import DepositFacts, deposit_facts
from findsdesk.desk.desk import Desk
from findsdesk.desk.dossier_pieces import joins_out_of_deposit
from findsdesk.desk.figure_scopes import Of, scope_of
from findsdesk.desk.inspector_sheet import balance_table, objects_table, samples_table
from findsdesk.desk.left_in_trench import left_of
from findsdesk.desk.photos import PhotoFacts, photos_of, thumbnail_of
from findsdesk.desk.piece_catalogue import PHOTO_GONE, catalogue_parts, count_pieces, there_or_none
from findsdesk.desk.pottery_parts import (
    dates_parts,
    figures_parts,
    readings_table,
    ware_bars,
    ware_figures_table,
)
from findsdesk.desk.reading_rows import facts_where
from findsdesk.desk.registers import Register, RegisterQuery, all_rows
from findsdesk.desk.sheets import PrintedList, Wording
from findsdesk.desk.sherd_figures import figures_of
from findsdesk.desk.whole_papers import NONE, Asked, grams, material_in_words, print_whole
from findsdesk.domain.deposits import KINDS, SECURITY_IN_WORDS
from findsdesk.domain.numbers import metres_in_words
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.routes import STANDING_IN_WORDS, Standing, StepKind, step_in_words
from findsdesk.paper.list_kinds import Column, ListRow
from findsdesk.paper.report_kinds import CatalogueEntry, Facts, Heading, Part, Table, Words
from findsdesk.store.models import BalanceTotal, Container, PotteryReading, Step
from findsdesk.words import N_, CountOf, grouped


def deposit_sheet(now: Desk, asked: Asked) -> PrintedList:
    """Return the sheet of a deposit, by a number it has or once had.

    Refusals: ``no_deposit_asked``, ``unknown_deposit``, ``unknown_paper``.
    """
    if not asked.deposit:
        raise Refusal("no_deposit_asked", N_("Say which {deposit} the sheet is of."))
    with now.at_one_moment() as desk:
        say, facts = Wording(desk), deposit_facts(desk, asked.deposit)
        return print_whole(
            say,
            asked,
            title=say(N_("{Deposit} {number}"), number=facts.number),
            filter_words=say(N_("Everything that is known of it")),
            parts=lambda: _parts(say, facts),
            rows=facts.containers,
        )


def _parts(say: Wording, facts: DepositFacts) -> Iterator[Part]:
    desk, number = say.desk, facts.number
    yield Facts(_facts(say, facts))
    if facts.description:
        yield Words(facts.description)
    yield from _photos(say, photos_of(desk, ("deposit", facts.id)))
    yield from _readings(say, facts)
    figures = figures_of(desk, scope_of(desk, Of.DEPOSIT, number))
    if figures.sums.pieces:
        yield Heading(say(N_("Dates")), 1)
        yield from dates_parts(say, figures)
        yield Heading(say(N_("Wares")), 1)
        yield from ware_bars(say, figures, say(N_("Sherds by ware")))
        yield ware_figures_table(say, figures)
        yield Heading(say(N_("Figures")), 1)
        yield from figures_parts(say, figures)
    yield Heading(say(N_("Balance")), 1)
    with desk.reading() as reading:
        yield balance_table(say, balances_in(reading.session, deposit_id=facts.id))
    yield Heading(say(N_("{Containers}")), 1)
    yield _containers(say, facts)
    yield from _finds(say, number)
    yield from _joins(say, facts)
    yield from _left(say, number)
    if count_pieces(desk, number):
        yield Heading(say(N_("Pieces")), 1)
        yield from catalogue_parts(say, number)


def _facts(say: Wording, facts: DepositFacts) -> tuple[tuple[str, str], ...]:
    metres = [f"{metres_in_words(mm)} m" if mm is not None else NONE for mm in (facts.opening_mm, facts.closing_mm)]
    left = say(
        N_("{entries}, {pieces}"),
        entries=CountOf("{n} entry", "{n} entries", facts.left_entries),
        pieces=CountOf("{n} piece", "{n} pieces", facts.left_pieces),
    )
    return (
        (say(N_("{Square}")), facts.square),
        (say(N_("Kind")), say(facts.kind) if facts.kind in KINDS else facts.kind),
        (say(N_("Opened")), facts.opened.isoformat()),
        (say(N_("Closed")), facts.closed.isoformat() if facts.closed else say(N_("still open"))),
        (say(N_("Supervisor")), facts.supervisor or NONE),
        (say(N_("Security")), say(SECURITY_IN_WORDS[facts.security])),
        (say(N_("Opening elevation")), metres[0]),
        (say(N_("Closing elevation")), metres[1]),
        (say(N_("Soil dug")), facts.soil or NONE),
        (say(N_("Once")), ", ".join(facts.former_numbers) or NONE),
        (say(N_("Merged into")), facts.merged_into or NONE),
        (say(N_("{Containers}")), grouped(facts.containers)),
        (say(N_("Left in the trench")), left if facts.left_entries else NONE),
    )


def _photos(say: Wording, photos: tuple[PhotoFacts, ...]) -> Iterator[Part]:
    for photo in photos:
        yield CatalogueEntry(
            title=photo.file_name,
            code="",
            facts=((say(N_("Taken in")), say.moment(photo.taken_in_at)),),
            note=photo.note,
            load=_loader(say.desk, photo),
            shape=(photo.width, photo.height),
            gone=say(PHOTO_GONE, file=photo.file_name),
        )


def _loader(desk: Desk, photo: PhotoFacts) -> Callable[[], bytes | None]:
    return lambda: there_or_none(lambda: thumbnail_of(desk, photo))


def _readings(say: Wording, facts: DepositFacts) -> Iterator[Part]:
    yield Heading(say(N_("Readings")), 1)
    with say.desk.reading() as reading:
        inside = select(Container.id).where(Container.deposit_id == facts.id)
        of_it = facts_where(
            reading.session,
            (PotteryReading.deposit_id == facts.id) | PotteryReading.container_id.in_(inside),
        )
    yield readings_table(say, of_it)


def _containers(say: Wording, facts: DepositFacts) -> Table:
    columns = (
        Column(say(N_("{Container}")), 0.8),
        Column(say(N_("Tag")), 1.3),
        Column(say(N_("Material")), 1.0),
        Column(say(N_("Stands")), 0.9),
        Column(say(N_("Came in")), 0.65, "right"),
        Column(say(N_("Kept")), 0.6, "right"),
        Column(say(N_("Its steps")), 4.2),
    )
    return Table(columns, lambda: _container_rows(say, facts.id), when_empty=say(N_("Nothing came out of it yet.")))


def _container_rows(say: Wording, deposit_id: int) -> Iterator[ListRow]:
    b = BalanceTotal
    with say.desk.reading() as reading:
        session = reading.session
        life = _lives(say, session, deposit_id)
        rows: Any = session.execute(
            select(Container, b.counted + b.found_more + b.arrived, b.kept)
            .outerjoin(b, (b.container_id == Container.id) & (b.material == Container.material))
            .where(Container.deposit_id == deposit_id)
            .order_by(Container.season_id, Container.number_key, Container.id)
        )
        for row, came, kept in rows:
            yield (
                row.number,
                row.code,
                material_in_words(row.material, say),
                say(STANDING_IN_WORDS[Standing(row.standing)]),
                NONE if came is None else grouped(came),
                NONE if kept is None else grouped(kept),
                life.get(row.id, ""),
            )


def _lives(say: Wording, session: Session, deposit_id: int) -> dict[int, str]:
    """Return the steps of each container of a deposit in a line, with day and time; a step of one day names it once."""
    steps: defaultdict[int, list[str]] = defaultdict(list)
    before: dict[int, str] = {}
    rows = session.execute(
        select(Step.container_id, Step.kind, Step.happened_at, Step.pieces)
        .join(Container, Step.container_id == Container.id)
        .where(Container.deposit_id == deposit_id)
        .order_by(Step.container_id, Step.happened_at, Step.id)
    )
    for container_id, kind, happened_at, pieces in rows:
        day, clock = say.moment(happened_at).split()
        shown = clock if before.get(container_id) == day else f"{day} {clock}"
        before[container_id] = day
        many = f" {grouped(pieces)}" if pieces is not None else ""
        steps[container_id].append(f"{shown} {say(step_in_words(StepKind(kind), pieces))}{many}")
    return {container_id: "; ".join(some) for container_id, some in steps.items()}


def _finds(say: Wording, number: str) -> Iterator[Part]:
    query = RegisterQuery(filters=(("deposit", number),))
    with say.desk.reading() as reading:
        objects = tuple(all_rows(reading, Register.OBJECTS, query))
        samples = tuple(all_rows(reading, Register.SAMPLES, query))
        discards = tuple(all_rows(reading, Register.DISCARDS, query))
    if objects:
        yield Heading(say(N_("Objects")), 1)
        yield objects_table(say, objects)
    if samples:
        yield Heading(say(N_("Samples")), 1)
        yield samples_table(say, samples)
    if discards:
        yield Heading(say(N_("Discards")), 1)
        yield _discards(say, discards)


def _discards(say: Wording, found: tuple[object, ...]) -> Table:
    from findsdesk.desk.discard_register import DiscardInRegister
    from findsdesk.domain.discards import STAGE_IN_WORDS

    sums: dict[tuple[str, int, str], list[int]] = {}
    for line in found:
        assert isinstance(line, DiscardInRegister)
        if line.called_back_at is None:
            one = sums.setdefault((line.season, line.list_number, say(STAGE_IN_WORDS[line.stage])), [0, 0, 0])
            one[0] += 1
            one[1] += line.pieces
            one[2] += line.tenths or 0
    rows = [
        (season, str(number), stage, grouped(lines), grouped(pieces), grams(tenths))
        for (season, number, stage), (lines, pieces, tenths) in sorted(sums.items())
    ]
    columns = (
        Column(say(N_("Season")), 1.0),
        Column(say(N_("List")), 0.6),
        Column(say(N_("Stands")), 2.0),
        Column(say(N_("Lines")), 0.8, "right"),
        Column(say(N_("Count")), 0.8, "right"),
        Column(say(N_("Grams")), 1.0, "right"),
    )
    return Table(columns, lambda: rows, when_empty=say(N_("All of it was called back.")))


def _joins(say: Wording, facts: DepositFacts) -> Iterator[Part]:
    with say.desk.reading() as reading:
        joins = joins_out_of_deposit(reading.session, facts.id)
    if not joins:
        return
    yield Heading(say(N_("Joins with other {deposits}")), 1)
    rows = [
        (
            one.left.name,
            one.left.deposit or NONE,
            one.right.name,
            one.right.deposit or NONE,
            one.left.ware,
            say(N_("certain")) if one.certain else say(N_("not certain")),
            one.note,
        )
        for one in joins
    ]
    columns = (
        Column(say(N_("Piece")), 0.8),
        Column(say(N_("{Deposit}")), 0.8),
        Column(say(N_("Joins")), 0.8),
        Column(say(N_("{Deposit}")), 0.8),
        Column(say(N_("Ware")), 0.7),
        Column(say(N_("How sure")), 0.9),
        Column(say(N_("Note")), 2.4),
    )
    yield Table(columns, lambda: rows)


def _left(say: Wording, number: str) -> Iterator[Part]:
    found = [one for one in left_of(say.desk, number) if not one.answered and one.answers_id is None]
    if not found:
        return
    yield Heading(say(N_("Left in the trench")), 1)
    rows = [
        (
            say.moment(one.happened_at)[:10],
            material_in_words(one.material, say),
            one.what,
            NONE if one.pieces is None else grouped(one.pieces),
            grams(one.tenths),
            one.why,
        )
        for one in found
    ]
    columns = (
        Column(say(N_("Seen")), 1.0),
        Column(say(N_("Material")), 1.2),
        Column(say(N_("What")), 2.2),
        Column(say(N_("Count")), 0.7, "right"),
        Column(say(N_("Grams")), 0.8, "right"),
        Column(say(N_("Why")), 2.0),
    )
    yield Table(columns, lambda: rows)
