"""Day sheets to fill in by hand on a day without power: check-in, tubs, counts, sorting; entered later as written."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from findsdesk.desk.desk import Desk
from findsdesk.desk.registers import Register, RegisterQuery, all_rows
from findsdesk.desk.setting_up import wares
from findsdesk.desk.sheets import PrintedList, Wording
from findsdesk.desk.whole_papers import NONE, Asked, caution_slip, print_whole
from findsdesk.desk.word_lists import words_of
from findsdesk.domain.cautions import At
from findsdesk.domain.routes import STANDING_IN_WORDS, Standing
from findsdesk.paper.list_kinds import CautionSlip, Column, ListRow, Signature
from findsdesk.paper.report_kinds import Heading, Part, Table, Words
from findsdesk.words import N_

LINE = 9.0
"""Millimetres a line is high that is filled in by hand."""
_IN_THE_YARD = (Standing.ARRIVED, Standing.SOAKING, Standing.WASHED, Standing.DRYING)
_DAY = N_("Day: ____________________")
_LATER = N_("Write the time of each line. With power again all is entered with the day and the time written here.")


def blank_day_sheets(now: Desk, asked: Asked) -> PrintedList:
    """Return the sheets of one day; without a day they leave its line blank. What is in the yard stands on them."""
    with now.at_one_moment() as desk:
        say = Wording(desk)
        waiting = len(list(_in_the_yard(say)))
        return print_whole(
            say,
            asked,
            title=say(N_("Day sheets")),
            filter_words=asked.day.isoformat() if asked.day else say(_DAY),
            parts=lambda: _parts(say),
            rows=waiting,
        )


def _parts(say: Wording) -> Iterator[Part]:
    yield from _form(say, N_("Check-in"), At.CHECK_IN, _check_in(say), 21, fresh=False)
    yield from _form(say, N_("Tubs"), At.SOAK, _tubs(say), 20)
    yield from _form(say, N_("Washed and counted"), At.WASH, _counts(say), 6, lambda: _in_the_yard(say))
    yield from _sorting(say)
    yield from _form(say, N_("Objects, questions, what else happened"), None, _else(say), 22)
    yield Signature(say(N_("Entered by")))


def _form(
    say: Wording,
    title: str,
    work: At | None,
    columns: tuple[Column, ...],
    blank: int,
    given: Callable[[], Iterable[ListRow]] = tuple,
    *,
    fresh: bool = True,
) -> Iterator[Part]:
    """Yield one sheet: its title, the caution of its work, its rows known beforehand, and blank ones."""
    yield Heading(say(title), fresh=fresh)
    slip = _short(say, work) if work else None
    if slip is not None:
        yield slip
    yield Words(say(_LATER), quiet=True)

    def rows() -> Iterator[ListRow]:
        yield from given()
        yield from [("",) * len(columns)] * blank

    yield Table(columns, rows, least=LINE, ruled=True)


def _short(say: Wording, work: At) -> CautionSlip | None:
    return caution_slip(say, work, "pottery")


def _in_the_yard(say: Wording) -> Iterator[ListRow]:
    query = RegisterQuery(filters=tuple(("standing", one.value) for one in _IN_THE_YARD))
    with say.desk.reading() as reading:
        for row in all_rows(reading, Register.CONTAINERS, query):
            stands = say(STANDING_IN_WORDS[row.standing])
            yield (row.number, row.deposit or NONE, stands, "", "", "", "", "")


def _check_in(say: Wording) -> tuple[Column, ...]:
    return (
        Column(say(N_("Time")), 0.7),
        Column(say(N_("Tag or number")), 1.3),
        Column(say(N_("{Deposit}")), 0.9),
        Column(say(N_("{Square}")), 0.7),
        Column(say(N_("Material")), 1.1),
        Column(say(N_("Dug on")), 0.9),
        Column(say(N_("Remarks")), 2.4),
    )


def _tubs(say: Wording) -> tuple[Column, ...]:
    return (
        Column(say(N_("Tub")), 0.6),
        Column(say(N_("{Container}")), 1.0),
        Column(say(N_("Looked at, by")), 1.3),
        Column(say(N_("In at")), 0.8),
        Column(say(N_("Out at")), 0.8),
        Column(say(N_("Held back, why")), 1.6),
        Column(say(N_("Remarks")), 1.8),
    )


def _counts(say: Wording) -> tuple[Column, ...]:
    return (
        Column(say(N_("{Container}")), 0.9),
        Column(say(N_("{Deposit}")), 0.8),
        Column(say(N_("Stands as")), 0.9),
        Column(say(N_("Count")), 0.8),
        Column(say(N_("Counted again")), 0.9),
        Column(say(N_("Tray")), 0.6),
        Column(say(N_("Time")), 0.7),
        Column(say(N_("By")), 1.1),
    )


def _sorting(say: Wording) -> Iterator[Part]:
    columns = (
        Column(say(N_("{Container}")), 0.9),
        Column(say(N_("Ware")), 0.7),
        Column(say(N_("Part")), 0.8),
        Column(say(N_("Form")), 0.8),
        Column(say(N_("Count")), 0.7),
        Column(say(N_("Grams")), 0.8),
        Column(say(N_("Keep, discard, hold")), 1.0),
        Column(say(N_("Why, remarks")), 1.9),
    )
    words = words_of(say.desk)
    codes = ", ".join(f"{ware.code} {ware.name}" for ware in wares(say.desk)) or NONE
    parts = ", ".join(say(term.name) for term in words["parts"].in_use)
    known = (say(N_("Wares: {wares}"), wares=codes), say(N_("Parts: {parts}"), parts=parts))
    form = list(_form(say, N_("Sorting"), At.SORT, columns, 44))
    yield from (*form[:-1], *(Words(line, quiet=True) for line in known), form[-1])


def _else(say: Wording) -> tuple[Column, ...]:
    return (
        Column(say(N_("Time")), 0.6),
        Column(say(N_("{Container} or {deposit}")), 1.2),
        Column(say(N_("What")), 4.0),
        Column(say(N_("Who")), 1.0),
    )
