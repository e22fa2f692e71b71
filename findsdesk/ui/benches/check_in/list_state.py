"""A field list as it is looked at before it is taken in: what becomes of each row, its columns, and what is asked."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

from findsdesk.desk.desk import Desk
from findsdesk.desk.field_lists import ListLook, ListTaken, look_at_list
from findsdesk.desk.list_checks import CheckedRow, Fate
from findsdesk.desk.list_tables import list_table
from findsdesk.desk.shipped import routes
from findsdesk.domain.field_lists import COLUMNS, DayOrder, DecimalSign, column_in_words, match_columns
from findsdesk.domain.raw_tables import RawTable
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.models.cells import Cell, TableRow
from findsdesk.ui.table_preview import PreviewState
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, grouped, plural

MOST_SHOWN = 500
"""Rows shown of a list; those with questions come first where there are more."""
_GIVEN = ("material", "collected_on")
"""What may be told once for a whole list that lacks the column."""


@dataclass(frozen=True, slots=True)
class ListAsk:
    """How a list is to be read: everything a person chose so far."""

    path: Path
    encoding: str | None = None
    sheet: str | None = None
    columns: Mapping[str, str] | None = None
    """Header to column, where somebody matched by hand; "" for not used."""
    given: Mapping[str, str] = field(default_factory=dict)
    day_order: DayOrder | None = None
    decimal: DecimalSign | None = None

    def answered(self, code: str, choice: str) -> ListAsk:
        """Return the ask with the answer to a question about the whole list."""
        if code == "encoding_unsure":
            return replace(self, encoding=choice)
        if code == "day_order_unsure":
            return replace(self, day_order="mdy" if choice == "mdy" else "dmy")
        return replace(self, decimal="," if choice == "," else ".")


@dataclass(frozen=True, slots=True)
class ListSeen:
    """A list as it was looked at, or why it cannot be read yet."""

    ask: ListAsk
    table: RawTable | None = None
    remembered: Mapping[str, str] | None = None
    look: ListLook | None = None
    no: Refusal | None = None


def look(desk: Desk, ask: ListAsk) -> ListSeen:
    """Look at a list; runs on the reading lane and refuses nothing: what is wrong comes back to be shown."""
    try:
        seen = look_at_list(
            desk,
            ask.path,
            encoding=ask.encoding,
            sheet=ask.sheet,
            columns=ask.columns,
            given=ask.given,
            day_order=ask.day_order,
            decimal=ask.decimal,
        )
    except Refusal as no:
        return _unread(desk, ask, no)
    return ListSeen(ask, seen.table, look=seen)


def _unread(desk: Desk, ask: ListAsk, no: Refusal) -> ListSeen:
    """Return what can be seen of a list that cannot be read yet: its headers, so that they can be matched by hand."""
    try:
        seen = list_table(desk, ask.path, encoding=ask.encoding, sheet=ask.sheet)
    except Refusal:
        return ListSeen(ask, no=no)
    return ListSeen(ask, seen.table, seen.remembered, no=no)


_SHOWN_COLUMNS = ("deposit", "square", "collected_on", "supervisor", "material", "description")


def preview_state(seen: ListSeen, around: WordsAround) -> PreviewState:
    """Work out what the preview says."""
    fates = dict.fromkeys(Fate, 0)
    for row in seen.look.rows if seen.look else ():
        fates[row.fate] += 1
    shown = _in_order(seen.look.rows) if seen.look else ()
    names = _shown_columns(seen)
    headings = [around.say(N_("{Container}")), *(_column(name, around) for name in names[1:])]
    return PreviewState(
        title=seen.ask.path.name,
        summary=_summary(seen, fates, around),
        notes=_notes(seen, around),
        headings=(around.say(N_("Line")), headings[0], around.say(N_("What becomes of it")), *headings[1:]),
        rows=tuple(_row(row, names, around) for row in shown[:MOST_SHOWN]),
        left_out=max(0, len(shown) - MOST_SHOWN),
        act=_act(fates, around),
        can_take=seen.look is not None and bool(fates[Fate.NEW] or fates[Fate.ASIDE]),
        refusal=seen.no.in_words(around.terms) if seen.no and not isinstance(seen.no, Question) else "",
        question=seen.no.in_words(around.terms) if isinstance(seen.no, Question) else "",
        choices=_choices(seen.no, around),
        matching=_matching(seen, around),
        missing=_missing(seen),
        sheets=seen.table.sheets if seen.table else (),
        sheet=(seen.table.sheet or "") if seen.table else "",
    )


def _column(name: str, around: WordsAround) -> str:
    words = column_in_words(name, around.terms)
    return words[:1].upper() + words[1:]


def _in_order(rows: Sequence[CheckedRow]) -> tuple[CheckedRow, ...]:
    """Return the rows as the list has them; of a long list those that ask come first, so that they are seen."""
    if len(rows) <= MOST_SHOWN:
        return tuple(rows)
    order = {Fate.ASIDE: 0, Fate.NEW: 1, Fate.SAME: 2}
    return tuple(sorted(rows, key=lambda row: order[row.fate]))


def _summary(seen: ListSeen, fates: Mapping[Fate, int], around: WordsAround) -> str:
    if seen.look is None:
        return ""
    parts = []
    if fates[Fate.NEW]:
        parts.append(plural("{n} row goes in", "{n} rows go in", fates[Fate.NEW]))
    if fates[Fate.ASIDE]:
        text = plural("{n} waits with a question", "{n} wait with a question", fates[Fate.ASIDE])
        parts.append(text)
    if fates[Fate.SAME]:
        parts.append(plural("{n} is in already", "{n} are in already", fates[Fate.SAME]))
    said = ", ".join(parts)
    if seen.look.taken_before is not None:
        day = seen.look.taken_before.astimezone(around.zone)
        return around.say(N_("Taken in before, {when}: {said}."), when=f"{day:%Y-%m-%d %H:%M}", said=said)
    return f"{said[:1].upper()}{said[1:]}."


def _notes(seen: ListSeen, around: WordsAround) -> tuple[str, ...]:
    return tuple(note.in_words(around.terms) for note in seen.look.listed.notes) if seen.look else ()


def _shown_columns(seen: ListSeen) -> tuple[str, ...]:
    """Return the columns that the list has, or that were told for all its rows."""
    mapping = seen.look.listed.match.mapping if seen.look else {}
    return ("number", *(name for name in _SHOWN_COLUMNS if name in mapping or name in seen.ask.given))


def _row(checked: CheckedRow, names: Sequence[str], around: WordsAround) -> TableRow:
    row = checked.row
    texts = {
        "number": row.number,
        "deposit": row.deposit,
        "square": row.square,
        "collected_on": row.collected_on.isoformat() if row.collected_on else "",
        "supervisor": row.supervisor,
        "material": around.say(routes()[row.material].name) if row.material in routes() else row.material,
        "description": row.description,
    }
    fate, tone = _fate(checked, around)
    number, *others = (Cell(texts[name], strong=name == "number") for name in names)
    return TableRow(
        row.line, (Cell(str(row.line)), number, Cell(fate, tone), *others), checked.fate is Fate.ASIDE, fate
    )


def _fate(checked: CheckedRow, around: WordsAround) -> tuple[str, str]:
    if checked.fate is Fate.NEW:
        return around.say(N_("goes in")), "green"
    if checked.fate is Fate.SAME:
        return around.say(N_("in already")), "muted"
    return " ".join(doubt.in_words(around.terms) for doubt in checked.row.doubts), "madder"


def _act(fates: Mapping[Fate, int], around: WordsAround) -> str:
    if fates[Fate.NEW]:
        return plural("Take in {n} row", "Take in {n} rows", fates[Fate.NEW])
    if fates[Fate.ASIDE]:
        return plural("Set {n} row aside", "Set {n} rows aside", fates[Fate.ASIDE])
    return around.say(N_("Nothing new to take in"))


_CHOICES = {
    "dmy": N_("Day first"),
    "mdy": N_("Month first"),
    ",": N_("Decimal comma"),
    ".": N_("Decimal point"),
}


def _choices(no: Refusal | None, around: WordsAround) -> tuple[tuple[str, str, str], ...]:
    if not isinstance(no, Question):
        return ()
    previews = no.facts.get("previews")
    choices = no.facts.get("choices")
    offered = [str(choice) for choice in choices] if isinstance(choices, tuple) else []
    words = []
    for choice in offered:
        said = around.say(_CHOICES[choice]) if choice in _CHOICES else choice
        line = previews.get(choice) if isinstance(previews, dict) else None
        words.append((no.code, choice, f"{said}: {line}" if line else said))
    return tuple(words)


def _matching(seen: ListSeen, around: WordsAround) -> tuple[tuple[str, str], ...]:
    if seen.table is None:
        return ()
    if seen.look is not None:
        mapping = seen.look.listed.match.mapping
    else:
        known = seen.ask.columns or seen.remembered
        mapping = match_columns(seen.table.headers, around.terms, known, seen.ask.given).mapping
    names = {place: column for column, place in mapping.items()}
    return tuple((header, names.get(place, "")) for place, header in enumerate(seen.table.headers) if header)


def _missing(seen: ListSeen) -> tuple[str, ...]:
    """Return the columns that the list lacks and that may be told once for all its rows."""
    if seen.no is None or seen.no.code != "missing_columns":
        return tuple(column for column in _GIVEN if column in seen.ask.given)
    missing = seen.no.facts.get("columns")
    lacking = missing if isinstance(missing, tuple) else ()
    return tuple(column for column in _GIVEN if column in lacking or column in seen.ask.given)


def column_choices(around: WordsAround) -> tuple[tuple[str, str], ...]:
    """Return (column, its name) for the choice of what a header holds, the empty one first."""
    return (("", around.say(N_("not used"))), *((name, _column(name, around)) for name in COLUMNS))


def taken_answer(taken: ListTaken, around: WordsAround) -> Answer:
    """Return the line for the scan line after a list was taken in."""
    parts = [plural("{n} row taken in", "{n} rows taken in", len(taken.taken))]
    if taken.set_aside:
        parts.append(plural("{n} waits with a question", "{n} wait with a question", len(taken.set_aside)))
    if taken.same:
        parts.append(around.say(N_("{n} as before"), n=grouped(taken.same)))
    return Answer(Tone.DONE, taken.file_name, f": {', '.join(parts)}")
