"""The register of discards on paper: every list with its three events, its lines, and what was called back."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from findsdesk.desk.desk import Desk
from findsdesk.desk.discard_lists import LineFacts, ListFacts, discard_list, discard_lists, rule_of_line
from findsdesk.desk.sheets import PrintedList, Wording
from findsdesk.desk.whole_papers import NONE, Asked, caution_slip, grams, print_whole
from findsdesk.desk.word_lists import words_of
from findsdesk.domain.cautions import At
from findsdesk.domain.discards import STAGE_IN_WORDS
from findsdesk.paper.list_kinds import Column, ListRow, Signature
from findsdesk.paper.report_kinds import Heading, Part, Table, Words
from findsdesk.words import N_, CountOf, grouped


def discard_register_sheet(now: Desk, asked: Asked) -> PrintedList:
    """Return the register of a season's discards, or of all; lines that were called back say so and count nowhere."""
    with now.at_one_moment() as desk:
        say = Wording(desk)
        lists = sorted(discard_lists(desk, season=asked.season or None), key=lambda one: (one.season, one.number))
        return print_whole(
            say,
            asked,
            title=say(N_("Register of discards")),
            filter_words=say(N_("Season {name}"), name=asked.season) if asked.season else say(N_("All seasons")),
            parts=lambda: _parts(say, lists),
            rows=sum(one.lines for one in lists),
            turned=True,
        )


def _parts(say: Wording, lists: list[ListFacts]) -> Iterator[Part]:
    slip = caution_slip(say, At.DISCARD)
    if slip is not None:
        yield slip
    yield from (Words(line, quiet=True) for line in reasons_in_words(say, lists))
    for facts in lists:
        yield Heading(say(N_("List {number}, season {season}"), number=facts.number, season=facts.season), 1)
        yield Words(_events(say, facts))
        yield _table(say, facts)
    if not lists:
        yield Words(say(N_("Nothing was ever proposed for discard.")))
    pieces, tenths = sum(one.pieces for one in lists), sum(one.tenths for one in lists)
    together = N_("Together {pieces}, {grams} g of those weighed.")
    yield Words(say(together, pieces=CountOf("{n} sherd", "{n} sherds", pieces), grams=grams(tenths)), follows=True)
    yield Signature(say(N_("Director")), say.desk.facts.director)
    if say.desk.facts.settings.inspector_signs:
        yield Signature(say(N_("Inspector")))


def reasons_in_words(say: Wording, lists: list[ListFacts]) -> Iterator[str]:
    """Yield why sherds were discarded, summed over lists; nothing where there are none."""
    reasons: Counter[str] = Counter()
    for facts in lists:
        for line in discard_list(say.desk, facts.number, season=facts.season).standing:
            reasons[line.reason] += line.pieces
    if reasons:
        known = words_of(say.desk)["discard_reasons"]
        said = (f"{say(known.called(key))} {grouped(n)}" for key, n in reasons.most_common())
        yield say(N_("Why: {reasons}."), reasons=", ".join(said))


def _table(say: Wording, facts: ListFacts) -> Table:
    columns = (
        Column(say(N_("{Container}")), 0.8),
        Column(say(N_("{Deposit}")), 0.8),
        Column(say(N_("{Square}")), 0.6),
        Column(say(N_("Ware")), 0.7),
        Column(say(N_("Part")), 1.2),
        Column(say(N_("Count")), 0.7, "right"),
        Column(say(N_("Grams")), 0.9, "right"),
        Column(say(N_("Why")), 1.8),
        Column(say(N_("Rule of the policy")), 2.4),
        Column(say(N_("Called back")), 1.8),
    )
    sums = (grouped(facts.pieces), grams(facts.tenths) if facts.tenths else NONE)
    return Table(columns, lambda: _rows(say, facts), (say(N_("Total")), *[""] * 4, *sums, *[""] * 3))


def _rows(say: Wording, facts: ListFacts) -> Iterator[ListRow]:
    whole = discard_list(say.desk, facts.number, season=facts.season)
    yield from (_row(say, line) for line in whole.lines)
    for note in whole.notes:
        yield (*[""] * 7, f"{say.moment(note.happened_at)} {note.person}", note.text, "")


def _events(say: Wording, facts: ListFacts) -> str:
    """Return the dated events of a list with who."""
    events = [say(N_("listed {moment} by {person}"), moment=say.moment(facts.made_at), person=facts.made_by or NONE)]
    for text, moment, person in (
        (N_("signed {moment} by {person}"), facts.signed_at, facts.signed_by),
        (N_("seen {moment} by the inspector, {person}"), facts.inspected_at, facts.inspector),
        (N_("carried away {moment} by {person}"), facts.carried_at, facts.carried_by),
    ):
        if moment is not None:
            events.append(say(text, moment=say.moment(moment), person=person or NONE))
    if facts.carried_to:
        events.append(say(N_("to {where}"), where=facts.carried_to))
    return ", ".join(events) if facts.signed_at else f"{say(STAGE_IN_WORDS[facts.stage])}, {events[0]}"


def _row(say: Wording, line: LineFacts) -> tuple[str, ...]:
    words = words_of(say.desk)
    piece = say(N_("piece {number}"), number=line.piece) if line.piece is not None else ""
    back = ""
    if line.called_back_at is not None:
        back = f"{say.moment(line.called_back_at)} {line.called_back_by}: {line.called_back_why}"
    return (
        line.number,
        line.deposit or NONE,
        line.square or NONE,
        line.ware or NONE,
        " · ".join(part for part in (say(words["parts"].called(line.part)), piece) if part),
        grouped(line.pieces),
        grams(line.tenths),
        say(words["discard_reasons"].called(line.reason)),
        rule_of_line(line, say, words) or say(N_("decided at the table")),
        back,
    )
