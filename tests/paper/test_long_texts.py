"""Texts longer than a page go on over the next ones: nothing written is lost below the edge of the paper."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from findsdesk.paper.report_kinds import CatalogueEntry, Heading, Part, Report, Words
from findsdesk.paper.reports import print_report
from tests.paper.test_reports import A4, HEAD, pages_of, photo
from tests.printed import Sheet

MANY = 3_000
LONG = " ".join(f"w{place:04}" for place in range(MANY))


def entry() -> CatalogueEntry:
    facts = (("Ware", "QRS"), ("Part", "rim"))
    return CatalogueEntry("131.1", "TQP0000018", facts, note=LONG, load=photo, shape=(320, 240))


@pytest.mark.parametrize("part", [Words(LONG), Words(LONG, quiet=True), entry()], ids=["words", "quiet", "entry"])
def test_every_word_of_a_long_text_stands_on_a_page(part: Part) -> None:
    def parts() -> Iterator[Part]:
        yield Heading("Description", 1)
        yield part
        yield Words("end of it")

    pdf = print_report(Report(HEAD, parts), A4)
    pages = pages_of(pdf)
    assert re.findall(r"w\d{4}", " ".join(pages)) == LONG.split()
    assert "end of it" in pages[-1]
    for number in range(1, len(pages) + 1):
        sheet = Sheet(pdf, number)
        assert all(box.top >= 0 and box.bottom <= sheet.height for box in sheet.boxes()), number
