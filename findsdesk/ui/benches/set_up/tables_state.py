"""A table as it is looked at before it is taken in, in words: what becomes of each row, and what is asked."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from findsdesk.desk.desk import Desk
from findsdesk.desk.list_checks import Fate
from findsdesk.desk.table_looks import LookedRow, TableAsk, TableLook, TableSeen, look_again, see_table
from findsdesk.desk.tables_taken import TableTaken
from findsdesk.domain.passing import Follow
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.domain.table_kinds import COLUMNS, KIND_IN_WORDS, TableKind, column_name
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.models.cells import Cell, TableRow
from findsdesk.ui.table_preview import PreviewState
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, grouped, plural

MOST_SHOWN = 500
"""Rows shown of a table; those with questions come first where there are more, or where nothing else is new."""
BECOMES: Mapping[TableKind, str] = {
    TableKind.DEPOSITS: N_("a new {deposit}"),
    TableKind.CONTAINERS: N_("a new {container}, expected"),
    TableKind.WARES: N_("new in the type series"),
    TableKind.PEOPLE: N_("joins the team"),
    TableKind.PLACES: N_("a new place"),
    TableKind.SEASON: N_("goes in with its {container}"),
}
_FIRST: Mapping[TableKind, str] = {TableKind.WARES: "code", TableKind.PEOPLE: "name", TableKind.PLACES: "name"}
"""The column that says what a row is of, where it is not the number."""
_OF_SHERDS = ("pieces", "ware", "form", "part")
"""What is said of the sherds in a row of an old season, in the order in which it is read."""
_CHOICES = {
    "dmy": N_("Day first"),
    "mdy": N_("Month first"),
    ",": N_("Decimal comma"),
    ".": N_("Decimal point"),
    "percent": N_("Percent"),
    "share": N_("Share of a whole one"),
}


@dataclass(frozen=True, slots=True)
class TableLooked:
    """A table as it was looked at, or why its rows cannot be read yet."""

    ask: TableAsk
    seen: TableSeen | None = None
    look: TableLook | None = None
    no: Refusal | None = None


def looked(desk: Desk, ask: TableAsk, follow: Follow | None = None) -> TableLooked:
    """Look at a table; runs on the long lane and refuses nothing: what is wrong comes back to be shown.

    ``follow`` is told rows done of rows.
    """
    seen: TableSeen | None = None
    try:
        seen = see_table(desk, ask)
        return TableLooked(ask, seen, look_again(desk, seen, follow))
    except Refusal as no:
        return TableLooked(ask, seen, no=no)


def answered(ask: TableAsk, code: str, choice: str) -> TableAsk:
    """Return the ask with the answer to a question about the whole table."""
    if code == "encoding_unsure":
        return replace(ask, encoding=choice)
    if code == "day_order_unsure":
        return replace(ask, told=replace(ask.told, day_order="mdy" if choice == "mdy" else "dmy"))
    if code == "circles_unsure":
        return replace(ask, told=replace(ask.told, circles="share" if choice == "share" else "percent"))
    return replace(ask, told=replace(ask.told, decimal="," if choice == "," else "."))


def kind_choices(around: WordsAround) -> tuple[tuple[str, str], ...]:
    """Return (kind, its words) for the choice of what a table holds."""
    return tuple((kind.value, _capital(around.say(words))) for kind, words in KIND_IN_WORDS.items())


def column_choices(kind: TableKind, around: WordsAround) -> tuple[tuple[str, str], ...]:
    """Return (column, its name) for the choice of what a header holds, the empty one first."""
    return (("", around.say(N_("not used"))), *((one, _column(kind, one, around)) for one in COLUMNS[kind]))


def table_state(of: TableLooked, around: WordsAround) -> PreviewState:
    """Work out what the preview says."""
    kind, look = of.ask.kind, of.look
    fates = {fate: look.how_many(fate) if look else 0 for fate in Fate}
    names = _shown_columns(look) if look else ()
    rows = tuple(_row(row, kind, names, around) for row in look.rows(_places(look))) if look else ()
    table = of.seen.table if of.seen else None
    return PreviewState(
        title=of.ask.path.name,
        summary=_summary(look, fates, around),
        notes=tuple(note.in_words(around.terms) for note in look.notes) if look else (),
        headings=(
            around.say(N_("Line")),
            *(_column(kind, name, around) for name in names[:1]),
            around.say(N_("What becomes of it")),
            *(_column(kind, name, around) for name in names[1:]),
        ),
        rows=rows,
        left_out=max(0, len(look.read) - MOST_SHOWN) if look else 0,
        act=_act(fates, around),
        can_take=bool(fates[Fate.NEW]),
        refusal=of.no.in_words(around.terms) if of.no and not isinstance(of.no, Question) else "",
        question=of.no.in_words(around.terms) if isinstance(of.no, Question) else "",
        choices=_choices(of.no, around),
        matching=_matching(of.seen),
        missing=_missing(of),
        sheets=table.sheets if table else (),
        sheet=(table.sheet or "") if table else "",
    )


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _column(kind: TableKind, name: str, around: WordsAround) -> str:
    return _capital(column_name(kind, name, around.terms))


def _shown_columns(look: TableLook) -> tuple[str, ...]:
    """Return the columns that the table has, the one that says what a row is of before the others."""
    first = _FIRST.get(look.ask.kind, "number")
    return (first, *(name for name in look.match.mapping if name != first))


def _places(look: TableLook) -> list[int]:
    if len(look.read) <= MOST_SHOWN and look.how_many(Fate.NEW):
        return list(range(len(look.read)))
    in_turn = [*look.places(Fate.ASIDE), *look.places(Fate.NEW), *look.places(Fate.SAME)]
    return in_turn[:MOST_SHOWN]


def _row(row: LookedRow, kind: TableKind, names: tuple[str, ...], around: WordsAround) -> TableRow:
    fate, tone = _fate(row, kind, around)
    first, *others = (row.cells.get(name, "") for name in names)
    cells = (Cell(str(row.line)), Cell(first, strong=True), Cell(fate, tone), *map(Cell, others))
    return TableRow(row.line, cells, row.fate is Fate.ASIDE, fate)


def _fate(row: LookedRow, kind: TableKind, around: WordsAround) -> tuple[str, str]:
    if row.fate is Fate.NEW:
        sherds = " ".join(row.cells[name] for name in _OF_SHERDS if row.cells.get(name))
        if kind is TableKind.SEASON and sherds:
            return around.say(N_("goes in: {sherds}"), sherds=sherds), "green"
        return around.say(BECOMES[kind]), "green"
    if row.fate is Fate.SAME:
        return around.say(N_("in already")), "muted"
    asked = []
    for doubt in row.doubts:
        named = f"{_column(kind, doubt.column, around)}: " if doubt.column else ""
        asked.append(named + doubt.in_words(around.terms))
    return " ".join(asked), "madder"


def _summary(look: TableLook | None, fates: Mapping[Fate, int], around: WordsAround) -> str:
    if look is None:
        return ""
    parts = []
    if fates[Fate.NEW]:
        parts.append(plural("{n} row goes in", "{n} rows go in", fates[Fate.NEW]))
    if fates[Fate.ASIDE]:
        parts.append(plural("{n} waits with a question", "{n} wait with a question", fates[Fate.ASIDE]))
    if fates[Fate.SAME]:
        parts.append(plural("{n} is in already", "{n} are in already", fates[Fate.SAME]))
    said = ", ".join(parts)
    if look.taken_before is not None:
        day = look.taken_before.astimezone(around.zone)
        return around.say(N_("Taken in before, {when}: {said}."), when=f"{day:%Y-%m-%d %H:%M}", said=said)
    return f"{_capital(said)}."


def _act(fates: Mapping[Fate, int], around: WordsAround) -> str:
    if fates[Fate.NEW]:
        return plural("Take in {n} row", "Take in {n} rows", fates[Fate.NEW])
    return around.say(N_("Nothing new to take in"))


def _choices(no: Refusal | None, around: WordsAround) -> tuple[tuple[str, str, str], ...]:
    if not isinstance(no, Question):
        return ()
    previews, choices = no.facts.get("previews"), no.facts.get("choices")
    words = []
    for choice in map(str, choices if isinstance(choices, tuple) else ()):
        said = around.say(_CHOICES[choice]) if choice in _CHOICES else choice
        line = previews.get(choice) if isinstance(previews, dict) else None
        words.append((no.code, choice, f"{said}: {line}" if line else said))
    return tuple(words)


def _matching(seen: TableSeen | None) -> tuple[tuple[str, str], ...]:
    if seen is None:
        return ()
    names = {place: column for column, place in seen.match.mapping.items()}
    return tuple((header, names.get(place, "")) for place, header in enumerate(seen.table.headers) if header)


def _missing(of: TableLooked) -> tuple[str, ...]:
    """Return the columns that the table lacks and that may be told once for all its rows."""
    told = tuple(of.ask.told.given)
    lacking = of.no.facts.get("columns") if of.no is not None and of.no.code == "missing_columns" else ()
    return (*told, *(one for one in lacking if one not in told)) if isinstance(lacking, tuple) else told


def taken_answer(taken: TableTaken, around: WordsAround) -> Answer:
    """Return the line for the scan line after a table was taken in."""
    parts = [plural("{n} row taken in", "{n} rows taken in", taken.taken)]
    if taken.waiting:
        parts.append(plural("{n} waits with a question", "{n} wait with a question", taken.waiting))
    if taken.same:
        parts.append(around.say(N_("{n} as before"), n=grouped(taken.same)))
    return Answer(Tone.DONE, taken.file_name, f": {', '.join(parts)}")
