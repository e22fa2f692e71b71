"""A list of 5,000 pages: pages a second and the memory it needs over its rows, beside the PDF writer alone.

The bare side draws the same words at the same places with the PDF writer's own calls, measures and wraps nothing and
knows the number of pages beforehand. Each side runs in a process of its own.
Run: python tests/bench/bench_long_list.py [--json] [PAGES]
"""

from __future__ import annotations

import json
import resource
import subprocess
import sys
import time
from datetime import UTC, datetime
from io import BytesIO
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

import pypdfium2
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from findsdesk import places
from findsdesk.paper.lists import Column, ListRow, ListSheet, Section, print_list
from findsdesk.paper.stocks import plain_paper

MOMENT = datetime(2026, 7, 14, 17, 32, 48, tzinfo=UTC)
MM = 72 / 25.4
A_PAGE = 43
A_SECTION = 500
MOST_MEGABYTES = 150  # over the rows, at 5,000 pages: our own bound
TARGET = 0.5


def rows(pages: int) -> tuple[ListRow, ...]:
    """Return the rows of a register of containers that fills so many pages."""
    made: list[ListRow] = []
    for number in range(pages * A_PAGE):
        if number % A_SECTION == 0:
            made.append(Section(f"Square A{number // A_SECTION}", f"{A_SECTION} buckets"))
        made.append((str(number), str(2001 + number % 85), f"last seen at the sieve, tray {number % 640}, {number} g"))
    return tuple(made)


def ours(table: tuple[ListRow, ...]) -> bytes:
    """Print the list."""
    columns = (Column("Bucket", 1, "right"), Column("Context", 1), Column("Remarks", 4))
    sheet = ListSheet("Buckets", "Tannery Quay", "VE-26-014", columns, table, "Tessa Quill", MOMENT, "9f86d081884c")
    return print_list(sheet, plain_paper()["a4-plain"], lambda _page, _pages: None)


def bare(table: tuple[ListRow, ...]) -> bytes:
    """Draw the words at fixed places."""
    pdfmetrics.registerFont(TTFont("Bare", str(places.resource("fonts", "DejaVuSans.ttf"))))
    out = BytesIO()
    canvas = Canvas(out, pagesize=(210 * MM, 297 * MM), pageCompression=1, initialFontName="Bare")
    for number, row in enumerate(table):
        line = number % A_PAGE
        if number and not line:
            canvas.drawString(14 * MM, 14 * MM, f"printed 2026-07-14 by Tessa Quill · page {number // A_PAGE}")
            canvas.showPage()
        canvas.setFont("Bare", 8.5)
        cells = (row.title, row.figures) if isinstance(row, Section) else row
        for left, text in zip((14, 46, 77), cells, strict=False):
            canvas.drawString(left * MM, (262 - 5.6 * line) * MM, text)
        canvas.line(14 * MM, (261 - 5.6 * line) * MM, 196 * MM, (261 - 5.6 * line) * MM)
    canvas.save()
    return out.getvalue()


def one_side(name: str, pages: int) -> dict[str, float]:
    """Run one side in this process; return pages a second and megabytes over the rows."""
    table = rows(pages)
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    begun = time.perf_counter()
    pdf = (ours if name == "ours" else bare)(table)
    seconds = time.perf_counter() - begun
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    made = len(pypdfium2.PdfDocument(pdf))
    return {"rate": made / seconds, "memory": (peak - before) / 1024, "peak": peak / 1024, "file": len(pdf) / 1e6}


def apart(name: str, pages: int) -> dict[str, float]:
    """Run one side in a process of its own."""
    command = [sys.executable, __file__, "--side", name, str(pages)]
    return dict(json.loads(subprocess.run(command, capture_output=True, text=True, check=True).stdout))


def measure(pages: int) -> list[dict[str, object]]:
    """Return pages a second and peak memory of both sides."""
    mine, other = apart("ours", pages), apart("bare", pages)
    return [
        {
            "name": f"list of {pages} pages, pages a second",
            "ours": round(mine["rate"]),
            "bare": round(other["rate"]),
            "ratio": round(mine["rate"] / other["rate"], 2),
            "target": TARGET,
        },
        {
            "name": f"list of {pages} pages, peak memory over its rows, MB (whole process {mine['peak']:.0f} MB)",
            "ours": round(mine["memory"]),
            "bare": round(other["memory"]),
            "ratio": round(mine["memory"] / other["memory"], 2),
            "target": f"at most {MOST_MEGABYTES} MB",
        },
        {
            "name": f"list of {pages} pages, size of the file, MB",
            "ours": round(mine["file"], 1),
            "bare": round(other["file"], 1),
            "ratio": round(mine["file"] / other["file"], 2),
            "target": None,
        },
    ]


def main() -> None:
    """Measure and print."""
    numbers = [int(word) for word in sys.argv[1:] if word.isdigit()]
    pages = numbers[0] if numbers else 5000
    if "--side" in sys.argv:
        print(json.dumps(one_side(sys.argv[sys.argv.index("--side") + 1], pages)))
        return
    results = measure(pages)
    if "--json" in sys.argv:
        print(json.dumps(results))
        return
    for result in results:
        print(f"{result['name']}: ours {result['ours']}, bare {result['bare']}, ratio {result['ratio']}")


if __name__ == "__main__":
    main()
