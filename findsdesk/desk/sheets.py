"""Lists on paper: what is missing, the evening by square, the concordance, what to redo, a page of a register.

Each says which excavation, what, which choice of rows, when with zone, who, and the store's head.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from findsdesk.desk.desk import Desk
from findsdesk.desk.evening import evening
from findsdesk.desk.redoing import WRITTEN_IN_WORDS, ThingToRedo, Written, things_to_redo
from findsdesk.desk.renumbering import concordance
from findsdesk.desk.setting_up import season_now
from findsdesk.desk.unaccounted import unaccounted
from findsdesk.domain.deposits import HOW_NUMBERED_IN_WORDS
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.standings import STANDING_IN_WORDS
from findsdesk.paper import reading_back
from findsdesk.paper.list_kinds import CautionSlip, Column, ListRow, ListSheet, Picture, Section, Signature
from findsdesk.paper.lists import print_list
from findsdesk.paper.stocks import LabelStock, plain_paper
from findsdesk.words import N_, grouped, plural, put

A4 = "a4-plain"


@dataclass(frozen=True, slots=True)
class PrintedList:
    """A list as PDF, with what it is called and how many things stand on it (of things to redo each mark counts)."""

    title: str
    pdf: bytes
    rows: int
    pages: int


@dataclass(frozen=True, slots=True)
class RegisterColumn:
    """A column of a register as it is printed; ``share`` is its width beside the others', numbers stand right."""

    title: str
    share: float = 1.0
    numbers: bool = False


def missing_list(desk: Desk, *, paper: str = A4) -> PrintedList:
    """Return the list of containers that are not here, for the field to search by."""
    say = Wording(desk)
    rows = tuple(
        (
            one.square,
            one.deposit,
            one.number,
            one.code,
            say(STANDING_IN_WORDS[one.standing]),
            one.supervisor,
            say.moment(one.since) if one.since else "",
            "",
        )
        for one in unaccounted(desk)
    )
    columns = (
        Column(say(N_("{Square}")), 0.7),
        Column(say(N_("{Deposit}")), 0.8),
        Column(say(N_("{Container}")), 0.8),
        Column(say(N_("Tag")), 1.3),
        Column(say(N_("Stands as")), 1.0),
        Column(say(N_("Supervisor")), 1.3),
        Column(say(N_("Since")), 1.3),
        Column(say(N_("Found where")), 1.6),
    )
    return printed(
        say,
        paper,
        title=say(N_("Missing list")),
        filter_words=say(N_("Listed or reported missing, and not checked in")),
        columns=columns,
        rows=rows,
        when_empty=say(N_("No {container} is missing.")),
    )


def evening_sheet(desk: Desk, day: date, *, paper: str = A4) -> PrintedList:
    """Return the evening sheet of a day by square: came in, washed, pieces, settled, dates read, notes, questions."""
    say = Wording(desk)
    squares = evening(desk, day)
    rows = tuple(
        (
            one.square or "–",
            grouped(one.came_in),
            grouped(one.washed),
            grouped(one.pieces),
            grouped(one.read),
            "; ".join(one.dates),
            "; ".join(one.notable),
            "; ".join(one.questions),
        )
        for one in squares
    )
    sums = [sum(getattr(one, name) for one in squares) for name in ("came_in", "washed", "pieces", "read")]
    return printed(
        say,
        paper,
        title=say(N_("Evening sheet")),
        filter_words=day.isoformat(),
        columns=(
            Column(say(N_("{Square}")), 0.7),
            Column(say(N_("Came in")), 0.7, "right"),
            Column(say(N_("Washed")), 0.7, "right"),
            Column(say(N_("Count")), 0.8, "right"),
            Column(say(N_("Settled")), 0.7, "right"),
            Column(say(N_("Dates")), 2.4),
            Column(say(N_("Notable")), 2.4),
            Column(say(N_("Questions")), 2.0),
        ),
        rows=rows,
        totals=(say(N_("Total")), *(grouped(one) for one in sums), "", "", ""),
        when_empty=say(N_("Nothing came in, was washed or read on this day.")),
        turned=True,
    )


def concordance_sheet(desk: Desk, *, paper: str = A4) -> PrintedList:
    """Return the concordance: every number of a deposit that changed, what it is now, what is left to write again."""
    say = Wording(desk)
    left = _left_to_write(say, things_to_redo(desk))
    rows = tuple(
        (
            line.number,
            line.now,
            say(HOW_NUMBERED_IN_WORDS[line.how]),
            line.reason,
            line.who,
            say.moment(line.when),
            left.get(line.now, ""),
        )
        for line in concordance(desk)
    )
    return printed(
        say,
        paper,
        title=say(N_("Concordance of {deposits}")),
        filter_words=say(N_("Every number that changed")),
        columns=(
            Column(say(N_("Old number")), 0.8),
            Column(say(N_("Now")), 0.8),
            Column(say(N_("How")), 0.9),
            Column(say(N_("Why")), 2.4),
            Column(say(N_("Who")), 1.1),
            Column(say(N_("When")), 1.3),
            Column(say(N_("To write again for the new number")), 2.0),
        ),
        rows=rows,
        when_empty=say(N_("No {deposit} has changed its number.")),
    )


def _left_to_write(say: Wording, things: Sequence[ThingToRedo]) -> dict[str, str]:
    """Return what is left to write again, in words, by the number a deposit has now."""
    sums: dict[str, Counter[Written]] = {}
    for one in things:
        sums.setdefault(one.deposit, Counter())[one.what] += one.pieces
    words = {what: say(text) for what, text in WRITTEN_IN_WORDS.items()}
    return {
        deposit: ", ".join(f"{words[what]} {grouped(counted[what])}" for what in Written if counted[what])
        for deposit, counted in sums.items()
    }


def redo_sheet(desk: Desk, what: Written | None = None, *, paper: str = A4) -> PrintedList:
    """Return the tags, labels and inked marks to be written again, by deposit; ``what`` chooses one of them."""
    say = Wording(desk)
    things = [one for one in things_to_redo(desk) if what is None or one.what is what]
    chosen = say(N_("Tags, labels and inked marks")) if what is None else say(WRITTEN_IN_WORDS[what])
    return printed(
        say,
        paper,
        title=say(N_("To write again")),
        filter_words=chosen,
        columns=(
            Column(say(N_("{Container}")), 0.7),
            Column(say(N_("What")), 0.9),
            Column(say(N_("Code")), 1.1),
            Column(say(N_("How many")), 0.6, "right"),
            Column(say(N_("Says")), 2.2),
            Column(say(N_("Has to say")), 2.2),
            Column(say(N_("Why")), 1.6),
            Column(say(N_("Done")), 0.5),
        ),
        rows=tuple(_by_deposit(say, things)),
        count=sum(one.pieces for one in things),
        when_empty=say(N_("Nothing has to be written again.")),
        turned=True,
    )


_HEAD_OF_BOXES = N_("Boxes")


def _by_deposit(say: Wording, things: Sequence[ThingToRedo]) -> Iterable[ListRow]:
    head: str | None = None
    heads = [say(_HEAD_OF_BOXES if one.what is Written.BOX else N_("{Deposit} {number}"), number=one.deposit or "–")
             for one in things]  # fmt: skip
    many = Counter[str]()
    for one, its in zip(things, heads, strict=True):
        many[its] += one.pieces
    for one, its in zip(things, heads, strict=True):
        if its != head:
            head = its
            yield Section(its, say.things(many[its]))
        code = one.stands_on
        yield (
            one.number,
            say(WRITTEN_IN_WORDS[one.what]),
            code,
            grouped(one.pieces),
            one.said,
            one.says_now,
            one.why,
            "",
        )


def register_sheet(
    desk: Desk,
    *,
    title: str,
    filter_words: str,
    columns: Sequence[RegisterColumn],
    rows: Iterable[Sequence[str]],
    paper: str = A4,
    turned: bool = False,
) -> PrintedList:
    """Return rows of a register as they are shown, with the words of their filter; the texts are in words already."""
    say = Wording(desk)
    return printed(
        say,
        paper,
        title=title,
        filter_words=filter_words,
        columns=tuple(Column(one.title, one.share, "right" if one.numbers else "left") for one in columns),
        rows=tuple(tuple(row) for row in rows),
        when_empty=say(N_("Nothing is left by this choice.")),
        turned=turned,
    )


class Wording:
    """Puts texts into the paper's language, with the excavation's own words and its time zone."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk
        self.language = desk.facts.settings.paper_language

    def __call__(self, text: str, **facts: object) -> str:
        """Return a marked text in the paper's words."""
        return put(text, self.desk.terms, facts, self.language)

    def excavation(self) -> str:
        """Return whose list it is; the invented excavation says that it is one."""
        name = self.desk.facts.name
        return self(N_("{name} (invented example)"), name=name) if self.desk.facts.example else name

    def moment(self, moment: datetime) -> str:
        """Return a moment as lists write it, in the excavation's zone."""
        return f"{moment.astimezone(self.desk.facts.zone):%Y-%m-%d %H:%M}"

    def things(self, number: int) -> str:
        """Return how many things there are."""
        return plural("{n} thing", "{n} things", number, self.language)


def printed(
    say: Wording,
    paper: str,
    *,
    title: str,
    filter_words: str,
    columns: tuple[Column, ...],
    rows: tuple[ListRow, ...],
    when_empty: str,
    totals: tuple[str, ...] = (),
    count: int | None = None,
    turned: bool = False,
    intro: tuple[str, ...] = (),
    caution: CautionSlip | None = None,
    signatures: tuple[Signature, ...] = (),
    picture: Picture | None = None,
    by_hand: bool = False,
) -> PrintedList:
    """Return a list as PDF; its texts are in the paper's words. ``count`` counts things where rows are not all of them.

    Refusals: ``unknown_paper``.
    """
    desk, season = say.desk, season_now(say.desk)
    sheet = ListSheet(
        title=title,
        excavation=say.excavation(),
        permit=season.permit if season else "",
        columns=columns,
        rows=rows,
        person=desk.person.name,
        moment=desk.now().astimezone(desk.facts.zone),
        head=desk.head(),
        filter_words=filter_words,
        intro=intro,
        totals=totals if rows else (),
        caution=caution,
        signatures=signatures,
        picture=picture,
        when_empty=when_empty,
        turned=turned,
        language=say.language,
        terms=desk.terms,
        by_hand=by_hand,
    )
    pdf = print_list(sheet, paper_named(paper))
    return PrintedList(title, pdf, len(rows) if count is None else count, reading_back.page_count(pdf))


def paper_named(name: str) -> LabelStock:
    """Return a paper for lists by its name; raises ``unknown_paper``."""
    known = plain_paper()
    if name not in known:
        raise Refusal(
            "unknown_paper",
            N_("There is no paper {paper} for lists. There is: {known}."),
            paper=name,
            known=", ".join(known),
        )
    return known[name]
