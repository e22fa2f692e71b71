"""A discard list on paper: its lines by deposit, their sums, the reasons, and where each of its events is signed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from datetime import datetime

from findsdesk.desk.desk import Desk
from findsdesk.desk.discard_lists import LineFacts, WholeList, discard_list, rule_of_line
from findsdesk.desk.sheets import A4, PrintedList, Wording, printed
from findsdesk.desk.shipped import cautions_at
from findsdesk.desk.word_lists import WordLists, words_of
from findsdesk.domain.cautions import At
from findsdesk.domain.discards import STAGE_IN_WORDS
from findsdesk.paper.list_kinds import CautionSlip, Column, ListRow, Section, Signature
from findsdesk.words import N_, grouped, plural


def discard_sheet(desk: Desk, number: int, *, season: str | None = None, paper: str = A4) -> PrintedList:
    """Return a discard list as PDF; what was called back stands apart and counts in no sum.

    Refusals: ``unknown_list_number``, ``unknown_paper``.
    """
    whole = discard_list(desk, number, season=season)
    say, words, facts = Wording(desk), words_of(desk), whole.facts
    return printed(
        say,
        paper,
        title=say(N_("Discard list {number}"), number=facts.number),
        filter_words=say(N_("Season {season} · {stage}"), season=facts.season, stage=say(STAGE_IN_WORDS[facts.stage])),
        columns=(
            Column(say(N_("{Container}")), 0.8),
            Column(say(N_("Ware")), 0.7),
            Column(say(N_("Part")), 1.5),
            Column(say(N_("Count")), 0.7, "right"),
            Column(say(N_("Grams")), 0.9, "right"),
            Column(say(N_("Why")), 2.0),
            Column(say(N_("Rule of the policy")), 2.2),
        ),
        rows=(*_rows(say, words, whole.standing), *_called_back(say, words, whole)),
        totals=(
            say(N_("Total")),
            "",
            plural("{n} line", "{n} lines", facts.lines, say.language),
            grouped(facts.pieces),
            _grams(facts.tenths) if facts.tenths else "–",
            plural("{n} sherd not weighed", "{n} sherds not weighed", facts.unweighed, say.language)
            if facts.unweighed
            else "",
            "",
        ),
        count=facts.lines,
        when_empty=say(N_("Nothing stands on this list any more.")),
        intro=tuple(_intro(say, words, whole)),
        caution=_caution(say),
        signatures=tuple(_signatures(desk, say, whole)),
    )


def _rows(say: Wording, words: WordLists, lines: Iterable[LineFacts]) -> Iterable[ListRow]:
    of_deposits: dict[tuple[str, str], list[LineFacts]] = {}
    for line in lines:
        of_deposits.setdefault((line.deposit, line.square), []).append(line)
    for (deposit, square), its_lines in of_deposits.items():
        pieces = plural("{n} sherd", "{n} sherds", sum(line.pieces for line in its_lines), say.language)
        where = say(N_("{Deposit} {number} · {square} {name}"), number=deposit or "–", name=square or "–")
        yield Section(where, pieces)
        for line in its_lines:
            why = say(words["discard_reasons"].called(line.reason))
            yield _row(say, words, line, "{}", why)


def _row(say: Wording, words: WordLists, line: LineFacts, figures: str, why: str) -> ListRow:
    """Return a line; ``figures`` is how its count and grams stand: in brackets where they are in no sum."""
    part = say(words["parts"].called(line.part))
    piece = say(N_("piece {number}"), number=line.piece) if line.piece is not None else ""
    return (
        line.number,
        line.ware or "–",
        " · ".join(word for word in (part, piece) if word),
        figures.format(grouped(line.pieces)),
        "–" if line.tenths is None else figures.format(_grams(line.tenths)),
        why,
        rule_of_line(line, say, words) or say(N_("decided at the table")),
    )


def _called_back(say: Wording, words: WordLists, whole: WholeList) -> Iterable[ListRow]:
    """Yield the lines that came off the list, their count and grams in brackets, with when, by whom and why."""
    gone = [line for line in whole.lines if line.called_back_at is not None]
    if gone:
        yield Section(say(N_("Called back or taken off: in no sum")), "")
    for line in gone:
        when = say.moment(line.called_back_at) if line.called_back_at is not None else ""
        why = say(N_("{when} {who}: {why}"), when=when, who=line.called_back_by, why=line.called_back_why)
        yield _row(say, words, line, "({})", why)


def _grams(tenths: int) -> str:
    return f"{tenths / 10:,.1f}"


def _intro(say: Wording, words: WordLists, whole: WholeList) -> Iterable[str]:
    facts = whole.facts
    decided = [f"{name} {grouped(pieces)}" for name, pieces in whole.deciders if name]
    if decided:
        yield say(N_("Decided by (sherds): {people}."), people=", ".join(decided))
    yield say(N_("Listed {moment} by {person}."), moment=say.moment(facts.made_at), person=facts.made_by or "–")
    if facts.signed_at is not None:
        yield say(N_("Signed {moment} by {person}."), moment=say.moment(facts.signed_at), person=facts.signed_by)
    if facts.inspected_at is not None:
        yield say(
            N_("Seen by the inspector, {person}, {moment}."),
            person=facts.inspector,
            moment=say.moment(facts.inspected_at),
        )
    if facts.carried_at is not None:
        yield say(
            N_("Carried away {moment} by {person}: {where}; {how}; marked with: {marker}."),
            moment=say.moment(facts.carried_at),
            person=facts.carried_by,
            where=facts.carried_to,
            how=facts.carried_how,
            marker=facts.marker,
        )
    reasons: Counter[str] = Counter()
    for line in whole.standing:
        reasons[line.reason] += line.pieces
    if reasons:
        said = (f"{say(words['discard_reasons'].called(key))} {grouped(n)}" for key, n in reasons.most_common())
        yield say(N_("Why: {reasons}."), reasons=", ".join(said))


def _caution(say: Wording) -> CautionSlip:
    """Return what holds for those who lift and tip the sherds, as one slip."""
    shown = cautions_at(At.DISCARD)
    first = shown[0]
    rest = [say(first.text), *(f"{say(one.lead)} {say(one.text)}" for one in shown[1:])]
    return CautionSlip(say(first.lead), " ".join(rest))


def _signatures(desk: Desk, say: Wording, whole: WholeList) -> Iterable[Signature]:
    facts = whole.facts
    yield Signature(say(N_("Decided by")), ", ".join(name for name, _pieces in whole.deciders))
    yield Signature(say(N_("Second person")), facts.signed_by, _when(say, facts.signed_at))
    if desk.facts.settings.inspector_signs or facts.inspector:
        yield Signature(say(N_("Inspector")), facts.inspector, _when(say, facts.inspected_at))
    yield Signature(say(N_("Carried away by")), facts.carried_by, _when(say, facts.carried_at))


def _when(say: Wording, moment: datetime | None) -> str:
    return "" if moment is None else say.moment(moment)
