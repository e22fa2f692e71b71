"""The list for the marking table: what to ink on how many sherds, where not, how long it becomes, room for ticks."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from findsdesk.desk.desk import Desk
from findsdesk.desk.mark_lines import DepositMarks, MarkLine, mark_lines, progress_of
from findsdesk.desk.sheets import A4, PrintedList, Wording, printed
from findsdesk.desk.shipped import cautions_at
from findsdesk.domain.cautions import At
from findsdesk.domain.marks import SMALLEST_MARKED_MM
from findsdesk.paper.list_kinds import CautionSlip, Column, ListRow, Section
from findsdesk.words import N_, grouped

WHERE_TO_WRITE = N_(
    "Inside, on the surface: never on a break, a crack, paint or slip, where the pot stands, or on its profile line."
)
"""British guidance on procedures and the Collections Trust's booklet, both as the trade notes quote them; the line of
the profile is common practice."""
IN_THREE_COATS = N_(
    "Base coat (B-72 in acetone), ink (black; white on dark), top coat (B-67 in white spirit): each dries first."
)
"""The Collections Trust's booklet and Louisiana's guidance, both as the trade notes quote them."""
TOO_SMALL = N_("Too small, painted or flaking: no ink, but a slip with the mark in a small bag with it.")
CHECKING = N_("A second person checks one in {n}, and all of a {container} once one is wrong.")


def marking_sheet(desk: Desk, deposit: str | None = None, *, paper: str = A4, all_lines: bool = False) -> PrintedList:
    """Return the list for the marking table, by deposit with how far each has come.

    ``all_lines`` is True for what is done, too, beside what is still to be written, checked or inked again. The
    caution about solvents stands at its head. Refusals: those of ``mark_lines``, ``unknown_paper``.
    """
    say = Wording(desk)
    every_line = mark_lines(desk, deposit, open_only=not all_lines)
    lines = [line for line in every_line if all_lines or not line.is_done]
    every = say(N_("Kept sherds of sorted {containers}"))
    chosen = say(N_("Kept sherds of {deposit} {number}"), number=every_line[0].deposit if every_line else deposit)
    return printed(
        say,
        paper,
        title=say(N_("Marking list")),
        filter_words=every if deposit is None else chosen,
        columns=(
            Column(say(N_("{Container}")), 0.8),
            Column(say(N_("Mark")), 2.2),
            Column(say(N_("Longest line")), 0.8, "right"),
            Column(say(N_("Sherds from")), 0.8, "right"),
            Column(say(N_("Kept")), 0.6, "right"),
            Column(say(N_("To mark")), 0.6, "right"),
            Column(say(N_("Ink again")), 0.6, "right"),
            Column(say(N_("No ink on")), 0.7, "right"),
            Column(say(N_("In slip bags")), 0.6, "right"),
            Column(say(N_("Written by")), 1.2),
            Column(say(N_("Checked by")), 1.2),
        ),
        rows=tuple(_by_deposit(say, every_line, lines)),
        totals=_totals(say, lines),
        count=len(lines),
        when_empty=say(N_("No sorted {container} has kept sherds to mark.")),
        intro=tuple(_how(say)),
        caution=solvents(say),
        turned=True,
        by_hand=True,
    )


def _totals(say: Wording, lines: Sequence[MarkLine]) -> tuple[str, ...]:
    tallies = [line.tally for line in lines]
    sums = (
        sum(one.kept for one in tallies),
        sum(one.left for one in tallies),
        sum(one.outdated for one in tallies),
        sum(line.no_ink for line in lines),
        sum(one.slipped for one in tallies),
    )
    return (say(N_("Total")), "", "", "", *(grouped(n) if n else "" for n in sums), "", "")


def _how(say: Wording) -> Iterator[str]:
    settings = say.desk.facts.settings
    yield say(WHERE_TO_WRITE)
    yield say(IN_THREE_COATS)
    yield say(TOO_SMALL)
    yield say(
        N_("Lettering {height} mm high. “Sherds from”: the smallest that takes the mark, never under {cm} cm."),
        height=f"{settings.lettering_tenths_mm / 10:g}",
        cm=SMALLEST_MARKED_MM // 10,
    )
    if settings.marks_checked_one_in:
        yield say(CHECKING, n=settings.marks_checked_one_in)


def solvents(say: Wording) -> CautionSlip | None:
    """Return the caution that stands at the marking table."""
    shown = cautions_at(At.MARK)
    return CautionSlip(say(shown[0].lead), say(shown[0].text)) if shown else None


def _by_deposit(say: Wording, every: Sequence[MarkLine], lines: Sequence[MarkLine]) -> Iterator[ListRow]:
    """Yield each deposit of the lines with how far all of it has come, and its lines."""
    shown = {line.deposit for line in lines}
    for of in progress_of(every):
        if of.deposit not in shown:
            continue
        title = say(N_("{Deposit} {number}"), number=of.deposit or "–")
        yield Section(title, _progress(say, of))
        for line in lines:
            if line.deposit == of.deposit:
                yield _row(say, line)


def _progress(say: Wording, of: DepositMarks) -> str:
    facts = {"marked": grouped(of.marked), "wanted": grouped(of.wanted), "checked": grouped(of.checked)}
    return say(N_("{marked} of {wanted} marked, {checked} checked"), **facts)


def _row(say: Wording, line: MarkLine) -> ListRow:
    tally = line.tally
    return (
        line.number,
        line.text,
        f"{-(-line.length_tenths // 10)} mm",
        f"{line.smallest_mm} mm",
        grouped(tally.kept),
        grouped(tally.left),
        grouped(tally.outdated) if tally.outdated else "",
        grouped(line.no_ink) if line.no_ink else "",
        grouped(tally.slipped) if tally.slipped else "",
        say(N_("{n} written"), n=grouped(tally.written)) if tally.written else "",
        say(N_("{n} checked"), n=grouped(tally.checked)) if tally.checked else "",
    )
