"""What the page of the season's end says, worked out from what is open; no window needed."""

from __future__ import annotations

from dataclasses import dataclass

from findsdesk.desk.deadlines import DeadlineFacts
from findsdesk.desk.season_end import OpenLine, SeasonEnd
from findsdesk.desk.season_end_words import days_in_words, in_hand_of_row, name_of_row, rule_of
from findsdesk.ui.benches.day.state import NeedRow
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, grouped

_NAMED = 6
"""So many things are named on a line."""


@dataclass(frozen=True, slots=True)
class SeasonEndState:
    """The page in words: its heading, a line for each requirement with something open, the deadlines, what is signed.

    ``seen`` is how many things are open, which goes along with a signature.
    """

    heading: str
    lines: tuple[NeedRow, ...]
    deadlines: tuple[NeedRow, ...]
    signed: tuple[str, ...]
    seen: int
    season: str
    may_sign: bool


def season_end_state(end: SeasonEnd, around: WordsAround) -> SeasonEndState:
    """Work out what the page says."""
    say = around.say
    facts = {"season": end.season, "open": grouped(end.open), "unsigned": grouped(end.unsigned)}
    return SeasonEndState(
        heading=say(N_("Season {season}. Open: {open}, not signed for: {unsigned}"), **facts),
        lines=tuple(_line(line, around) for line in end.lines if line.many),
        deadlines=tuple(_deadline(one, around) for one in end.deadlines),
        signed=tuple(
            say(
                N_("List {number}: {lines} things, signed by {first} and {second}; done since: {done}."),
                number=one.number,
                lines=grouped(one.lines),
                first=one.first,
                second=one.second,
                done=grouped(one.done),
            )
            for one in end.signed
        ),
        seen=end.open,
        season=end.season,
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
    number = in_hand_of_row(line.rows[0]) if line.many == 1 else ""
    return NeedRow(grouped(line.many), text, signed, False, number, line.requirement.bench)


def _deadline(one: DeadlineFacts, around: WordsAround) -> NeedRow:
    day = one.due_on.isoformat() if one.due_on else "–"
    late = one.days_left is not None and one.days_left < 0
    text = f"{one.deliverable} · {rule_of(one, around.say)}"
    return NeedRow(day, text, days_in_words(one, around.say), late)
