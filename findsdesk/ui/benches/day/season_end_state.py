"""What the page of the season's end says, worked out from what is open; no window needed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from findsdesk.desk.deadlines import DeadlineFacts
from findsdesk.desk.register_columns import Say
from findsdesk.desk.season_end import OpenLine, OpenRow, SeasonEnd
from findsdesk.desk.season_end_words import days_in_words, name_of_row, rule_of
from findsdesk.ui.benches.day.state import NeedRow
from findsdesk.ui.models.cells import Cell, Column, TableRow
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, CountOf, grouped

_NAMED = 6
"""So many things are named on a line."""


@dataclass(frozen=True, slots=True)
class SeasonEndState:
    """The page in words: its heading, what is behind each of its lines and deadlines, what is signed.

    ``seen`` is how many things are open, which goes along with a signature.
    """

    heading: str
    behind: Mapping[NeedRow, OpenLine]
    due: Mapping[NeedRow, DeadlineFacts]
    signed: tuple[str, ...]
    seen: int
    season: str
    seasons: tuple[str, ...]
    """All there are, the newest first."""
    may_sign: bool

    @property
    def lines(self) -> tuple[NeedRow, ...]:
        """Return a line for each requirement with something open."""
        return tuple(self.behind)

    @property
    def deadlines(self) -> tuple[NeedRow, ...]:
        """Return a line for each deadline in force."""
        return tuple(self.due)


def season_end_state(end: SeasonEnd, around: WordsAround, seasons: Sequence[str] = ()) -> SeasonEndState:
    """Work out what the page says."""
    say = around.say
    facts = {"season": end.season, "open": grouped(end.open), "unsigned": grouped(end.unsigned)}
    return SeasonEndState(
        heading=say(N_("Season {season}. Open: {open}, not signed for: {unsigned}"), **facts),
        behind={_line(line, around): line for line in end.lines if line.many},
        due={_deadline(one, around): one for one in end.deadlines},
        signed=tuple(
            say(
                N_("List {number}: {lines}, signed by {first} and {second}; done since: {done}."),
                number=one.number,
                lines=CountOf("{n} thing", "{n} things", one.lines),
                first=one.first,
                second=one.second,
                done=grouped(one.done),
            )
            for one in end.signed
        ),
        seen=end.open,
        season=end.season,
        seasons=tuple(seasons) or (end.season,),
        may_sign=end.unsigned > 0,
    )


def _line(line: OpenLine, around: WordsAround) -> NeedRow:
    say, rows = around.say, line.rows[:_NAMED]
    names = ", ".join(name_of_row(row, say) for row in rows)
    more = say(N_("{names} and {n} more"), names=names, n=grouped(line.many - len(rows)))
    text = say(
        N_("{what}: {names}"), what=say(line.requirement.name), names=more if line.many > len(rows) else names
    )  # fmt: skip
    signed = say(N_("signed for")) if line.signed == line.many else ""
    return NeedRow(grouped(line.many), text, signed, False, "", line.requirement.bench)


def _deadline(one: DeadlineFacts, around: WordsAround) -> NeedRow:
    day = one.due_on.isoformat() if one.due_on else "–"
    late = one.days_left is not None and one.days_left < 0
    text = f"{one.deliverable} · {rule_of(one, around.say)}"
    return NeedRow(day, text, days_in_words(one, around.say), late)


def open_row_columns(say: Say) -> tuple[Column, ...]:
    """Return the columns of what is behind a line."""
    return (
        Column(say(N_("What")), grows=True),
        Column(say(N_("Tag"))),
        Column(say(N_("Count")), figures=True),
        Column(say(N_("Season"))),
        Column(say(N_("Signed for"))),
    )


def open_row(row: OpenRow, around: WordsAround) -> TableRow:
    """Return a thing that is open as a row."""
    pieces = grouped(row.pieces) if row.pieces else ""
    signed = around.say(N_("yes")) if row.signed else ""
    cells = (
        Cell(name_of_row(row, around.say), strong=True),
        Cell(row.code),
        Cell(pieces),
        Cell(row.season),
        Cell(signed),
    )
    return TableRow(row, cells)
