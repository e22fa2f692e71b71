"""The state of the day for an inspector: what stands where, the balance of each material, what is new, what is open."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from findsdesk.desk.balances import WENT, MaterialBalance, where_it_is
from findsdesk.desk.carried_over import carried_now
from findsdesk.desk.certificate import season_balances
from findsdesk.desk.custody_parts import custody_parts
from findsdesk.desk.deposit_facts import DepositFacts, open_deposits
from findsdesk.desk.desk import Desk
from findsdesk.desk.discard_lists import ListFacts, discard_lists
from findsdesk.desk.needs_in_words import needs_in_words
from findsdesk.desk.objects import ObjectFacts, material_with_word
from findsdesk.desk.registers import Register, RegisterQuery, all_rows
from findsdesk.desk.samples import SampleFacts
from findsdesk.desk.sheets import PrintedList, Wording
from findsdesk.desk.the_day import Day, the_day
from findsdesk.desk.whole_papers import NONE, Asked, grams, material_in_words, print_whole
from findsdesk.desk.yard_sheet import needs_parts
from findsdesk.domain.deposits import KINDS
from findsdesk.domain.discards import STAGE_IN_WORDS, Stage
from findsdesk.domain.routes import STANDING_IN_WORDS, Standing
from findsdesk.domain.season_end import STAYS_AS_IN_WORDS
from findsdesk.paper.list_kinds import Column, ListRow, Signature
from findsdesk.paper.report_kinds import Facts, Heading, Part, Table
from findsdesk.words import N_, grouped


def inspector_sheet(now: Desk, asked: Asked) -> PrintedList:
    """Return the state of a day (today where none is asked) as it is shown to an inspector, with lines to sign on."""
    with now.at_one_moment() as desk:
        say, day = Wording(desk), the_day(desk, asked.day)
        return print_whole(
            say,
            asked,
            title=say(N_("State of the day")),
            filter_words=_which_day(say, day),
            parts=lambda: _parts(say, day),
            rows=sum(day.by_standing.values()),
            permit=day.permit,
        )


def _which_day(say: Wording, day: Day) -> str:
    if day.day != say.desk.now().astimezone(say.desk.facts.zone).date():
        text = N_("{day}, season {season}: what was washed is of that day, all else as it stands now")
        return say(text, season=day.season, day=day.day.isoformat())
    facts = {"season": day.season, "day": day.day.isoformat(), "n": day.day_of_season, "of": day.days_of_season}
    if day.day_of_season is None:
        return say(N_("{day}, season {season}"), **facts)
    return say(N_("{day}, season {season}, day {n} of {of}"), **facts)


def _parts(say: Wording, day: Day) -> Iterator[Part]:
    desk = say.desk
    yield Facts(_facts(say, day), columns=2)
    yield Heading(say(N_("{Containers} by standing")), 1)
    yield standing_table(say, day)
    yield from _carried(say)
    yield Heading(say(N_("Balance of the season")), 1)
    yield balance_table(say, season_balances(desk, day.season))
    yield Heading(say(N_("Open {deposits}")), 1)
    yield _open(say, open_deposits(desk))
    yield Heading(say(N_("Objects of the season")), 1)
    yield objects_table(say, objects_of_season(desk, day.season))
    yield Heading(say(N_("Samples that are away")), 1)
    yield samples_table(say, samples_away(desk))
    yield from custody_parts(say)
    yield Heading(say(N_("Discard lists")), 1)
    yield lists_table(say, discard_lists(desk, season=day.season))
    yield Heading(say(N_("Needs a person")), 1)
    yield from needs_parts(say, list(needs_in_words(day.needs, say, desk.facts.zone)))
    yield Signature(say(N_("Director")), desk.facts.director)
    yield Signature(say(N_("Inspector")))


def _facts(say: Wording, day: Day) -> tuple[tuple[str, str], ...]:
    return (
        (say(N_("Permit")), day.permit or NONE),
        (say(N_("Director")), say.desk.facts.director or NONE),
        (say(N_("Washed that day")), grouped(day.washed_today)),
        (say(N_("Counted that day")), grouped(day.pieces_today)),
    )


def _carried(say: Wording) -> Iterator[Part]:
    """Yield what was carried over at the end of a season and stands so still, of all seasons."""
    with say.desk.reading() as reading:
        carried = carried_now(reading.session)
    if any(carried.values()):
        yield Facts(
            tuple((say(STAYS_AS_IN_WORDS[one]).capitalize(), grouped(n)) for one, n in carried.items()), columns=2
        )


def standing_table(say: Wording, day: Day, caption: str = "") -> Table:
    """Return how many containers of the season stand where."""
    rows = [
        (say(STANDING_IN_WORDS[one]), grouped(day.by_standing[one])) for one in Standing if day.by_standing.get(one)
    ]
    columns = (Column(say(N_("Stands as")), 4.0), Column(say(N_("{Containers}")), 1.0, "right"))
    return Table(
        columns,
        lambda: rows,
        totals=(say(N_("Total")), grouped(sum(day.by_standing.values()))),
        when_empty=say(N_("No tag is issued yet.")),
        caption=caption,
    )


def balance_table(say: Wording, found: Sequence[MaterialBalance], caption: str = "") -> Table:
    """Return the ledger of each material on a line; columns of nothing but noughts are left out."""
    ends = [{name: pieces for name, _words, pieces in where_it_is(one.ledger, one.signed, one.over)} for one in found]
    shown = [(name, words) for name, words in WENT if any(one[name] for one in ends)]
    rows: list[ListRow] = [
        (
            material_in_words(one.material, say),
            grouped(one.ledger.expected),
            *(grouped(pieces[name]) for name, _words in shown),
        )
        for one, pieces in zip(found, ends, strict=True)
    ]
    columns = (
        Column(say(N_("Material")), 1.5),
        Column(say(N_("Came in")), 0.9, "right"),
        *(Column(say(words).capitalize(), 1.0, "right") for _name, words in shown),
    )
    return Table(columns, lambda: rows, when_empty=say(N_("Nothing is counted yet.")), caption=caption)


def _open(say: Wording, found: Sequence[DepositFacts]) -> Table:
    rows = [
        (
            one.number,
            one.square,
            say(one.kind) if one.kind in KINDS else one.kind,
            one.opened.isoformat(),
            one.supervisor,
            grouped(one.containers),
        )
        for one in found
    ]
    columns = (
        Column(say(N_("{Deposit}")), 0.8),
        Column(say(N_("{Square}")), 0.7),
        Column(say(N_("Kind")), 1.4),
        Column(say(N_("Opened")), 1.0),
        Column(say(N_("Supervisor")), 1.4),
        Column(say(N_("{Containers}")), 0.8, "right"),
    )
    return Table(columns, lambda: rows, when_empty=say(N_("No {deposit} is open.")))


def objects_of_season(desk: Desk, season: str) -> tuple[ObjectFacts, ...]:
    """Return the objects of a season by number."""
    with desk.reading() as reading:
        return tuple(all_rows(reading, Register.OBJECTS, RegisterQuery(filters=(("season", season),))))


def objects_table(say: Wording, found: Sequence[ObjectFacts], caption: str = "") -> Table:
    """Return objects on lines; those of which the director has not heard yet say so."""
    rows = [
        (
            str(one.number),
            one.what,
            material_with_word(material_in_words(one.material, say), one),
            one.deposit or NONE,
            one.square or NONE,
            say.moment(one.found_at)[:10],
            one.description if one.told_at else "; ".join(filter(None, (one.description, say(N_("not yet seen"))))),
        )
        for one in found
    ]
    columns = (
        Column(say(N_("Object")), 0.6, "right"),
        Column(say(N_("What")), 1.2),
        Column(say(N_("Material")), 1.0),
        Column(say(N_("{Deposit}")), 0.7),
        Column(say(N_("{Square}")), 0.6),
        Column(say(N_("Registered")), 0.9),
        Column(say(N_("Description")), 2.6),
    )
    return Table(columns, lambda: rows, when_empty=say(N_("No object is registered.")), caption=caption)


def samples_away(desk: Desk) -> tuple[SampleFacts, ...]:
    """Return the samples that were sent and are not back."""
    with desk.reading() as reading:
        return tuple(all_rows(reading, Register.SAMPLES, RegisterQuery(filters=(("away", "yes"),))))


def samples_table(say: Wording, found: Sequence[SampleFacts], caption: str = "") -> Table:
    """Return samples on lines, with where they went and what came back."""
    from findsdesk.desk.word_lists import words_of

    purposes = words_of(say.desk)["sample_purposes"]
    rows = [
        (
            str(one.number),
            one.piece or say(N_("{container} {number}"), number=one.container),
            one.deposit or NONE,
            say(purposes.called(one.what_for)),
            grams(one.taken_tenths),
            grouped(one.pieces_used) if one.pieces_used else "",
            " · ".join(part for part in (one.laboratory, one.permit) if part),
            one.sent_on.isoformat() if one.sent_on else "",
            one.back_on.isoformat() if one.back_on else "",
            one.result,
        )
        for one in found
    ]
    columns = (
        Column(say(N_("Sample")), 0.6, "right"),
        Column(say(N_("Of")), 0.9),
        Column(say(N_("{Deposit}")), 0.7),
        Column(say(N_("For")), 1.1),
        Column(say(N_("Grams")), 0.6, "right"),
        Column(say(N_("Sherds used up")), 0.7, "right"),
        Column(say(N_("Laboratory, permit")), 1.3),
        Column(say(N_("Sent")), 0.95),
        Column(say(N_("Back")), 0.95),
        Column(say(N_("Result")), 1.5),
    )
    return Table(columns, lambda: rows, when_empty=say(N_("No sample.")), caption=caption)


def lists_table(say: Wording, found: Sequence[ListFacts], caption: str = "") -> Table:
    """Return discard lists on lines, the oldest first, those that are withdrawn left out."""
    shown = [one for one in sorted(found, key=lambda one: (one.season, one.number)) if one.lines]
    rows = [
        (
            str(one.number),
            say(STAGE_IN_WORDS[Stage(one.stage)]),
            say.moment(one.made_at)[:10],
            one.made_by,
            one.signed_by,
            one.inspector,
            one.carried_to,
            grouped(one.pieces),
            grams(one.tenths) if one.tenths else NONE,
        )
        for one in shown
    ]
    columns = (
        Column(say(N_("List")), 0.5, "right"),
        Column(say(N_("Stands")), 1.2),
        Column(say(N_("Listed")), 0.95),
        Column(say(N_("Listed by")), 1.1),
        Column(say(N_("Signed by")), 1.1),
        Column(say(N_("Inspector")), 1.1),
        Column(say(N_("Carried to")), 1.5),
        Column(say(N_("Count")), 0.7, "right"),
        Column(say(N_("Grams")), 0.9, "right"),
    )
    totals = (
        say(N_("Total")),
        *[""] * 6,
        grouped(sum(one.pieces for one in shown)),
        grams(sum(o.tenths for o in shown)),
    )
    return Table(columns, lambda: rows, totals, say(N_("Nothing is proposed for discard.")), caption)
