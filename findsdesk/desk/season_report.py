"""The report of a season: cover, contents, and its chapters from the figures to what is still open."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from findsdesk.desk.certificate import season_balances
from findsdesk.desk.desk import Desk
from findsdesk.desk.figure_scopes import Of, scope_of
from findsdesk.desk.season_chapters import (
    balance_chapter,
    containers_chapter,
    dated_rows,
    dates_chapter,
    deposits_chapter,
    discards_chapter,
    figures_chapter,
    objects_chapter,
    open_chapter,
    pieces_chapter,
    samples_chapter,
    wares_chapter,
)
from findsdesk.desk.season_facts import SeasonCounts, deposits_of, season_counts, ware_matrix, weeks_of
from findsdesk.desk.season_parts import SeasonRead
from findsdesk.desk.setting_up import season_facts, season_of
from findsdesk.desk.sheets import PrintedList, Wording
from findsdesk.desk.sherd_figures import figures_of
from findsdesk.desk.the_day import the_day
from findsdesk.desk.whole_papers import NONE, Asked, print_whole
from findsdesk.paper.list_kinds import ListRow
from findsdesk.paper.page_frame import with_zone
from findsdesk.paper.report_kinds import Cover, Part
from findsdesk.words import N_, grouped

CHAPTERS = (
    figures_chapter,
    deposits_chapter,
    wares_chapter,
    dates_chapter,
    pieces_chapter,
    objects_chapter,
    samples_chapter,
    discards_chapter,
    balance_chapter,
    open_chapter,
    containers_chapter,
)


def season_report(now: Desk, asked: Asked) -> PrintedList:
    """Return the report of a season (of the one of today where none is asked).

    Refusals: ``no_season``, ``unknown_season``, ``unknown_paper``.
    """
    with now.at_one_moment() as desk:
        say, read = Wording(desk), read_season(desk, asked.season)
        read = replace(read, dated=tuple(_followed(dated_rows(say, read), asked)))

        def parts() -> Iterator[Part]:
            for chapter in CHAPTERS:
                yield from chapter(say, read)

        return print_whole(
            say,
            asked,
            title=say(N_("Report of season {name}"), name=read.season.name),
            parts=parts,
            rows=read.counts.containers,
            cover=_cover(say, read),
            permit=read.season.permit,
        )


def _followed(rows: Iterator[ListRow], asked: Asked) -> Iterator[ListRow]:
    """Yield rows that are long in coming; whoever follows the work hears of each as page 0 of 0."""
    for row in rows:
        if asked.follow is not None:
            asked.follow(0, 0)
        yield row


def read_season(desk: Desk, name: str = "") -> SeasonRead:
    """Return what the chapters of a report speak of. Refusals: ``no_season``, ``unknown_season``."""
    with desk.reading() as reading:
        session = reading.session
        today = reading.now.astimezone(desk.facts.zone).date()
        season = season_facts(season_of(session, today, name or None))
        counts, matrix = season_counts(session, season.id), ware_matrix(session, season.id)
    return SeasonRead(
        season=season,
        day=the_day(desk, min(max(today, season.starts), season.ends)),
        counts=counts,
        weeks=weeks_of(desk, season),
        deposits=deposits_of(desk, season),
        matrix=matrix,
        figures=figures_of(desk, scope_of(desk, Of.SEASON, season.name)),
        balances=season_balances(desk, season.name),
    )


def _cover(say: Wording, read: SeasonRead) -> Cover:
    desk, season = say.desk, read.season
    days = say(N_("{first} to {last}"), first=season.starts.isoformat(), last=season.ends.isoformat())
    moment = with_zone(desk.now().astimezone(desk.facts.zone))
    return Cover(
        over=say.excavation(),
        under=days,
        facts=(
            (say(N_("Permit")), season.permit or NONE),
            (say(N_("Site code")), desk.facts.code),
            (say(N_("Director")), desk.facts.director or NONE),
            (say(N_("Made by")), desk.person.name),
            (say(N_("As of")), moment),
        ),
        figures=tuple(_largest(say, read, read.counts)),
        note=say(
            N_("Every figure is that of the store as it stood at this moment. Its head, {head}, stands on each page."),
            head=desk.head(),
        ),
    )


def _largest(say: Wording, read: SeasonRead, counts: SeasonCounts) -> Iterator[tuple[str, str]]:
    pottery = next((one.ledger for one in read.balances if one.material == "pottery"), None)
    yield grouped(counts.containers), say(N_("{container}") if counts.containers == 1 else N_("{containers}"))
    yield grouped(pottery.expected if pottery else 0), say(N_("sherds came in"))
    yield grouped(read.figures.sums.pieces), say(N_("sherds sorted"))
    yield grouped(counts.pieces), say(N_("pieces recorded"))
    yield grouped(counts.objects), say(N_("object") if counts.objects == 1 else N_("objects"))
    yield grouped(len(read.deposits)), say(N_("{deposit}") if len(read.deposits) == 1 else N_("{deposits}"))
