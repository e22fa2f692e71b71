"""Bag labels per second: ours against a bare script that writes the same texts, font and symbols as raw operators.

The bare side knows every size and position beforehand, checks nothing and encodes Code 128 with a table of its own.
Beside it the usual way: a picture (PNG) of each symbol put on the page. Bytes a label of each, and the peak memory of
ours for 10,000 labels and for none, each in a process of its own.
Run: python tests/bench/bench_labels.py [--json] [NUMBER]
"""

from __future__ import annotations

import json
import resource
import statistics
import subprocess
import sys
import time
from datetime import UTC, date, datetime
from io import BytesIO
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

import zxingcpp
from reportlab.lib.utils import ImageReader
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from findsdesk import places
from findsdesk.paper.labels import BagLabel, lay_out
from findsdesk.paper.stocks import stocks
from findsdesk.words import Terms

TARGET = 0.7
ROUNDS = 5
MANY = 10_000
TERMS = Terms(deposit="context", container="bucket")
MOMENT = datetime(2026, 7, 14, 17, 32, 48, tzinfo=UTC)
MM = 72 / 25.4
TABLE = """
    212222 222122 222221 121223 121322 131222 122213 122312 132212 221213 221312 231212 112232 122132 122231 113222
    123122 123221 223211 221132 221231 213212 223112 312131 311222 321122 321221 312212 322112 322211 212123 212321
    232121 111323 131123 131321 112313 132113 132311 211313 231113 231311 112133 112331 132131 113123 113321 133121
    313121 211331 231131 213113 213311 213131 311123 311321 331121 312113 312311 332111 314111 221411 431111 111224
    111422 121124 121421 141122 141221 112214 112412 122114 122411 142112 142211 241211 221114 413111 241112 134111
    111242 121142 121241 114212 124112 124211 411212 421112 421211 212141 214121 412121 111143 111341 131141 114113
    114311 411113 411311 113141 114131 311141 411131 211412 211214 211232 2331112
"""
PATTERNS = TABLE.split()


def labels(number: int, start: int) -> list[BagLabel]:
    """Return bag labels of one day; no code twice, also over the rounds."""
    return [
        BagLabel(
            code=f"TQB{start + place:06d}X",
            deposit=str(2001 + place % 85),
            container=str(100 + place % 640),
            mark_lines=("VE-26-014", f"{2001 + place % 85}-{100 + place % 640}"),
            site="TQ",
            season="2026",
            permit="VE-26-014",
            square=f"{'ABC'[place % 3]}{1 + place % 4}",
            collected_on=date(2026, 7, 14),
            material="pottery",
            what=("diagnostics", "body sherds")[place % 2],
            pieces=2 + place % 190,
            tenths=103 + 7 * (place % 2900),
        )
        for place in range(number)
    ]


def texts_of(label: BagLabel) -> tuple[tuple[float, float, str, float, str], ...]:
    """Return left, base line (mm in the label), font, size and text of all that a bag label of 70 × 37 mm says."""
    assert label.tenths is not None
    return (
        (3.8, 3.6, "Bare", 6.5, "context"),
        (28.0, 3.6, "Bare", 6.5, "bucket"),
        (3.8, 10.4, "Bare-Bold", 24, label.deposit),
        (28.0, 10.4, "Bare-Bold", 24, label.container),
        (3.8, 14.2, "Bare-Bold", 8.5, f"{label.material}, {label.what}"),
        (3.8, 17.5, "Bare", 8.5, f"{label.pieces} pieces · {label.tenths // 10}.{label.tenths % 10} g"),
        (3.8, 20.6, "Bare", 8.0, f"{label.square} · 2026-07-14"),
        (3.8, 23.6, "Bare", 7.5, f"{label.site} {label.season} · {label.permit}"),
        (3.8, 34.9, "Bare-Mono-Bold", 7.5, label.code),
        (54.0, 20.0, "Bare-Mono", 6.6, label.mark_lines[0]),
        (54.0, 22.8, "Bare-Mono", 6.6, label.mark_lines[1]),
    )


def bare_widths(code: str) -> str:
    """Encode three letters, six figures and a last character: set B, set C for the figures, set B again."""
    values = [104, *(ord(letter) - 32 for letter in code[:3]), 99]
    values += [int(code[place : place + 2]) for place in (3, 5, 7)]
    values += [100, ord(code[9]) - 32]
    check = (values[0] + sum(place * value for place, value in enumerate(values))) % 103
    return "".join(PATTERNS[value] for value in (*values, check, 106))


def bare_bars(code: str, x: float, y: float) -> str:
    """Return a Code 128 symbol as raw operators, X 0.375 mm, 7.54 mm high."""
    operators, at = [f"q {0.375 * MM:.5f} 0 0 {7.54 * MM:.5f} {x:.3f} {y:.3f} cm"], 0
    for place, width in enumerate(bare_widths(code)):
        if not place & 1:
            operators.append(f"{at} 0 {width} 1 re")
        at += int(width)
    return "\n".join([*operators, "f Q"])


def bare_qr(code: str, x: float, y: float) -> str:
    """Return a QR symbol as raw operators, 0.625 mm a module."""
    symbol = zxingcpp.create_barcode(code, zxingcpp.BarcodeFormat.QRCode, ec_level="Q")
    picture = symbol.to_image(scale=1, add_quiet_zones=False)
    flat = bytes(memoryview(picture))  # type: ignore[arg-type]
    operators = [f"q {0.625 * MM:.5f} 0 0 {0.625 * MM:.5f} {x:.3f} {y:.3f} cm"]
    for place in range(21):
        row = flat[21 * place : 21 * place + 21]
        at = 0
        while at < 21:
            if row[at]:
                at += 1
                continue
            end = at
            while end < 21 and not row[end]:
                end += 1
            operators.append(f"{at} {20 - place} {end - at} 1 re")
            at = end
    return "\n".join([*operators, "f Q"])


def bare(batch: list[BagLabel], pictures: bool = False) -> bytes:
    """Write the labels at fixed places on A4, 3 × 8 of 70 × 37 mm; with ``pictures`` each symbol as a PNG."""
    out = BytesIO()
    canvas = Canvas(out, pagesize=(210 * MM, 297 * MM), pageCompression=1, initialFontName="Bare")
    for place, label in enumerate(batch):
        on_page = place % 24
        if place and not on_page:
            canvas.showPage()
        left, top = 70.0 * (on_page % 3), 0.5 + 37.0 * (on_page // 3)
        for x, base, font, size, text in texts_of(label):
            canvas.setFont(font, size)
            canvas.drawString((left + x) * MM, (297 - top - base) * MM, text)
        x_bars, y_bars = (left + 3.75) * MM, (297 - top - 32.3) * MM
        x_square, y_square = (left + 54.25) * MM, (297 - top - 15.7) * MM
        if pictures:
            canvas.drawImage(picture(label.code, "Code128", 3), x_bars, y_bars, 0.375 * 134 * MM, 7.54 * MM)
            canvas.drawImage(picture(label.code, "QRCode", 5), x_square, y_square, 0.625 * 21 * MM, 0.625 * 21 * MM)
            continue
        canvas._code.append(bare_bars(label.code, x_bars, y_bars))
        canvas._code.append(bare_qr(label.code, x_square, y_square))
    canvas.save()
    return out.getvalue()


def picture(code: str, kind: str, scale: int) -> ImageReader:
    """Return a symbol as a PNG of whole dots a module, as a writer of bar codes hands it over."""
    from PIL import Image

    symbol = zxingcpp.create_barcode(code, getattr(zxingcpp.BarcodeFormat, kind))
    drawn = Image.fromarray(symbol.to_image(scale=scale, add_quiet_zones=False))
    out = BytesIO()
    drawn.convert("1").save(out, "PNG")
    return ImageReader(out)


def ours(batch: list[BagLabel]) -> bytes:
    """Lay the labels out as the program does: fitted, symbols read back, places told."""
    stock = stocks()["a4-3x8-70x37"]
    return lay_out(batch, stock, moment=MOMENT, title="Bag labels", terms=TERMS).pdf


def measure(number: int) -> list[dict[str, object]]:
    """Return the best of several rounds of each side, in labels a second."""
    for name, file in (("", "Sans"), ("-Bold", "Sans-Bold"), ("-Mono", "SansMono"), ("-Mono-Bold", "SansMono-Bold")):
        pdfmetrics.registerFont(TTFont(f"Bare{name}", str(places.resource("fonts", f"DejaVu{file}.ttf"))))
    ours(labels(24, 900_000))
    bare(labels(24, 900_000))
    sides = {"bare": bare, "ours": ours, "pictures": lambda batch: bare(batch, pictures=True)}
    rates: dict[str, list[float]] = {name: [] for name in sides}
    sizes: dict[str, float] = {}
    for turn in range(ROUNDS):
        batch = labels(number, turn * number)
        for name, side in sides.items():
            begun = time.perf_counter()
            sizes[name] = len(side(batch)) / number
            rates[name].append(number / (time.perf_counter() - begun))
    ratio = statistics.median(mine / other for mine, other in zip(rates["ours"], rates["bare"], strict=True))
    return [
        {
            "name": f"bag labels with Code 128 and QR, {number} on A4, labels a second",
            "ours": round(max(rates["ours"])),
            "bare": round(max(rates["bare"])),
            "ratio": round(ratio, 2),
            "target": TARGET,
        },
        {
            "name": f"the same beside a PNG for each symbol, {number} on A4, labels a second",
            "ours": round(max(rates["ours"])),
            "bare": round(max(rates["pictures"])),
            "ratio": round(max(rates["ours"]) / max(rates["pictures"]), 2),
            "target": None,
        },
        {
            "name": "bytes a label, beside a PNG for each symbol",
            "ours": round(sizes["ours"]),
            "bare": round(sizes["pictures"]),
            "ratio": round(sizes["ours"] / sizes["pictures"], 2),
            "target": None,
        },
        {
            "name": f"peak memory of {MANY} labels beside one label, MB",
            "ours": peak_of(MANY),
            "bare": peak_of(1),
            "ratio": None,
            "target": None,
        },
    ]


def peak_of(number: int) -> int:
    """Return the peak memory in MB of a process that lays out so many labels."""
    call = [sys.executable, __file__, "--peak", str(number)]
    return int(subprocess.run(call, capture_output=True, text=True, check=True).stdout)


def main() -> None:
    """Measure and print."""
    if "--peak" in sys.argv:
        ours(labels(int(sys.argv[-1]), 0))
        print(round(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024))
        return
    numbers = [int(word) for word in sys.argv[1:] if word.isdigit()]
    results = measure(numbers[0] if numbers else 2000)
    if "--json" in sys.argv:
        print(json.dumps(results))
        return
    for result in results:
        wanted = f" (≥ {result['target']})" if result["target"] else ""
        print(f"{result['name']}: ours {result['ours']}, bare {result['bare']}, ratio {result['ratio']}{wanted}")


if __name__ == "__main__":
    main()
