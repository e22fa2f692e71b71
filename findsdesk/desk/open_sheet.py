"""What stays open at the end of a season, on paper: line by line with what it means, to be signed by two."""

from __future__ import annotations

from collections.abc import Iterator

from findsdesk.desk.desk import Desk
from findsdesk.desk.season_end import OpenLine, SeasonEnd, season_end
from findsdesk.desk.season_end_words import days_in_words, name_of_row, rule_of
from findsdesk.desk.sheets import PrintedList, Wording
from findsdesk.desk.whole_papers import NONE, Asked, caution_slip, print_whole
from findsdesk.domain.cautions import At
from findsdesk.domain.season_end import STAYS_AS_IN_WORDS
from findsdesk.paper.list_kinds import Column, ListRow, Section, Signature
from findsdesk.paper.report_kinds import Facts, Heading, Part, Table, Words
from findsdesk.words import N_, CountOf, grouped


def open_sheet(now: Desk, asked: Asked) -> PrintedList:
    """Return what stays open in a season, for two to sign. Refusals: ``unknown_season``, ``no_season``."""
    with now.at_one_moment() as desk:
        say, end = Wording(desk), season_end(desk, asked.season or None, named=None)
        return print_whole(
            say,
            asked,
            title=say(N_("What stays open")),
            filter_words=say(N_("Season {name}"), name=end.season),
            parts=lambda: _parts(say, end),
            rows=end.open,
            permit=end.permit,
        )


def _parts(say: Wording, end: SeasonEnd) -> Iterator[Part]:
    slip = caution_slip(say, At.DRY)
    if slip is not None:
        yield slip
    yield Facts(
        (
            (say(N_("Permit")), end.permit or NONE),
            (say(N_("Last day of the season")), end.ends.isoformat()),
            (say(N_("Open")), grouped(end.open)),
            (say(N_("Signed for")), grouped(end.open - end.unsigned)),
        ),
        columns=2,
    )
    yield Heading(say(N_("Deadlines")), 1)
    yield deadlines_table(say, end)
    yield Heading(say(N_("What is open")), 1)
    yield Words(say(N_("Nothing damp goes into a closed box: it grows mould. What is boxed unwashed is dry first.")))
    yield _open(say, end)
    yield from signed_parts(say, end)
    yield Signature(say(N_("Director")), say.desk.facts.director)
    yield Signature(say(N_("Second person")))


def deadlines_table(say: Wording, end: SeasonEnd) -> Table:
    """Return the deadlines of a season, the next first."""
    rows = [
        (
            one.deliverable,
            one.due_on.isoformat() if one.due_on else NONE,
            days_in_words(one, say),
            rule_of(one, say),
            one.source,
        )
        for one in end.deadlines
    ]
    columns = (
        Column(say(N_("Due")), 2.0),
        Column(say(N_("Day")), 1.0),
        Column(say(N_("Left")), 1.2),
        Column(say(N_("Rule")), 1.8),
        Column(say(N_("Source")), 2.2),
    )
    return Table(columns, lambda: rows, when_empty=say(N_("No deadline is written: the permit says which there are.")))


def _open(say: Wording, end: SeasonEnd) -> Table:
    columns = (
        Column(say(N_("What")), 3.0),
        Column(say(N_("Count")), 0.8, "right"),
        Column(say(N_("Carried over as")), 1.4),
        Column(say(N_("Signed for")), 0.9),
        Column(say(N_("Done")), 1.0),
    )
    return Table(columns, lambda: _rows(say, end), when_empty=say(N_("Nothing is open.")))


def _rows(say: Wording, end: SeasonEnd) -> Iterator[ListRow]:
    for line in end.lines:
        if line.many:
            yield Section(say(line.requirement.name), grouped(line.many))
            yield from _things(say, line)


def _things(say: Wording, line: OpenLine) -> Iterator[ListRow]:
    stays_as = say(STAYS_AS_IN_WORDS[line.requirement.stays_as])
    for row in line.rows:
        pieces = grouped(row.pieces) if row.pieces else ""
        yield (name_of_row(row, say), pieces, stays_as, say(N_("yes")) if row.signed else "", "")


def signed_parts(say: Wording, end: SeasonEnd) -> Iterator[Part]:
    """Yield a sentence for each list that two people signed."""
    for one in end.signed:
        facts = {"number": one.number, "first": one.first, "second": one.second}
        facts |= {
            "day": say.moment(one.signed_at)[:10],
            "lines": CountOf("{n} thing", "{n} things", one.lines),
            "done": grouped(one.done),
        }
        text = N_("List {number} of {lines} was signed on {day} by {first} and {second}; done since: {done}.")
        yield Words(" ".join(part for part in (say(text, **facts), one.note) if part))
