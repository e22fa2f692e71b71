"""The daily yard sheet: what lies in tubs and trays now, what is held, what waits, and what needs a person."""

from __future__ import annotations

from collections.abc import Iterator

from findsdesk.desk.desk import Desk
from findsdesk.desk.needs_in_words import HOLD_IN_WORDS, needs_in_words
from findsdesk.desk.registers import Register, RegisterQuery, all_rows
from findsdesk.desk.sheets import PrintedList, Wording
from findsdesk.desk.the_day import Day, the_day
from findsdesk.desk.whole_papers import NONE, Asked, caution_slip, material_in_words, print_whole
from findsdesk.desk.yard import Yard, yard
from findsdesk.domain.cautions import At
from findsdesk.domain.routes import STANDING_IN_WORDS, Standing
from findsdesk.paper.list_kinds import Column, ListRow, Signature
from findsdesk.paper.report_kinds import Facts, Heading, Part, Table, Words
from findsdesk.words import N_, grouped

SOAK_IN_WORDS = {"too short": N_("too short"), "ready": N_("ready"), "too long": N_("too long")}
_ARRIVED = RegisterQuery(filters=(("standing", Standing.ARRIVED.value),))


def yard_sheet(now: Desk, asked: Asked) -> PrintedList:
    """Return the sheet that hangs in the yard: it says how the yard stands now, whatever day is asked."""
    with now.at_one_moment() as desk:
        say, stands, day = Wording(desk), yard(desk), the_day(desk)
        slips = sum(len(slips) for _tub, slips in stands.tubs)
        return print_whole(
            say,
            asked,
            title=say(N_("Yard sheet")),
            filter_words=say(N_("{day}, as the yard stands now"), day=day.day.isoformat()),
            parts=lambda: _parts(say, stands, day),
            rows=slips + len(stands.held) + day.waits.on_pallet,
        )


def _parts(say: Wording, stands: Yard, day: Day) -> Iterator[Part]:
    slip = caution_slip(say, At.SOAK, "pottery")
    if slip is not None:
        yield slip
    yield Facts(_facts(say, stands, day), columns=3)
    yield Heading(say(N_("In the tubs")), 1)
    yield _tubs(say, stands)
    yield Heading(say(N_("In the trays")), 1)
    yield _trays(say, stands)
    yield Heading(say(N_("Held for the ceramicist")), 1)
    yield _held(say, stands)
    yield Heading(say(N_("Checked in and waiting")), 1)
    yield _waiting(say)
    yield Heading(say(N_("Needs a person")), 1)
    lines = list(needs_in_words(day.needs, say, say.desk.facts.zone))
    yield from needs_parts(say, lines)
    yield Signature(say(N_("Wash lead")))


def needs_parts(say: Wording, lines: list[tuple[str, str]]) -> Iterator[Part]:
    """Yield the table of what needs a person."""
    if not lines:
        yield Words(say(N_("Nothing needs a person.")))
        return
    columns = (Column(say(N_("What")), 5.0), Column(say(N_("Since")), 1.2), Column(say(N_("Done")), 0.7))
    yield Table(columns, lambda: [(line, since, "") for line, since in lines])


def _facts(say: Wording, stands: Yard, day: Day) -> tuple[tuple[str, str], ...]:
    behind = stands.days_behind
    return (
        (say(N_("Washed today")), grouped(stands.counted_today)),
        (say(N_("Pieces today")), grouped(stands.pieces_today)),
        (say(N_("Checked in and waiting")), grouped(day.waits.on_pallet)),
        (say(N_("Of those for water")), grouped(day.waits.for_water)),
        (say(N_("In the tubs")), grouped(day.waits.soaking)),
        (say(N_("Too long in a tub")), grouped(day.waits.soaking_too_long)),
        (say(N_("Days behind the trench")), NONE if behind is None else str(behind)),
        (say(N_("Dry, to be sorted")), grouped(day.waits.dry_waiting)),
        (say(N_("Next from the tubs")), ", ".join(stands.next_from_tubs) or NONE),
        (say(N_("Next free tray")), stands.next_tray or NONE),
    )


def _tubs(say: Wording, stands: Yard) -> Table:
    rows: list[ListRow] = [
        (
            tub,
            slip.number,
            slip.deposit or NONE,
            say(N_("{n} of {of}"), n=slip.part, of=slip.parts) if slip.parts > 1 else "",
            f"{slip.hours:.0f} h",
            say(SOAK_IN_WORDS.get(slip.state, slip.state)),
            "",
            "",
        )
        for tub, slips in stands.tubs
        for slip in slips
    ]
    columns = (
        Column(say(N_("Tub")), 0.5),
        Column(say(N_("{Container}")), 0.9),
        Column(say(N_("{Deposit}")), 0.9),
        Column(say(N_("Part")), 0.7),
        Column(say(N_("Soaked")), 0.7, "right"),
        Column(say(N_("Stands")), 0.9),
        Column(say(N_("Washed by")), 1.4),
        Column(say(N_("Count")), 0.9),
    )
    return Table(columns, lambda: rows, when_empty=say(N_("The tubs are empty.")))


def _trays(say: Wording, stands: Yard) -> Table:
    rows = [
        (
            card.tray,
            card.number,
            say(STANDING_IN_WORDS[card.standing]) if card.standing else "",
            say.moment(card.since) if card.since else "",
            say.moment(card.dry_from) if card.dry_from else "",
            "",
        )
        for card in stands.trays
        if card.standing is not None
    ]
    columns = (
        Column(say(N_("Tray")), 0.5),
        Column(say(N_("{Container}")), 0.9),
        Column(say(N_("Stands")), 1.0),
        Column(say(N_("Since")), 1.3),
        Column(say(N_("Dry from")), 1.3),
        Column(say(N_("Dry, taken by")), 1.4),
    )
    return Table(columns, lambda: rows, when_empty=say(N_("All trays are free.")))


def _held(say: Wording, stands: Yard) -> Table:
    rows = [
        (one.number, one.deposit or NONE, say(HOLD_IN_WORDS.get(one.held_for, one.held_for)), say.moment(one.since), "")
        for one in stands.held
    ]
    columns = (
        Column(say(N_("{Container}")), 0.9),
        Column(say(N_("{Deposit}")), 0.9),
        Column(say(N_("Why")), 1.4),
        Column(say(N_("Since")), 1.3),
        Column(say(N_("Ceramicist says")), 2.0),
    )
    return Table(columns, lambda: rows, when_empty=say(N_("Nothing is held back.")))


def _waiting(say: Wording) -> Table:
    def rows() -> Iterator[ListRow]:
        with say.desk.reading() as reading:
            for row in all_rows(reading, Register.CONTAINERS, _ARRIVED):
                if row.held_for is None:
                    arrived = say.moment(row.arrived_at) if row.arrived_at else ""
                    material = material_in_words(row.material, say)
                    yield (row.number, row.deposit or NONE, row.square or NONE, material, arrived, "")

    columns = (
        Column(say(N_("{Container}")), 0.9),
        Column(say(N_("{Deposit}")), 0.9),
        Column(say(N_("{Square}")), 0.8),
        Column(say(N_("Material")), 1.3),
        Column(say(N_("Arrived")), 1.3),
        Column(say(N_("Looked at, where to")), 1.8),
    )
    return Table(columns, rows, when_empty=say(N_("Nothing waits for its look or its water.")))
