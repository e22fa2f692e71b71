"""What the day page says, worked out from the day's figures; no window needed."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from findsdesk.desk.evening import SquareEvening
from findsdesk.desk.needs import Need
from findsdesk.desk.shipped import route_of
from findsdesk.desk.the_day import Day
from findsdesk.domain.discards import WAITS_IN_WORDS, waits_for
from findsdesk.domain.routes import Hold, Standing
from findsdesk.domain.standings import HOLD_IN_WORDS
from findsdesk.ui import moments_in_words as times
from findsdesk.ui.benches.day.season_words import gone_in_words, together
from findsdesk.ui.widgets.balance_bar import BarPart, Fill
from findsdesk.ui.widgets.step_bars import StepBar
from findsdesk.ui.words_around import WordsAround, first_name, pieces_in_words
from findsdesk.words import N_, grouped, plural

_NUMBERS_SHOWN = 4


@dataclass(frozen=True, slots=True)
class NeedRow:
    """One line of "needs a person": of what, what about it, since when, and the ways to it."""

    head: str
    text: str
    since: str
    late: bool
    number: str = ""
    """A thing to take in hand."""
    bench: str = ""
    """The bench where it is settled."""
    is_reading: bool = False
    """It is answered where the thing is read."""


@dataclass(frozen=True, slots=True)
class SeasonFigures:
    """Every sherd of the season: the bar, its figures, and whether it balances."""

    heading: str
    parts: tuple[BarPart, ...]
    figures: tuple[tuple[str, str], ...]
    together: str
    verdict: str
    balances: bool


@dataclass(frozen=True, slots=True)
class DayState:
    """The whole page in words."""

    going_on: str
    bars: tuple[StepBar, ...]
    needs: tuple[NeedRow, ...]
    season: SeasonFigures
    to_report: bool
    """Whether something expected is not here, so that ending the day reports it missing."""


WAYS: Mapping[str, str] = {
    "expected": "check_in",
    "arrived": "wash",
    "soaking": "wash",
    "drying": "wash",
    "to_sort": "sorting",
    "settled": "labels",
    "bagged": "registers",
}
"""The bench behind each bar."""


def day_state(day: Day, around: WordsAround) -> DayState:
    """Work out what the day page says."""
    return DayState(
        going_on=_going_on(day, around),
        bars=_bars(day, around),
        needs=tuple(need_row(need, around) for need in day.needs),
        season=season_figures(day, around),
        to_report=bool(day.by_standing.get(Standing.LISTED)),
    )


def _going_on(day: Day, around: WordsAround) -> str:
    name = times.long_day(day.day)
    said = around.say(N_("{day}, outside the season"), day=name)
    if day.day_of_season is not None:
        facts = {"day": name, "n": day.day_of_season, "of": day.days_of_season}
        said = around.say(N_("{day}, day {n} of {of}"), **facts)
    if not day.washed_today:
        return said
    counted = plural("{n} counted today", "{n} counted today", day.washed_today)
    return f"{said}: {counted}, {pieces_in_words(route_of(day.material), day.pieces_today)}"


def _bars(day: Day, around: WordsAround) -> tuple[StepBar, ...]:
    say, there, waits = around.say, day.by_standing, day.waits

    def together(*standings: Standing) -> int:
        return sum(there.get(standing, 0) for standing in standings)

    missing, dry = together(Standing.MISSING), waits.dry_waiting
    too_long, bags, held = waits.soaking_too_long, waits.bags_to_label, _held(day)
    return (
        StepBar(
            "expected",
            say(N_("Expected")),
            together(Standing.LISTED, Standing.MISSING),
            say(N_("{n} missing"), n=missing) if missing else "",
            bool(missing),
            "accent",
        ),
        StepBar(
            "arrived",
            say(N_("Checked in")),
            together(Standing.ARRIVED),
            say(N_("{n} held back"), n=held) if held else "",
        ),
        StepBar(
            "soaking",
            say(N_("Soaking")),
            together(Standing.SOAKING),
            say(N_("{n} too long"), n=too_long) if too_long else "",
            bool(too_long),
            "water",
        ),
        StepBar("drying", say(N_("Drying")), together(Standing.WASHED, Standing.DRYING)),
        StepBar(
            "to_sort",
            say(N_("To sort")),
            together(Standing.DRY, Standing.SORTING),
            say(N_("{n} dry and waiting"), n=dry) if dry else "",
        ),
        StepBar(
            "settled",
            say(N_("Settled")),
            together(Standing.SETTLED),
            plural("{n} bag to label", "{n} bags to label", bags) if bags else "",
        ),
        StepBar(
            "bagged",
            say(N_("Bagged")),
            together(Standing.BAGGED),
            say(N_("{n} to mark"), n=grouped(waits.to_mark)) if waits.to_mark else "",
            fill="done",
        ),
    )


def _held(day: Day) -> int:
    return sum(len(need.numbers) for need in day.needs if need.kind == "held")


def need_row(need: Need, around: WordsAround) -> NeedRow:
    """Return one line of "needs a person", with the way to the thing."""
    since = times.since(need.since, around.now, around.zone) if need.since else ""
    make = _ROWS.get(need.kind, _unknown)
    head, text, late, bench = make(need, around)
    if need.kind == "soaking_too_long" and need.since:
        since = times.hours(max(0.0, (around.now - need.since).total_seconds() / 3600))
    # What has a code is found by it: the number of a loan is the number of a container too.
    number = need.facts.get("code") or (need.numbers[0] if len(need.numbers) == 1 else "")
    return NeedRow(head, text, since, late, number, bench, need.kind == "look_again")


_Row = tuple[str, str, bool, str]


def _numbers(need: Need, around: WordsAround) -> str:
    shown = ", ".join(need.numbers[:_NUMBERS_SHOWN])
    more = len(need.numbers) - _NUMBERS_SHOWN
    return around.say(N_("{numbers} and {n} more"), numbers=shown, n=more) if more > 0 else shown


def _not_on_pallet(need: Need, around: WordsAround) -> _Row:
    return _numbers(need, around), around.say(N_("on the field list, not on the pallet")), True, "check_in"


def _too_long(need: Need, around: WordsAround) -> _Row:
    text = around.say(N_("soaking too long (limit {limit} h)"), limit=around.settings.soak_longest_h)
    return _numbers(need, around), text, True, "wash"


def _held_row(need: Need, around: WordsAround) -> _Row:
    why = ", ".join(around.say(HOLD_IN_WORDS[Hold(one)]) for one in need.facts.get("why", ()))
    return _numbers(need, around), around.say(N_("{why}: held for the ceramicist"), why=why), False, "wash"


def _other_deposit(need: Need, around: WordsAround) -> _Row:
    facts = {"tag": need.facts.get("tag", "?"), "list": need.facts.get("list", "?")}
    return _numbers(need, around), around.say(N_("tag says {tag}, list says {list}"), **facts), False, "check_in"


def _rows_aside(need: Need, around: WordsAround) -> _Row:
    n = int(need.facts["n"])
    text = plural("{n} row of the list waits with a question", "{n} rows of the list wait with a question", n)
    return str(need.facts["file"]), text, False, "check_in"


def _clashes(need: Need, around: WordsAround) -> _Row:
    n = int(need.facts["n"])
    text = plural("{n} thing that two stores said differently", "{n} things that two stores said differently", n)
    return around.say(N_("Couriers")), text, False, "set_up"


def _over(need: Need, around: WordsAround) -> _Row:
    text = N_("more sorted than came in: count again")
    return _numbers(need, around), around.say(text), True, "sorting"


def _no_reason(need: Need, around: WordsAround) -> _Row:
    n = int(need.facts["n"])
    text = plural("{n} row decided against a rule, no reason yet", "{n} rows decided against a rule, no reason yet", n)
    return _numbers(need, around), text, False, "sorting"


def _untagged(need: Need, around: WordsAround) -> _Row:
    return _numbers(need, around), around.say(N_("without a readable tag: whose is it?")), False, "check_in"


def _to_redo(need: Need, around: WordsAround) -> _Row:
    n = int(need.facts["n"])
    text = plural("{n} tag, label or mark to write again", "{n} tags, labels or marks to write again", n)
    return str(need.facts["why"]), text, False, "labels"


def _look_again(need: Need, around: WordsAround) -> _Row:
    facts = {"why": need.facts["why"], "who": first_name(need.facts["who"])}
    return _numbers(need, around), around.say(N_("look again, asks {who}: {why}"), **facts), False, "figures"


def _discard_list(need: Need, around: WordsAround) -> _Row:
    head = around.say(N_("Discard list {number}"), number=need.facts["number"])
    waits = waits_for(need.facts["stage"], inspector_signs=around.settings.inspector_signs)
    pieces = plural("{n} sherd", "{n} sherds", int(need.facts["n"]))
    return head, around.say(WAITS_IN_WORDS[waits], pieces=pieces), False, "registers"


def _called_back(need: Need, around: WordsAround) -> _Row:
    pieces = plural("{n} sherd", "{n} sherds", int(need.facts["n"]))
    text = N_("{pieces} off discard list {number}, in no bag: pack them")
    said = around.say(text, pieces=pieces, number=need.facts["number"])
    return _numbers(need, around), said, False, "labels"


def _loan_overdue(need: Need, around: WordsAround) -> _Row:
    head = around.say(N_("Loan {number}"), number=need.numbers[0])
    pieces = plural("{n} piece", "{n} pieces", int(need.facts["n"]))
    days = plural("{n} day overdue", "{n} days overdue", int(need.facts["days"]))
    text = around.say(N_("{pieces} still with {who}, {days}"), pieces=pieces, who=need.facts["who"], days=days)
    return head, text, True, "shelves"


def _missing_on_shelves(need: Need, around: WordsAround) -> _Row:
    missing = plural("{n} box or bag missing", "{n} boxes and bags missing", int(need.facts["n"]))
    text = N_("{missing} since stock-take {number}")
    return str(need.facts["place"]), around.say(text, missing=missing, number=need.facts["number"]), True, "shelves"


def _on_the_way(need: Need, around: WordsAround) -> _Row:
    head = around.say(N_("Transport {number}"), number=need.facts["number"])
    boxes = plural("{n} box or bag", "{n} boxes and bags", int(need.facts["n"]))
    text = N_("{boxes} not met in {place} yet")
    return head, around.say(text, boxes=boxes, place=need.facts["place"]), False, "shelves"


def _new_object(need: Need, around: WordsAround) -> _Row:
    head = around.say(N_("Object {number}"), number=need.facts["number"])
    return head, around.say(N_("{what}: new, for the director"), what=need.facts["what"]), False, "pieces"


def _unknown(need: Need, around: WordsAround) -> _Row:
    return _numbers(need, around) or need.kind, need.kind, False, ""


_ROWS: Mapping[str, Callable[[Need, WordsAround], _Row]] = {
    "not_on_pallet": _not_on_pallet,
    "soaking_too_long": _too_long,
    "held": _held_row,
    "other_deposit": _other_deposit,
    "rows_set_aside": _rows_aside,
    "clashes": _clashes,
    "over": _over,
    "no_reason": _no_reason,
    "untagged": _untagged,
    "look_again": _look_again,
    "new_object": _new_object,
    "discard_list": _discard_list,
    "called_back": _called_back,
    "loan_overdue": _loan_overdue,
    "missing_on_shelves": _missing_on_shelves,
    "on_the_way": _on_the_way,
    "to_redo": _to_redo,
}


def season_figures(day: Day, around: WordsAround) -> SeasonFigures:
    """Return the season's balance as a bar with its figures."""
    say, ledger, route = around.say, day.balance, route_of(day.material)
    gone = ledger.used_up + ledger.moved_out + ledger.not_a_sherd + ledger.not_found
    shown = (
        (ledger.kept, N_("kept"), Fill.SOLID),
        (ledger.discarded - day.signed, N_("discarded, carried away"), Fill.QUIET),
        (ledger.on_hold, N_("on hold"), Fill.ACCENT),
        (day.unsorted, N_("not yet sorted"), Fill.HATCHED),
        (ledger.to_discard, N_("to discard, unsigned"), Fill.RULED),
        (day.signed, N_("to discard, signed for"), Fill.RULED),
        (gone, gone_in_words(ledger, around), Fill.OPEN),
        (day.too_many, N_("over"), Fill.OVER),
    )
    parts = tuple(BarPart(amount, f"{grouped(amount)} {say(text)}", fill) for amount, text, fill in shown)
    kept_in_view = {N_("kept"), N_("discarded, carried away"), N_("on hold"), N_("not yet sorted")}
    figures = tuple((grouped(amount), say(text)) for amount, text, _fill in shown if amount or text in kept_in_view)
    whole = pieces_in_words(route, ledger.expected)
    return SeasonFigures(
        heading=say(N_("{material}: every piece of the season"), material=say(route.name)),
        parts=parts if ledger.expected else (),
        figures=figures if ledger.expected else (),
        together=together(ledger, whole, around) if ledger.expected else "",
        verdict=_verdict(day, around),
        balances=not day.over,
    )


def _verdict(day: Day, around: WordsAround) -> str:
    if not day.balance.expected:
        return around.say(N_("Nothing counted yet. With the first count every piece stands here."))
    if day.over:
        numbers = ", ".join(day.over)
        return around.say(N_("Balances but for {container} {numbers}."), numbers=numbers)
    return around.say(N_("Balances: each can be pointed at."))


@dataclass(frozen=True, slots=True)
class EveningRow:
    """One square's line of the evening."""

    square: str
    came_in: str
    washed: str
    pieces: str
    read: str
    questions: str


def evening_rows(squares: tuple[SquareEvening, ...], around: WordsAround) -> tuple[EveningRow, ...]:
    """Return the evening by square, in words; nothing is written as nothing."""

    def figure(n: int) -> str:
        return grouped(n) if n else "–"

    return tuple(
        EveningRow(
            one.square or around.say(N_("no {square}")),
            figure(one.came_in),
            figure(one.washed),
            figure(one.pieces),
            figure(one.read),
            "; ".join(one.questions),
        )
        for one in squares
    )
