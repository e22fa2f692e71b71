"""Printed lists: missing containers, the evening sheet, concordances, registers, discard lists.

A list is a paper of one table: before it a caution, words and a picture, after it lines to sign on. Rows are never
broken over pages; the column titles stand on each.
"""

from __future__ import annotations

from collections.abc import Iterator

from findsdesk.paper.list_kinds import CautionSlip, Column, ListRow, ListSheet, Section, Signature
from findsdesk.paper.page_frame import PageHead
from findsdesk.paper.report_kinds import Part, Report, Table, Words
from findsdesk.paper.reports import Progress, print_report
from findsdesk.paper.stocks import LabelStock

__all__ = ["CautionSlip", "Column", "ListRow", "ListSheet", "Progress", "Section", "Signature", "print_list"]

BY_HAND_MM = 8.0
"""The height of a row that is written in by hand."""


def print_list(sheet: ListSheet, paper: LabelStock, progress: Progress | None = None) -> bytes:
    """Return a list as PDF on plain paper (one of ``stocks.plain_paper()``); ``progress`` as for ``print_report``."""
    head = PageHead(
        title=sheet.title,
        excavation=sheet.excavation,
        permit=sheet.permit,
        person=sheet.person,
        moment=sheet.moment,
        head=sheet.head,
        filter_words=sheet.filter_words,
        language=sheet.language,
        terms=sheet.terms,
    )
    return print_report(Report(head, lambda: _parts(sheet), turned=sheet.turned), paper, progress)


def _parts(sheet: ListSheet) -> Iterator[Part]:
    if sheet.caution:
        yield sheet.caution
    yield from map(Words, sheet.intro)
    if sheet.picture:
        yield sheet.picture
    least = BY_HAND_MM if sheet.by_hand else 0.0
    yield Table(sheet.columns, lambda: sheet.rows, sheet.totals, sheet.when_empty, least=least, ruled=sheet.by_hand)
    yield from sheet.signatures
