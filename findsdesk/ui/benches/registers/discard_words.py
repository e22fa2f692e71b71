"""A discard list in words: its head, what is known of it, its lines, and what an act on it brought about."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from findsdesk.desk.discard_lists import LineFacts, ListFacts, WholeList, rule_of_line
from findsdesk.domain.discards import STAGE_IN_WORDS, Stage
from findsdesk.ui.models.cells import Cell, Column, TableRow
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, CountOf, grouped, plural

TONES = {Stage.PROPOSED: "ochre", Stage.CARRIED: "muted", Stage.WITHDRAWN: "muted"}


def head_of(facts: ListFacts, around: WordsAround) -> str:
    """Return "Discard list 3, signed"."""
    stage = around.say(STAGE_IN_WORDS[facts.stage])
    return around.say(N_("Discard list {number}, {stage}"), number=facts.number, stage=stage)


def facts_in_words(whole: WholeList, around: WordsAround) -> tuple[tuple[str, str], ...]:
    """Return (what, said) of each fact that is known."""
    facts, say = whole.facts, around.say
    sums = say(N_("{pieces}, {grams} g"), pieces=_sherds(facts.pieces), grams=grams(facts.tenths))
    rest = (
        plural("{n} sherd was not weighed", "{n} sherds were not weighed", facts.unweighed) if facts.unweighed else ""
    )
    where = "; ".join(word for word in (facts.carried_to, facts.carried_how) if word)
    lines = (
        (N_("Season"), facts.season),
        (N_("Stands on it"), " · ".join(word for word in (sums, rest) if word)),
        (N_("Decided"), ", ".join(f"{name} {grouped(pieces)}" for name, pieces in whole.deciders if name)),
        (N_("Made"), _event(facts.made_at, facts.made_by, around)),
        (N_("Signed"), _event(facts.signed_at, facts.signed_by, around)),
        (N_("Inspector"), _event(facts.inspected_at, facts.inspector, around)),
        (N_("Carried away"), _event(facts.carried_at, facts.carried_by, around)),
        (N_("Where to"), where),
        (N_("Marker"), facts.marker),
        *_came_off(whole, around),
        *((N_("Note"), f"{note.text} ({_event(note.happened_at, note.person, around)})") for note in whole.notes),
    )
    return tuple((say(what), said) for what, said in lines if said)


def done_in_words(done: str, before: WholeList, after: WholeList, around: WordsAround) -> str:
    """Return what an act did: with the lines that came off the list where some did, else with those that stand."""
    stand = {line.id for line in after.standing}
    off = [line for line in before.standing if line.id not in stand]
    meant = off or after.standing
    lines = CountOf("{n} line", "{n} lines", len(meant))
    return around.say(done, lines=lines, sherds=_sherds(sum(line.pieces for line in meant)))


def _sherds(n: int) -> CountOf:
    return CountOf("{n} sherd", "{n} sherds", n)


def _came_off(whole: WholeList, around: WordsAround) -> Iterator[tuple[str, str]]:
    """Yield (what, said) of each time lines came off the list: before it was signed they were taken off."""
    acts: dict[tuple[datetime, str, str], int] = {}
    for line in whole.lines:
        if line.called_back_at is not None:
            key = line.called_back_at, line.called_back_by, line.called_back_why
            acts[key] = acts.get(key, 0) + line.pieces
    for (moment, who, why), n in sorted(acts.items()):
        what = N_("Called back") if _was_signed(whole.facts, moment) else N_("Taken off")
        said = N_("{sherds}: {why} ({event})")
        yield what, around.say(said, sherds=_sherds(n), why=why, event=_event(moment, who, around))


def _was_signed(facts: ListFacts, moment: datetime) -> bool:
    return facts.signed_at is not None and facts.signed_at <= moment


def _event(moment: datetime | None, who: str, around: WordsAround) -> str:
    if moment is None:
        return ""
    when = f"{moment.astimezone(around.zone):%Y-%m-%d %H:%M}"
    return around.say(N_("{when} by {who}"), when=when, who=who) if who else when


def grams(tenths: int) -> str:
    """Return dry grams as people read them: 1,234.5."""
    return f"{tenths / 10:,.1f}"


def line_columns(around: WordsAround) -> tuple[Column, ...]:
    """Return the columns of a list's lines."""
    say = around.say
    return (
        Column(say(N_("{Container}"))),
        Column(say(N_("{Deposit}"))),
        Column(say(N_("Ware"))),
        Column(say(N_("Part"))),
        Column(say(N_("Count")), figures=True),
        Column(say(N_("Grams")), figures=True),
        Column(say(N_("Why")), grows=True),
        Column(say(N_("Rule")), grows=True),
    )


def line_row(line: LineFacts, facts: ListFacts, around: WordsAround) -> TableRow:
    """Return a line in words; one that was called back, or taken off, is muted and says why, whole in its tip."""
    back = line.called_back_at is not None
    tone = "muted" if back else ""
    part = around.say(around.lists["parts"].called(line.part))
    piece = around.say(N_("piece {number}"), number=line.piece) if line.piece is not None else ""
    why = around.say(around.lists["discard_reasons"].called(line.reason))
    called = ""
    if line.called_back_at is not None:
        text = N_("called back: {why}") if _was_signed(facts, line.called_back_at) else N_("taken off: {why}")
        called = around.say(text, why=line.called_back_why)
    texts = (
        line.number,
        line.deposit,
        line.ware,
        " · ".join(word for word in (part, piece) if word),
        grouped(line.pieces),
        "" if line.tenths is None else grams(line.tenths),
        called or why,
        rule_of_line(line, around.say, around.lists),
    )
    cells = tuple(Cell(text, tone, strong=place == 0 and not back) for place, text in enumerate(texts))
    return TableRow(line.id, cells, said=called)
