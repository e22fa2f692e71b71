"""Headers of tables matched with their columns, and cells read as their columns say."""

from __future__ import annotations

from datetime import date

import pytest

from findsdesk.domain.doubts import Doubt
from findsdesk.domain.raw_tables import RawRow, RawTable, TableNote
from findsdesk.domain.read_tables import ReadTable, Told, read_by_columns
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.domain.table_cells import CellHabits, Value, reader_of
from findsdesk.domain.table_kinds import COLUMNS, Reads, TableKind, columns_of, match_headers
from findsdesk.words import Terms

QUAY = Terms("context", "contexts", "bucket", "buckets", "square", "squares")


@pytest.mark.parametrize(
    ("kind", "headers", "matched"),
    [
        # Spellings of headers are common practice, no source.
        (TableKind.DEPOSITS, ("SU No.", "Sector", "Opened", "x"), {"number": 0, "square": 1, "opened": 2}),
        (TableKind.DEPOSITS, ("Context", "Square", "Date"), {"number": 0, "square": 1, "opened": 2}),
        (TableKind.SEASON, ("Bucket", "Locus", "Wt (g)", "Qty"), {"number": 0, "deposit": 1, "pieces": 3, "grams": 2}),
        (TableKind.SEASON, ("No.", "Locus", "EVE", "Old mark"), {"number": 0, "deposit": 1, "rim": 2, "mark": 3}),
        (TableKind.WARES, ("ID", "Fabric", "From year", "To"), {"code": 0, "name": 1, "earliest": 2, "latest": 3}),
        (TableKind.PEOPLE, ("Role", "Full name"), {"name": 1, "role": 0}),
        (TableKind.PLACES, ("Shelf", "Type", "Inside"), {"name": 0, "kind": 1, "within": 2}),
    ],
)  # fmt: skip
def test_headers_are_known_by_their_spellings(
    kind: TableKind, headers: tuple[str, ...], matched: dict[str, int]
) -> None:
    assert dict(match_headers(kind, headers, QUAY).mapping) == matched


def test_every_column_is_found_by_its_own_name_and_of_two_headers_the_surer_wins() -> None:
    for kind in TableKind:
        for column in columns_of(kind):
            assert column in match_headers(kind, [column]).mapping, (kind, column)
    match = match_headers(TableKind.DEPOSITS, ("unit", "Context"), QUAY)
    assert (match.mapping["number"], match.unused) == (1, ("unit",))
    by_hand = match_headers(TableKind.DEPOSITS, ("unit", "Context"), QUAY, {"unit": "number", "Context": ""})
    assert by_hand.mapping["number"] == 0
    assert by_hand.missing == ("square", "opened")


def read(reads: Reads, text: str, habits: CellHabits = CellHabits()) -> Value | Doubt:  # noqa: B008
    return reader_of(reads, "column", "what", habits)(text)


@pytest.mark.parametrize(
    ("reads", "text", "value"),
    [
        (Reads.PIECES, "12", 12), (Reads.PIECES, "12.0", 12), (Reads.PIECES, " ", None),
        (Reads.GRAMS, "340.5 g", 3405), (Reads.GRAMS, "1,250.25", 12503), (Reads.GRAMS, "0", 0),
        (Reads.GRAMS, "1 250.5 g", 12505), (Reads.PERCENT, "12.5 %", 125),
        (Reads.METRES, "4.21", 4210), (Reads.YEAR, "44 BCE", -43),
        (Reads.YES, "Yes", True), (Reads.YES, "n", False), (Reads.NUMBER, "0012", "0012"), (Reads.NUMBER, "12.0", "12"),
        (Reads.NUMBER, "12a", "12a"), (Reads.DAY, "2024-07-02", date(2024, 7, 2)),
        (Reads.TEXT, "  silt  over ", "silt over"),
    ],
)  # fmt: skip
def test_a_cell_is_read_as_its_column_says(reads: Reads, text: str, value: Value) -> None:
    """Half a tenth of a gram is rounded up (OWN); years before the era are astronomical, 44 BCE is -43 (ISO 8601)."""
    assert read(reads, text) == value


@pytest.mark.parametrize(
    ("reads", "text", "code"),
    [
        (Reads.PIECES, "-1", "cell_unreadable"), (Reads.PIECES, "1.5", "cell_unreadable"),
        (Reads.PIECES, "999999", "cell_unreadable"), (Reads.GRAMS, "a lot", "cell_unreadable"),
        (Reads.GRAMS, "88,5", "other_decimal_sign"), (Reads.GRAMS, "12,50", "other_decimal_sign"),
        (Reads.METRES, "4,2", "other_decimal_sign"), (Reads.PERCENT, "8,5 %", "other_decimal_sign"),
        (Reads.GRAMS, "8 5", "cell_unreadable"), (Reads.GRAMS, "1,25,000", "cell_unreadable"),
        (Reads.PIECES, "1,000", "cell_unreadable"), (Reads.NUMBER, "1,000", "thousands_parted"),
        (Reads.NUMBER, "1,250", "thousands_parted"),
        (Reads.GRAMS, "-3", "cell_unreadable"), (Reads.YEAR, "-43", "year_with_sign"),
        (Reads.YES, "so so", "cell_unreadable"),
        (Reads.NUMBER, "1.2E+05", "changed_by_spreadsheet"), (Reads.DAY, "30 February 2024", "cell_unreadable"),
    ],
)  # fmt: skip
def test_what_cannot_be_read_is_a_doubt_and_no_value(reads: Reads, text: str, code: str) -> None:
    found = read(reads, text)
    assert isinstance(found, Doubt)
    assert (found.code, found.column) == (code, "column")


def table(*rows: tuple[str, ...], notes: tuple[TableNote, ...] = ()) -> RawTable:
    lines = tuple(RawRow(place + 2, cells) for place, cells in enumerate(rows))
    return RawTable(("Name", "Role", "Active"), lines, "csv", "utf-8", ",", notes, "0" * 64)


def test_a_table_is_read_by_its_columns_and_told_values_fill_what_is_empty() -> None:
    asks = TableNote("row_too_long", "too long", {}, 3, asks=True)
    raw = table(
        ("Wen", "", "yes"), ("Ruan", "cook", "perhaps"), ("Name", "Role", "Active"), ("", "", " "), notes=(asks,)
    )
    match = match_headers(TableKind.PEOPLE, raw.headers)
    seen = read_by_columns(TableKind.PEOPLE, raw, match, Told({"role": "volunteer"}))
    assert (seen.texts("name"), seen.texts("role")) == (["Wen", "Ruan"], ["volunteer", "cook"])
    assert [doubt.code for doubt in seen.doubts[1]] == ["cell_unreadable", "row_too_long"]
    assert seen.row(0) == {"name": "Wen", "role": "volunteer", "active": True}
    with pytest.raises(Refusal) as refused:
        read_by_columns(TableKind.PEOPLE, raw, match, Told({"active": "perhaps"}))
    assert refused.value.code == "cell_unreadable"


def test_dates_and_decimal_signs_are_asked_once_for_the_whole_table() -> None:
    headers = ("Context", "Square", "Opened", "Top")
    rows = (("1", "A1", "07/08/2024", "1,250"), ("2", "A1", "08/07/2024", "2,125"))
    raw = RawTable(
        headers, tuple(RawRow(place + 2, row) for place, row in enumerate(rows)), "csv", "utf-8", "|", (), ""
    )
    match = match_headers(TableKind.DEPOSITS, headers, QUAY)
    for told, code in ((Told(), "day_order_unsure"), (Told(day_order="dmy"), "decimal_unsure")):
        with pytest.raises(Question) as asked:
            read_by_columns(TableKind.DEPOSITS, raw, match, told)
        assert asked.value.code == code
        assert asked.value.facts["example"] in rows[0], "the first in the table"
    seen = read_by_columns(TableKind.DEPOSITS, raw, match, Told(day_order="dmy", decimal=","))
    assert seen.column("opened") == [date(2024, 8, 7), date(2024, 7, 8)]
    assert seen.column("opening") == [1250, 2125]
    assert set(seen.values) <= set(COLUMNS[TableKind.DEPOSITS])


def test_a_column_with_both_decimal_signs_asks_by_row() -> None:
    """A sign between thousands has three digits after it (ISO 80000-1 groups digits by threes; FROM MEMORY)."""
    headers = ("Bucket", "Context", "Ware", "Part", "Pieces", "g")

    def grams(*written: str, told: Told | None = None) -> ReadTable:
        rows = tuple(RawRow(place + 2, ("1", "2017", "QRS", "rim", "3", one)) for place, one in enumerate(written))
        raw = RawTable(headers, rows, "csv", "utf-8", ",", (), "")
        match = match_headers(TableKind.SEASON, headers, QUAY)
        return read_by_columns(TableKind.SEASON, raw, match, told or Told())

    mixed = grams("55.2", "88,5", "1,250")
    assert mixed.column("grams") == [552, 885, None]
    assert [note.code for note in mixed.notes] == ["decimal_signs_mixed"]
    (doubt,) = mixed.doubts[2]
    assert (doubt.code, "1250 or 1.250" in doubt.in_words()) == ("number_two_ways", True)
    pointed = grams("55.2", "88,5", "1,250", told=Told(decimal="."))
    assert pointed.column("grams") == [552, None, 12500]
    (doubt,) = pointed.doubts[1]
    assert (doubt.code, doubt.column, "88.5" in doubt.in_words()) == ("other_decimal_sign", "grams", True)


def test_no_day_is_decided_by_today_alone() -> None:
    """The third of August has not come and the eighth of March lies in no season: neither is right, so it is asked."""
    headers = ("Context", "Square", "Opened")
    rows = (RawRow(2, ("6001", "B2", "03/08/2026")), RawRow(3, ("6002", "B2", "2026-07-14")))
    raw = RawTable(headers, rows, "csv", "utf-8", ",", (), "")
    match = match_headers(TableKind.DEPOSITS, headers, QUAY)
    with pytest.raises(Question) as asked:
        read_by_columns(TableKind.DEPOSITS, raw, match, Told(), today=date(2026, 7, 14))
    assert asked.value.code == "day_order_unsure"
    assert (asked.value.facts["first"], asked.value.facts["second"]) == ("2026-08-03", "2026-03-08")


def test_rims_that_may_be_percent_or_shares_are_asked_about() -> None:
    """EVE is percent in some data sets and a share in others (common practice, no source)."""
    headers = ("Bucket", "Context", "Ware", "Part", "Pieces", "EVE")

    def eves(*written: str, told: Told | None = None) -> list[Value]:
        rows = tuple(RawRow(place + 2, ("1", "2017", "QRS", "rim", "3", one)) for place, one in enumerate(written))
        raw = RawTable(headers, rows, "xlsx", None, None, (), "")
        match = match_headers(TableKind.SEASON, headers, QUAY)
        return read_by_columns(TableKind.SEASON, raw, match, told or Told()).column("rim")

    assert eves("12.5", "0.5", "") == [125, 5, None]
    with pytest.raises(Question) as asked:
        eves("0.125", "1")
    assert (asked.value.code, asked.value.facts["choices"]) == ("circles_unsure", ("percent", "share"))
    assert eves("0.125", "1", told=Told(circles="share")) == [125, 1000]
    assert eves("0.1", "1", told=Told(circles="percent")) == [1, 10]
