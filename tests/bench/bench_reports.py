"""The report of a season of 2,000 containers, and the register of 100,000: pages a second and the memory it takes.

The bare side draws the same words at the same places with the PDF writer's own calls: it reads no store, measures and
wraps nothing, has no pictures and rules, and knows the pages beforehand. Each side runs in a process of its own.
Run: python tests/bench/bench_reports.py [--json] [CONTAINERS]
"""

from __future__ import annotations

import io
import json
import random
import resource
import subprocess
import sys
import tempfile
import time
from datetime import UTC, datetime
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

import pypdfium2
from _big_store import big_store
from PIL import Image
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas
from sqlalchemy import insert, select

from findsdesk import places
from findsdesk.desk.all_papers import make_paper
from findsdesk.desk.opening import open_store
from findsdesk.desk.photos import add_photo
from findsdesk.desk.whole_papers import Asked
from findsdesk.domain.codes import Kind, make_code
from findsdesk.store.models import Container, Piece, Ware

CONTAINERS, REGISTERED = 2_000, 100_000
PIECES, PHOTOGRAPHS = 1_450, 200
COLOURS = ("2.5YR 5/6", "10YR 7/3", "5YR 3/2", "2.5Y 5/1", "7.5YR 6/4")
FIRST_ID = 1 << 50


def season_store(containers: int) -> Path:
    """Return a store with a season of so many containers, pieces with measures and colours, some photographed."""
    path = big_store(containers)
    desk = open_store(path)
    chance = random.Random(14)
    with desk.store.writing() as session:
        ids = session.execute(select(Container.id).order_by(Container.id)).scalars().all()
        wares = session.execute(select(Ware.id).order_by(Ware.id)).scalars().all()
        session.execute(insert(Piece), [_piece(desk.facts.code, n, chance, ids, wares) for n in range(PIECES)])
    with tempfile.TemporaryDirectory() as folder:
        for number in range(PHOTOGRAPHS):
            picture = Path(folder) / f"{number}.jpg"
            small = Image.frombytes("RGB", (32, 24), chance.randbytes(32 * 24 * 3))
            small.resize((800, 600), Image.Resampling.BICUBIC).save(picture, "JPEG")
            add_photo(desk, picture, of=("piece", FIRST_ID + number * (PIECES // PHOTOGRAPHS)))
    desk.let_go()
    return path


def _piece(site: str, number: int, chance: random.Random, ids: list[int], wares: list[int]) -> dict[str, object]:
    return {
        "id": FIRST_ID + number,
        "version": 1,
        "code": make_code(site, Kind.PIECE, number + 1),
        "container_id": ids[number % len(ids)],
        "number": number // len(ids) + 1,
        "ware_id": chance.choice(wares),
        "part": "rim",
        "pieces": 1,
        "tenths": chance.randint(80, 400),
        "decision": "keep",
        "rim_permille": chance.randint(40, 200),
        "rim_diameter_mm": chance.randint(80, 320),
        "wall_tenths_mm": chance.randint(35, 90),
        "colour_surface": chance.choice(COLOURS),
        "colour_inside": chance.choice(COLOURS),
        "inclusions": [],
        "note": "rim turned out, burnt outside",
        "lifted_at": datetime(2026, 7, 14, tzinfo=UTC),
        "search_text": "",
    }


def ours(path: Path, key: str, out: Path) -> dict[str, float]:
    """Make a paper in this process; return pages a second and megabytes over the open store."""
    desk = open_store(path, read_only=True)
    make_paper(desk, "bone")  # what is loaded once is loaded
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    begun = time.perf_counter()
    made = make_paper(desk, key, Asked(follow=lambda _page, _pages: None))
    seconds = time.perf_counter() - begun
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    desk.let_go()
    out.write_bytes(made.pdf)
    return _said(made.pages, seconds, before, peak, len(made.pdf))


def bare(lines: Path) -> dict[str, float]:
    """Draw the lines that stand in a file."""
    pages = json.loads(lines.read_text())
    pdfmetrics.registerFont(TTFont("Bare", str(places.resource("fonts", "DejaVuSans.ttf"))))
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    begun = time.perf_counter()
    out = io.BytesIO()
    canvas = Canvas(out, pageCompression=1, initialFontName="Bare")
    for width, height, words in pages:
        canvas.setPageSize((width, height))
        canvas.setFont("Bare", 8.5)
        for left, bottom, text in words:
            canvas.drawString(left, bottom, text)
        canvas.showPage()
    canvas.save()
    seconds = time.perf_counter() - begun
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    return _said(len(pages), seconds, before, peak, len(out.getvalue()))


def _said(pages: int, seconds: float, before: int, peak: int, size: int) -> dict[str, float]:
    return {
        "pages": pages,
        "rate": pages / seconds,
        "seconds": seconds,
        "memory": (peak - before) / 1024,
        "peak": peak / 1024,
        "file": size / 1e6,
    }


def words_of(pdf: Path) -> list[tuple[float, float, list[tuple[float, float, str]]]]:
    """Return the words of a PDF with their places, page by page."""
    document = pypdfium2.PdfDocument(pdf)
    pages = []
    for page in document:
        text = page.get_textpage()
        words = []
        for number in range(text.count_rects()):
            left, bottom, right, top = text.get_rect(number)
            words.append((left, bottom, text.get_text_bounded(left, bottom, right, top)))
        pages.append((page.get_width(), page.get_height(), words))
        text.close()
        page.close()
    document.close()
    return pages


def apart(*words: object) -> dict[str, float]:
    """Run one side in a process of its own."""
    command = [sys.executable, __file__, "--side", *map(str, words)]
    return dict(json.loads(subprocess.run(command, capture_output=True, text=True, check=True).stdout))


def measure(containers: int) -> list[dict[str, object]]:
    """Return both papers measured beside the PDF writer alone."""
    results: list[dict[str, object]] = []
    with tempfile.TemporaryDirectory() as folder:
        pdf, lines = Path(folder) / "paper.pdf", Path(folder) / "lines.json"
        for name, path, key in (
            (f"report of a season of {containers} containers", season_store(containers), "season"),
            (f"register of {REGISTERED} containers", big_store(REGISTERED), "containers"),
        ):
            mine = apart("ours", path, key, pdf)
            lines.write_text(json.dumps(words_of(pdf)))
            results += _compared(f"{name}, {mine['pages']:.0f} pages", mine, apart("bare", lines))
    return results


def _compared(name: str, mine: dict[str, float], other: dict[str, float]) -> list[dict[str, object]]:
    whole = f"whole process {mine['peak']:.0f} MB, {mine['seconds']:.1f} s, file {mine['file']:.1f} MB"
    return [
        {
            "name": f"{name}, pages a second",
            "ours": round(mine["rate"]),
            "bare": round(other["rate"]),
            "ratio": round(mine["rate"] / other["rate"], 2),
            "target": None,
        },
        {
            "name": f"{name}, peak memory over the open store, MB ({whole})",
            "ours": round(mine["memory"]),
            "bare": None,
            "ratio": None,
            "target": None,
        },
    ]


def main() -> None:
    """Measure and print."""
    if "--side" in sys.argv:
        side, *words = sys.argv[sys.argv.index("--side") + 1 :]
        said = ours(Path(words[0]), words[1], Path(words[2])) if side == "ours" else bare(Path(words[0]))
        print(json.dumps(said))
        return
    numbers = [int(word) for word in sys.argv[1:] if word.isdigit()]
    results = measure(numbers[0] if numbers else CONTAINERS)
    if "--json" in sys.argv:
        print(json.dumps(results))
        return
    for result in results:
        print(f"{result['name']}: ours {result['ours']}, bare {result['bare']}, ratio {result['ratio']}")


if __name__ == "__main__":
    main()
