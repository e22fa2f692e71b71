"""What is in hand, put into the words of the dossier: a container or a deposit."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from findsdesk.desk.dossiers import BagInDossier, CountMade, DepositDossier, Dossier
from findsdesk.domain.balance import Ledger
from findsdesk.domain.discards import STAGE_IN_WORDS
from findsdesk.domain.routes import STANDING_IN_WORDS, Route
from findsdesk.domain.standings import HOLD_IN_WORDS
from findsdesk.ui import moments_in_words as times
from findsdesk.ui.answers import Found
from findsdesk.ui.life_in_words import life_steps
from findsdesk.ui.next_step import answer_to, work_ahead
from findsdesk.ui.widgets.dossier_facts import DossierFacts, Section
from findsdesk.ui.words_around import WordsAround, cautions_of, first_name, pieces_in_words
from findsdesk.words import N_, grouped, plural

if TYPE_CHECKING:
    from findsdesk.desk.carried_over import Carried

LEDGER_IN_WORDS: tuple[tuple[str, str], ...] = (
    ("kept", N_("kept")),
    ("on_hold", N_("on hold")),
    ("to_discard", N_("to discard, unsigned")),
    ("discarded", N_("discarded")),
    ("used_up", N_("used up as sample")),
    ("moved_out", N_("moved out")),
    ("not_a_sherd", N_("not a sherd")),
    ("not_found", N_("not found")),
)


def found_in_words(thing: Any, around: WordsAround) -> Found:
    """Return what a scan found as the window shows it: the thing itself, the answer line and the dossier."""
    return Found(thing, answer_to(thing, around), facts_of(thing, around))


def facts_of(thing: Dossier | DepositDossier, around: WordsAround) -> DossierFacts:
    """Return the dossier of what is in hand, in words."""
    return deposit_facts(thing, around) if isinstance(thing, DepositDossier) else container_facts(thing, around)


def container_facts(dossier: Dossier, around: WordsAround) -> DossierFacts:
    """Return a container's dossier in words."""
    say = around.say
    aside = say(N_("{deposit} {number}"), number=dossier.deposit) if dossier.deposit else say(N_("no {deposit} yet"))
    sections = (
        *_questions(dossier, around),
        *_description(dossier, around),
        _counts(dossier, around),
        *_readings(dossier, around),
        *_balance(dossier.ledger, dossier.route, around),
        *_places(dossier, around),
        *_joins(dossier, around),
        *_bags(dossier, around),
        *_discards(dossier, around),
        *_marks(dossier, around),
    )
    return DossierFacts(
        title=say(N_("{Container} {number}"), number=dossier.number),
        aside=aside,
        line=_line(dossier, around),
        asked=_piece(dossier, around),
        life=life_steps(dossier, around),
        sections=sections,
        cautions=cautions_of(dossier.route, work_ahead(dossier), around),
    )


def _line(dossier: Dossier, around: WordsAround) -> str:
    say = around.say
    collected = times.day_in_words(dossier.collected_on, around.today()) if dossier.collected_on else ""
    parts = [
        say(N_("{Square} {name}"), name=dossier.square) if dossier.square else "",
        collected,
        say(dossier.route.name),
        say(N_("by {who}"), who=dossier.supervisor) if dossier.supervisor else "",
        say(N_("provisional number")) if dossier.provisional else "",
        say(N_("tag copy {n}"), n=dossier.tag_copy) if dossier.tag_copy > 1 else "",
        say(N_("season {season}"), season=dossier.season) if _is_earlier_season(dossier, around) else "",
        say(HOLD_IN_WORDS[dossier.held_for]) if dossier.held_for else "",
        carried_in_words(dossier.carried, around) if dossier.carried else "",
    ]
    return ", ".join(part for part in parts if part)


def carried_in_words(carried: Carried, around: WordsAround) -> str:
    """Return how a container was carried over: boxed unread since the end of season 2024."""
    from findsdesk.domain.season_end import STAYS_AS_IN_WORDS

    text = N_("{carried} since the end of season {season}")
    return around.say(text, carried=around.say(STAYS_AS_IN_WORDS[carried.stays_as]), season=carried.season)


def _is_earlier_season(dossier: Dossier, around: WordsAround) -> bool:
    return dossier.collected_on is not None and dossier.collected_on.year != around.today().year


def _piece(dossier: Dossier, around: WordsAround) -> tuple[Section, ...]:
    """Return the piece that was asked for. The words are loaded when there is one: the first scan waits for less."""
    if dossier.piece is None:
        return ()
    from findsdesk.ui.pieces_in_words import piece_sections

    return piece_sections(dossier.piece, around)


def _joins(dossier: Dossier | DepositDossier, around: WordsAround) -> tuple[Section, ...]:
    if not dossier.joins:
        return ()
    from findsdesk.ui.pieces_in_words import join_sections

    return join_sections(dossier.joins, around)


def _readings(dossier: Dossier | DepositDossier, around: WordsAround) -> tuple[Section, ...]:
    if not dossier.readings:
        return ()
    from findsdesk.ui.readings_in_words import readings_in_words

    return tuple(readings_in_words(dossier.readings, around))


def _questions(dossier: Dossier, around: WordsAround) -> tuple[Section, ...]:
    if not dossier.questions:
        return ()
    lines = [
        around.say(N_("The tag says {tag}, the list says {list}: which is it?"), **_plain(question))
        for question in dossier.questions
    ]
    return (Section(around.say(N_("Open question")), "\n".join(lines)),)


def _plain(question: dict[str, Any]) -> dict[str, object]:
    return {"tag": question.get("tag", "?"), "list": question.get("list", "?")}


def _description(dossier: Dossier, around: WordsAround) -> tuple[Section, ...]:
    return (Section(around.say(N_("From the field")), dossier.description),) if dossier.description else ()


def _counts(dossier: Dossier, around: WordsAround) -> Section:
    title = around.say(N_("Its counts"))
    if not dossier.counts:
        none = N_("Not counted yet.") if dossier.route.counted else N_("Not counted: it stays closed.")
        return Section(title, around.say(none))
    *earlier, stands = dossier.counts
    rows = [(around.say(N_("Count")), _count(stands, dossier.route, around))]
    rows += [
        (around.say(N_("First count") if i == 0 else N_("Earlier")), _count(one, dossier.route, around))
        for i, one in enumerate(earlier)
    ]
    return Section(title, rows=tuple(rows))


def _count(count: CountMade, route: Route, around: WordsAround) -> str:
    parts = [pieces_in_words(route, count.pieces)]
    if count.tenths is not None:
        grams = f"{grouped(count.tenths // 10)}.{count.tenths % 10}"
        parts.append(around.say(N_("{grams} g wet") if count.wet else N_("{grams} g"), grams=grams))
    if count.who:
        parts.append(first_name(count.who))
    return ", ".join(parts)


def _balance(ledger: Ledger, route: Route, around: WordsAround) -> tuple[Section, ...]:
    if ledger.expected == 0 or ledger.accounted == 0:
        return ()
    rows = [
        (around.say(text), grouped(getattr(ledger, name))) for name, text in LEDGER_IN_WORDS if getattr(ledger, name)
    ]
    if ledger.over:
        rows.append((around.say(N_("over")), grouped(ledger.over)))
    elif ledger.unsorted:
        rows.append((around.say(N_("not yet sorted")), grouped(ledger.unsorted)))
    whole = pieces_in_words(route, ledger.expected)
    text = N_("{whole}, all accounted for.") if ledger.balances else N_("{whole} came in.")
    return (Section(around.say(N_("Where they are")), around.say(text, whole=whole), rows=tuple(rows)),)


_PLACES = {
    "tub": N_("tub {place}"),
    "tray": N_("tray {place}"),
    "crate": N_("{place}"),
    "held": N_("held for the ceramicist"),
    "yard": N_("in the yard"),
}


def _places(dossier: Dossier, around: WordsAround) -> tuple[Section, ...]:
    """Return where the parts stand, where there is more than one."""
    if len(dossier.stands_at) < 2:
        return ()
    rows = tuple(
        (
            around.say(N_("{part} of {parts}"), part=part.ordinal, parts=part.of),
            around.say(_PLACES.get(part.kind, N_("{place}")), place=part.place),
        )
        for part in dossier.stands_at
    )
    return (Section(around.say(N_("In parts")), rows=rows),)


def _lies(bag: BagInDossier, around: WordsAround) -> str:
    """Return where a bag lies: with whom it is, or its box and place."""
    if bag.lies is None:
        return ""
    box = around.say(N_("box {number}"), number=bag.lies.box) if bag.lies.box is not None else ""
    from findsdesk.desk.not_met import not_met_in_words

    not_met = not_met_in_words(bag.lies.not_met, around.say)
    return bag.lies.away or ", ".join(part for part in (box, bag.lies.place, not_met) if part)


def _bags(dossier: Dossier, around: WordsAround) -> tuple[Section, ...]:
    if not dossier.bags:
        return ()
    rows = tuple(
        (
            f"{bag.code} {bag.what}".strip(),
            pieces_in_words(dossier.route, bag.pieces),
            _lies(bag, around) or around.say(N_("labelled") if bag.labelled else N_("to label")),
        )
        for bag in dossier.bags
    )
    return (Section(around.say(N_("Its bags")), rows=rows),)


def _discards(dossier: Dossier, around: WordsAround) -> tuple[Section, ...]:
    """Return the discard lists on which some of it stands, and where what is gone was carried to."""
    rows = tuple(
        (
            around.say(N_("list {number}, {stage}"), number=one.number, stage=around.say(STAGE_IN_WORDS[one.stage])),
            pieces_in_words(dossier.route, one.pieces),
            one.carried_to,
        )
        for one in dossier.discards
    )
    return (Section(around.say(N_("Its discards")), rows=rows),) if rows else ()


def _marks(dossier: Dossier, around: WordsAround) -> tuple[Section, ...]:
    """Return what is inked on its sherds, a line for each text, with what lies with slips in small bags."""
    lines = []
    for one in dossier.marks:
        parts = [
            plural("{n} marked", "{n} marked", one.written) if one.written else "",
            plural("{n} checked", "{n} checked", one.checked) if one.checked else "",
            plural("{n} with a slip", "{n} with a slip", one.slipped) if one.slipped else "",
        ]
        said = ", ".join(part for part in parts if part)
        if said:
            lines.append(f"{one.said}: {said}")
    return (Section(around.say(N_("Its marks")), "\n".join(lines)),) if lines else ()


def deposit_facts(dossier: DepositDossier, around: WordsAround) -> DossierFacts:
    """Return a deposit's dossier in words."""
    say = around.say
    opened = times.day_in_words(dossier.opened, around.today())
    closed = times.day_in_words(dossier.closed, around.today()) if dossier.closed else ""
    span = (
        say(N_("open since {day}"), day=opened) if not closed else say(N_("{start} to {end}"), start=opened, end=closed)
    )
    who = say(N_("by {who}"), who=dossier.supervisor) if dossier.supervisor else ""
    line = ", ".join(part for part in (say(dossier.kind), say(dossier.security), span, who) if part)
    was = dossier.asked_for.casefold() != dossier.number.casefold() and dossier.asked_for
    sections = []
    if was:
        sections.append(Section(say(N_("Once")), say(N_("{old} is now {number}."), old=was, number=dossier.number)))
    if dossier.description:
        sections.append(Section(say(N_("From the field")), dossier.description))
    sections += _readings(dossier, around)
    rows = tuple((number, say(STANDING_IN_WORDS[standing])) for number, _material, standing in dossier.containers)
    none = "" if rows else say(N_("No {container} came from it yet."))
    sections += _joins(dossier, around)
    sections.append(Section(say(N_("Its {containers}")), none, rows))
    return DossierFacts(
        title=say(N_("{Deposit} {number}"), number=dossier.number),
        aside=say(N_("{square} {name}"), name=dossier.square),
        line=line,
        sections=tuple(sections),
    )
