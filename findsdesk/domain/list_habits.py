"""How a list is written throughout: order of dates, decimal sign, words before numbers. Told or asked once per list."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from findsdesk.domain.list_columns import ColumnMatch, column_in_words
from findsdesk.domain.raw_tables import RawRow, TableNote
from findsdesk.domain.refusals import Question
from findsdesk.domain.written_dates import (
    DayOrder,
    Season,
    both_orders_shown,
    day_order_by_season,
    day_order_of,
    written_date,
)
from findsdesk.domain.written_numbers import (
    DecimalSign,
    both_signs_shown,
    decimal_of,
    is_plain_identifier,
    read_identifier,
    visible,
    zero_width_of,
)
from findsdesk.words import N_, Terms

IDENTIFIERS = ("number", "deposit", "square")
_ENOUGH_ROWS_FOR_A_HABIT = 3
_CHANGING_MEANING = frozenset({"spreadsheet", "mark", "signs"})


@dataclass(frozen=True, slots=True)
class ListHabits:
    """How a list is written throughout, so that one habit is told once and not asked in every row.

    ``usual`` holds (column, kind of cleaning) pairs that every row of the list shows; ``zero_widths`` the number of
    digits to which a column fills its numbers with zeros; ``known`` the identifiers of a column that the excavation
    has (as ``identifier_key`` writes them): what stands there exactly is taken as it is.
    """

    day_order: DayOrder | None = "ymd"
    decimal: DecimalSign | None = "."
    """None where the list writes both: what can be read in two ways is asked about in its row."""
    usual: frozenset[tuple[str, str]] = frozenset()
    zero_widths: Mapping[str, int] = field(default_factory=dict)
    known: Mapping[str, frozenset[str]] = field(default_factory=dict)


def column_texts(table_rows: Sequence[RawRow], match: ColumnMatch, column: str) -> dict[str, int]:
    """Return the different texts of a column in their order, each with the number of its rows; blank cells left out."""
    place = match.mapping.get(column)
    if place is None:
        return {}
    found = Counter(row.cells[place] for row in table_rows if place < len(row.cells))
    texts: dict[str, int] = {}
    for written, rows in found.items():
        if text := visible(written):
            texts[text] = texts.get(text, 0) + rows
    return texts


def decide_day_order(
    column: Iterable[str], season: Season | None, today: date | None, before: DayOrder | None, notes: list[TableNote]
) -> DayOrder | None:
    """Return the order of a whole column; ask one question if it cannot be told, None if it shows both orders.

    What the column shows goes first, then what season and calendar allow, then what was answered ``before``.
    """
    order = day_order_of(column, season)
    if order is not None:
        return order
    if both_orders_shown(column, season):
        text = N_(
            "This list writes dates in both orders, day first and month first; unclear ones wait with a question."
        )
        notes.append(TableNote("day_orders_mixed", text))
        return None
    by_season = day_order_by_season(column, season, today)
    unclear = next(one for text in column if (one := written_date(text, season)) and one.ambiguous)
    example = next(text for text in column if written_date(text, season) == unclear)
    if by_season is not None:
        text = N_("Dates such as {example} are read as {day}: only so all lie in the season and none after today.")
        notes.append(
            TableNote("day_order_by_season", text, {"example": example, "day": str(unclear.reading(by_season))})
        )
        return by_season
    if before in {"dmy", "mdy"}:
        text = N_("Dates such as {example} are read as {day}, in the order used for such lists before.")
        notes.append(TableNote("day_order_as_before", text, {"example": example, "day": str(unclear.reading(before))}))
        return before
    raise Question(
        "day_order_unsure",
        N_("Dates such as {example} can mean {first} or {second}. Say whether this list writes day or month first."),
        example=example,
        first=str(unclear.as_dmy),
        second=str(unclear.as_mdy),
        choices=("dmy", "mdy"),
    )


def decide_decimal(column: Iterable[str], separator: str | None, notes: list[TableNote]) -> DecimalSign | None:
    """Return the decimal sign of a column; where it does not show, the file's form may tell (``separator``).

    None if the column shows both; ask one question if it cannot be told.
    """
    sign = decimal_of(column)
    if sign is not None:
        return sign
    if both_signs_shown(column):
        text = N_("Some numbers here have a decimal comma, some a decimal point; unclear ones wait with a question.")
        notes.append(TableNote("decimal_signs_mixed", text))
        return None
    signs = {one for text in column for one in text if one in ".,"}
    if signs == {"."} and separator in {None, ","}:
        return "."
    if signs == {","} and separator == ";":
        return ","
    example = next((text for text in column if "," in text or "." in text), "")
    raise Question(
        "decimal_unsure",
        N_("Is {example} written with a decimal comma or a decimal point? The column allows both: say which."),
        example=example,
        choices=(",", "."),
    )


def _usual_cleaning(
    rows: Sequence[RawRow], match: ColumnMatch, terms: Terms, notes: list[TableNote]
) -> frozenset[tuple[str, str]]:
    """Find what must be cleaned in every row alike ("ctx" before every number): told once instead of asked."""
    usual: set[tuple[str, str]] = set()
    for column in IDENTIFIERS:
        texts = column_texts(rows, match, column)
        if not texts or any(map(is_plain_identifier, texts)):
            continue
        first = next(iter(texts))
        kinds = {read_identifier(text, column, terms).cleaned for text in texts}
        kind = kinds.pop() if len(kinds) == 1 else ""
        if kind and kind not in _CHANGING_MEANING and sum(texts.values()) >= _ENOUGH_ROWS_FOR_A_HABIT:
            usual.add((column, kind))
            text = N_("Every {what} in this list is written like “{written}” and is read like {value}.")
            value = read_identifier(first, column, terms).value
            facts = {"what": column_in_words(column, terms), "written": first, "value": value}
            notes.append(TableNote("cleaned_throughout", text, facts))
    return frozenset(usual)


def habits_of(
    rows: Sequence[RawRow],
    match: ColumnMatch,
    *,
    season: Season | None,
    today: date | None,
    terms: Terms,
    separator: str | None,
    day_order: DayOrder | None,
    day_order_before: DayOrder | None,
    decimal: DecimalSign | None,
    known: Mapping[str, frozenset[str]],
) -> tuple[ListHabits, tuple[TableNote, ...]]:
    """Return how a list is written, and what there is to tell about it; ``day_order`` and ``decimal`` are answers.

    Raises the questions ``day_order_unsure`` and ``decimal_unsure``.
    """
    notes: list[TableNote] = []
    days = column_texts(rows, match, "collected_on")
    habits = ListHabits(
        day_order=day_order or decide_day_order(days, season, today, day_order_before, notes),
        decimal=decimal or decide_decimal(column_texts(rows, match, "elevation"), separator, notes),
        usual=_usual_cleaning(rows, match, terms, notes),
        zero_widths={column: zero_width_of(column_texts(rows, match, column)) for column in IDENTIFIERS},
        known=known,
    )
    return habits, tuple(notes)
