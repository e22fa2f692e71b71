"""The chapters of a season's report: each says in a sentence what it shows, and shows it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from sqlalchemy import select

from findsdesk.desk.certificate import certificate_parts
from findsdesk.desk.container_sheet import container_table
from findsdesk.desk.deposit_facts import DepositFacts
from findsdesk.desk.discard_lists import discard_lists
from findsdesk.desk.discard_register_sheet import reasons_in_words
from findsdesk.desk.figure_scopes import Of, Scope
from findsdesk.desk.figure_words import value_of
from findsdesk.desk.inspector_sheet import (
    balance_table,
    lists_table,
    objects_of_season,
    objects_table,
    samples_table,
    standing_table,
)
from findsdesk.desk.needs_in_words import needs_in_words
from findsdesk.desk.piece_catalogue import catalogue_parts
from findsdesk.desk.pottery_parts import dates_parts, figures_parts, ware_bars, ware_figures_table
from findsdesk.desk.reading_rows import facts_where
from findsdesk.desk.registers import Register, all_rows
from findsdesk.desk.season_parts import SeasonRead
from findsdesk.desk.sheets import Wording
from findsdesk.desk.sherd_figures import dates_in
from findsdesk.desk.whole_papers import NONE, grams, material_in_words
from findsdesk.desk.yard_sheet import needs_parts
from findsdesk.domain.deposits import KINDS, SECURITY_IN_WORDS
from findsdesk.domain.routes import Standing
from findsdesk.paper.list_kinds import Column, ListRow, Signature
from findsdesk.paper.report_kinds import Bar, Bars, Facts, Heading, Part, Table, Words
from findsdesk.store.models import Container, Deposit, PotteryReading
from findsdesk.words import N_, CountOf, grouped, plural

WARES_ACROSS = 9
"""Wares side by side in a table; more of them go into further tables."""
DONE = (
    Standing.SETTLED,
    Standing.BAGGED,
    Standing.CLOSED,
    Standing.EMPTY,
    Standing.VOID,
    Standing.UNUSED,
    Standing.JOINED,
)


def _chapter(title: str) -> Heading:
    """Return the title of a chapter: it begins a page, or follows a short chapter on its own."""
    return Heading(title, fresh=True, after=0.4)


def figures_chapter(say: Wording, read: SeasonRead) -> Iterator[Part]:
    """Yield the season in figures."""
    counts, day = read.counts, read.day
    yield _chapter(say(N_("The season in figures")))
    yield Facts(
        (
            (say(N_("{Containers}")), grouped(counts.containers)),
            (say(N_("Bags")), grouped(counts.bags)),
            (say(N_("Pieces")), grouped(counts.pieces)),
            (say(N_("Objects")), grouped(counts.objects)),
            (say(N_("Samples")), grouped(counts.samples)),
            (say(N_("Photographs")), grouped(counts.photos)),
        ),
        columns=3,
    )
    bars = tuple(bar for week in read.weeks for bar in (
        Bar(week.begins.isoformat(), (float(week.came_in),), grouped(week.came_in)),
        Bar("", (0.0, float(week.counted)), grouped(week.counted)),
    ))  # fmt: skip
    if bars:
        caption = say(N_("{Containers} that came in and were counted, by week from its first day"))
        yield Bars((say(N_("came in")), say(N_("counted"))), bars, caption)
    yield standing_table(say, day, say(N_("{Containers} of the season by standing")))
    yield balance_table(say, read.balances, say(N_("Balance by material, in pieces")))


def deposits_chapter(say: Wording, read: SeasonRead) -> Iterator[Part]:
    """Yield the deposits dug in the season."""
    yield _chapter(say(N_("{Deposits}")))
    yield Words(
        say(N_("Those opened in the season or with finds of it; {containers} and sherds are those of the season."))
    )
    columns = (
        Column(say(N_("{Deposit}")), 0.8),
        Column(say(N_("{Square}")), 0.7),
        Column(say(N_("Kind")), 1.0),
        Column(say(N_("Opened")), 1.1),
        Column(say(N_("Closed")), 1.1),
        Column(say(N_("Security")), 0.9),
        Column(say(N_("{Containers}")), 0.8, "right"),
        Column(say(N_("Sherds")), 0.8, "right"),
        Column(say(N_("Grams")), 1.05, "right"),
        Column(say(N_("Description")), 2.6),
    )
    pieces = sum(read.matrix.of_deposit(one.id) for one in read.deposits)
    tenths = sum(read.matrix.tenths.get(one.id, 0) for one in read.deposits)
    containers = sum(read.matrix.containers.get(one.id, 0) for one in read.deposits)
    yield Table(
        columns,
        lambda: (_deposit_row(say, read, one) for one in read.deposits),
        (say(N_("Total")), *[""] * 5, grouped(containers), _sorted(pieces), grams(tenths or None), ""),
        say(N_("No {deposit} was opened.")),
        say(N_("{Deposits} of the season with their sorted sherds")),
    )


def _sorted(pieces: int) -> str:
    """Return a number of sorted sherds; a dash where nothing is sorted, for then nobody knows."""
    return grouped(pieces) if pieces else NONE


def _deposit_row(say: Wording, read: SeasonRead, one: DepositFacts) -> ListRow:
    once = say(N_("once {numbers}"), numbers=", ".join(one.former_numbers)) if one.former_numbers else ""
    return (
        one.number,
        one.square,
        say(one.kind) if one.kind in KINDS else one.kind,
        one.opened.isoformat(),
        one.closed.isoformat() if one.closed else say(N_("open")),
        say(SECURITY_IN_WORDS[one.security]),
        grouped(read.matrix.containers.get(one.id, 0)),
        _sorted(read.matrix.of_deposit(one.id)),
        grams(read.matrix.tenths.get(one.id) or None),
        "; ".join(part for part in (one.description, once) if part),
    )


def wares_chapter(say: Wording, read: SeasonRead) -> Iterator[Part]:
    """Yield the wares of the season, and their sherds by deposit."""
    yield _chapter(say(N_("Wares")))
    if not read.figures.sums.pieces:
        yield Words(say(N_("No sherd is sorted yet.")))
        return
    yield from ware_bars(say, read.figures, say(N_("Sherds of the season by ware")))
    yield ware_figures_table(say, read.figures, say(N_("Wares and forms")))
    yield from figures_parts(
        say, read.figures, say(N_("Figures of the season's pottery, each with how it comes about"))
    )
    wares = read.matrix.wares
    for first in range(0, len(wares), WARES_ACROSS):
        yield _matrix(say, read, wares[first : first + WARES_ACROSS])


def _matrix(say: Wording, read: SeasonRead, wares: tuple[str, ...]) -> Table:
    numbers = _numbers(say, read)

    def rows() -> Iterator[ListRow]:
        for deposit_id, number in numbers.items():
            some = read.matrix.pieces.get(deposit_id, {})
            if any(some.get(ware, 0) for ware in wares):
                cells = (grouped(some[ware]) if some.get(ware) else "" for ware in wares)
                yield (number, *cells, grouped(sum(some.get(ware, 0) for ware in wares)))

    sums = [sum(some.get(ware, 0) for some in read.matrix.pieces.values()) for ware in wares]
    columns = (
        Column(say(N_("{Deposit}")), 1.0),
        *(Column(ware or say(N_("no ware")), 0.8, "right") for ware in wares),
        Column(say(N_("Together")), 0.9, "right"),
    )
    totals = (say(N_("Total")), *(grouped(one) for one in sums), grouped(sum(sums)))
    return Table(columns, rows, totals, caption=say(N_("Sherds by {deposit} and ware")))


def _numbers(say: Wording, read: SeasonRead) -> Mapping[int | None, str]:
    """Return the numbers of the deposits that have sherds, in natural order, what has no deposit at the end."""
    with say.desk.reading() as reading:
        found = reading.session.execute(select(Deposit.id, Deposit.number).order_by(Deposit.number_key)).all()
    known: dict[int | None, str] = {row.id: row.number for row in found if row.id in read.matrix.pieces}
    return {**known, None: NONE}


def dates_chapter(say: Wording, read: SeasonRead) -> Iterator[Part]:
    """Yield the date profile of the season, and the dates of each deposit with what was read there."""
    yield _chapter(say(N_("Dates")))
    yield from dates_parts(say, read.figures)
    columns = (
        Column(say(N_("{Deposit}")), 0.8),
        Column(say(N_("Security")), 0.9),
        Column(say(N_("Sherds")), 0.7, "right"),
        Column(say(N_("Terminus post quem")), 1.0, "right"),
        Column(say(N_("Mean date")), 0.8, "right"),
        Column(say(N_("Looks late")), 0.7, "right"),
        Column(say(N_("Main periods read")), 3.2),
    )
    yield Table(
        columns,
        lambda: read.dated,
        when_empty=say(N_("Nothing is dated yet.")),
        caption=say(N_("Dates of each {deposit} by its wares, forms, pieces and objects")),
    )


def dated_rows(say: Wording, read: SeasonRead) -> Iterator[ListRow]:
    """Yield the rows of the table of dates: each deposit with sherds, its terminus, mean date and what was read."""
    with say.desk.reading() as reading:
        session = reading.session
        for one in read.deposits:
            sherds = read.matrix.of_deposit(one.id)
            if not sherds:
                continue
            dates = dates_in(session, Scope(Of.DEPOSIT, one.id, one.number, one.id))
            inside = select(Container.id).where(Container.deposit_id == one.id)
            said = facts_where(session, (PotteryReading.deposit_id == one.id) | PotteryReading.container_id.in_(inside))
            yield (
                one.number,
                say(SECURITY_IN_WORDS[one.security]),
                grouped(sherds),
                value_of(dates.terminus.year) if dates.terminus else NONE,
                value_of(dates.mean.year) if dates.mean else NONE,
                grouped(sum(late.pieces for late in dates.late)) if dates.late else "",
                "; ".join(dict.fromkeys(read_so.periods.main.name for read_so in said if read_so.periods.main)),
            )


def pieces_chapter(say: Wording, read: SeasonRead) -> Iterator[Part]:
    """Yield the catalogue of the season's pieces."""
    yield _chapter(say(N_("Pieces")))
    yield from catalogue_parts(say, season=read.season.name)


def objects_chapter(say: Wording, read: SeasonRead) -> Iterator[Part]:
    """Yield the objects of the season."""
    yield _chapter(say(N_("Objects")))
    yield objects_table(say, objects_of_season(say.desk, read.season.name), say(N_("Objects of the season")))


def samples_chapter(say: Wording, read: SeasonRead) -> Iterator[Part]:
    """Yield the samples taken of the season's finds."""
    yield _chapter(say(N_("Samples")))
    with say.desk.reading() as reading:
        found = [one for one in all_rows(reading, Register.SAMPLES) if one.season == read.season.name]
    yield samples_table(say, found, say(N_("Samples of the season's finds")))


def discards_chapter(say: Wording, read: SeasonRead) -> Iterator[Part]:
    """Yield what was discarded, with what stayed in the trench beside it."""
    desk, season = say.desk, read.season
    yield _chapter(say(N_("Discards")))
    found = discard_lists(desk, season=season.name)
    yield from map(Words, reasons_in_words(say, list(found)))
    yield lists_table(say, found, say(N_("Discard lists with who decided, signed and carried away")))
    with desk.reading() as reading:
        left = [
            one
            for one in all_rows(reading, Register.LEFT)
            if not one.answered and one.answers_id is None
            and season.starts <= one.happened_at.astimezone(desk.facts.zone).date() <= season.ends
        ]  # fmt: skip
    if not left:
        return
    rows = [
        (
            one.deposit,
            one.square,
            material_in_words(one.material, say),
            one.what,
            NONE if one.pieces is None else grouped(one.pieces),
            grams(one.tenths),
            one.why,
        )
        for one in left
    ]
    columns = (
        Column(say(N_("{Deposit}")), 0.8),
        Column(say(N_("{Square}")), 0.7),
        Column(say(N_("Material")), 1.1),
        Column(say(N_("What")), 2.2),
        Column(say(N_("Count")), 0.7, "right"),
        Column(say(N_("Grams")), 0.8, "right"),
        Column(say(N_("Why")), 2.2),
    )
    yield Table(columns, lambda: rows, caption=say(N_("Seen, counted and left in the trench")))


def balance_chapter(say: Wording, read: SeasonRead) -> Iterator[Part]:
    """Yield the balance certificate of each material, signed for as a whole."""
    yield _chapter(say(N_("Balance certificate")))
    for one in read.balances:
        yield Heading(material_in_words(one.material, say), 1)
        material = material_in_words(one.material, say)
        yield from certificate_parts(say, one, say(N_("Ledger of the season: {material}"), material=material))
    if not read.balances:
        yield Words(say(N_("Nothing is counted yet.")))
    yield Signature(say(N_("Director")), say.desk.facts.director)
    if say.desk.facts.settings.inspector_signs:
        yield Signature(say(N_("Inspector")))


def open_chapter(say: Wording, read: SeasonRead) -> Iterator[Part]:
    """Yield what is not done: what needs a person, and the containers that are not settled."""
    yield _chapter(say(N_("What is open")))
    yield from needs_parts(say, list(needs_in_words(read.day.needs, say, say.desk.facts.zone)))
    tags = read.day.by_standing.get(Standing.ISSUED, 0)
    many = sum(many for standing, many in read.day.by_standing.items() if standing not in DONE) - tags
    text = N_("{many}: neither settled, bagged, closed, empty nor void.")
    still_on = CountOf(
        "{n} {container} of the season is not at its end", "{n} {containers} of the season are not at their end", many
    )
    yield Words(say(text, many=still_on))
    if tags:
        yield Words(
            plural(
                "{n} tag is issued and nothing came in with it.", "{n} tags are issued and unused.", tags, say.language
            )
        )
    still = [one.number for one in read.deposits if one.closed is None and one.merged_into is None]
    if still:
        yield Words(say(N_("Still open {deposits}: {numbers}."), numbers=", ".join(still)))


def containers_chapter(say: Wording, read: SeasonRead) -> Iterator[Part]:
    """Yield the register of the season's containers."""
    yield _chapter(say(N_("Register of {containers}")))
    caption = say(N_("Every tag of the season, also empty, lost and void ones"))
    yield container_table(say, read.season.name, short=True, caption=caption)
