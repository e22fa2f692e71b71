"""Joins across deposits on paper: which deposits share pots, by how many joins of which pieces, what that says."""

from __future__ import annotations

from findsdesk.desk.desk import Desk
from findsdesk.desk.joins import JoinsBetween, joins_between_deposits
from findsdesk.desk.sheets import A4, PrintedList, Wording, printed
from findsdesk.domain.cross_joins import JOINS_SAY_IN_WORDS
from findsdesk.paper.list_kinds import Column
from findsdesk.words import N_, grouped


def joins_sheet(desk: Desk, *, paper: str = A4) -> PrintedList:
    """Return the joins that cross deposits as PDF, the most joins first. Refusal: ``unknown_paper``."""
    say = Wording(desk)
    return printed(
        say,
        paper,
        title=say(N_("Joins across {deposits}")),
        filter_words=say(N_("All seasons; whether pots were filled in together or one {deposit} cuts another")),
        columns=(
            Column(say(N_("{Deposit}")), 0.8),
            Column(say(N_("and")), 0.8),
            Column(say(N_("Joins")), 0.5, "right"),
            Column(say(N_("Certain")), 0.6, "right"),
            Column(say(N_("Pieces")), 2.2),
            Column(say(N_("What it says")), 2.8),
        ),
        rows=tuple(_row(say, one) for one in joins_between_deposits(desk)),
        when_empty=say(N_("No join crosses two {deposits}.")),
    )


def _row(say: Wording, pair: JoinsBetween) -> tuple[str, ...]:
    none = say(N_("no {deposit}"))
    return (
        pair.one or none,
        pair.other or none,
        grouped(pair.joins),
        grouped(pair.certain),
        ", ".join(pair.pieces),
        say(JOINS_SAY_IN_WORDS[pair.says]),
    )
