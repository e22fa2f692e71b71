"""Label geometry measured on the finished page, against the sheets' published dimensions.

Grid, label size and margins: an open collection of sheet descriptions by many makers (copy of 6 February 2021); the
3 × 7 sheet also as printed by printreadykit, the 3 × 10 by a public wiki of tracking labels. Letter: 8.5 × 11 in.
A4: 210 × 297 mm (ISO 216, from memory). Quiet zones: ISO/IEC 15417 (10 X) and 18004 (4 modules), as cited in the source
of an open bar code writer. Bar height: at least 15 % of the length (printer manuals).
"""

from itertools import pairwise

import numpy
import pytest

from findsdesk.paper.labels import lay_out
from findsdesk.paper.sheet_marks import proof_sheet
from findsdesk.paper.stocks import stocks
from tests.printed import MAKERS, MOMENT, Sheet, bag

INCH = 25.4
DPI = 600
MM = INCH / DPI
# TQB000131X: start, T, Q, B, to set C, three pairs, to set B, X, check, of 11 modules and 3 bars each; stop 13 and 4.
MODULES = 11 * 11 + 13
BARS = 11 * 3 + 4

# name: page width, height; columns, rows; label width, height; left, top margin; steps across, down (mm)
PUBLISHED = {
    "a4-3x8-70x37": (210, 297, 3, 8, 70.0, 37.0, 0.0, 0.5, 70.0, 37.0),  # "many start at 0.5"
    "a4-3x7-63x38": (210, 297, 3, 7, 63.5, 38.1, 7.2, 15.15, 66.0, 38.1),
    "a4-2x7-99x38": (210, 297, 2, 7, 99.1, 38.1, 4.63, 15.15, 101.64, 38.1),
    "a4-2x4-97x67": (210, 297, 2, 4, 97.0, 67.7, 8.0, 13.1, 97.0, 67.7),
    "letter-3x10-67x25": (8.5 * INCH, 11 * INCH, 3, 10, 2.625 * INCH, INCH, 0.1875 * INCH, 0.5 * INCH, 69.85, INCH),
    "roll-57x32": (57, 32, 1, 1, 57.0, 32.0, 0.0, 0.0, 57.0, 32.0),
}


def lines(dark, axis):
    """Return the middle (mm) of each line that runs along the whole frame of a label, in order."""
    share = dark.mean(axis=axis)
    on = numpy.flatnonzero(share > 0.6 * share.max())
    groups = numpy.split(on, numpy.flatnonzero(numpy.diff(on) > 3) + 1)
    return [float(group.mean() + 0.5) * MM for group in groups]


def expected(first, step, size, number):
    """Return the edges of labels in one direction; edges that touch or nearly touch come out as one line."""
    edges = sorted(first + place * step + side for place in range(number) for side in (0.0, size))
    merged = [edges[0]]
    for before, edge in pairwise(edges):
        if edge - before > 0.3:
            merged.append(edge)
    return merged


@pytest.mark.parametrize("name", PUBLISHED)
def test_the_frames_of_a_printed_proof_stand_where_the_sheet_has_its_labels(name):
    page_width, page_height, columns, rows, width, height, left, top, across, down = PUBLISHED[name]
    sheet = Sheet(proof_sheet(stocks()[name], moment=MOMENT))
    assert (sheet.width, sheet.height) == (pytest.approx(page_width, abs=0.02), pytest.approx(page_height, abs=0.02))
    dark = sheet.dark(DPI)
    inside = [edge for edge in expected(left, across, width, columns) if 0.2 < edge < page_width - 0.2]
    measured = [line for line in lines(dark, 0) if 0.2 < line < page_width - 0.2]
    assert measured == pytest.approx(inside, abs=0.08)
    inside = [edge for edge in expected(top, down, height, rows) if 0.2 < edge < page_height - 0.2]
    measured = [line for line in lines(dark, 1) if 0.2 < line < page_height - 0.2]
    assert measured == pytest.approx(inside, abs=0.08)


@pytest.mark.parametrize("kind", MAKERS)
@pytest.mark.parametrize("name", PUBLISHED)
def test_every_label_of_a_full_sheet_stays_two_millimetres_inside_its_place(name, kind):
    _pw, _ph, columns, rows, width, height, left, top, across, down = PUBLISHED[name]
    labels = [MAKERS[kind](990 + number) for number in range(columns * rows)]
    dark = Sheet(lay_out(labels, stocks()[name], moment=MOMENT, title="x").pdf).dark(DPI)
    ruler = round((top + (rows - 1) * down + height + 1) / MM)
    dark[ruler:] = False
    for place in range(columns * rows):
        x, y = left + place % columns * across, top + place // columns * down
        label = dark[
            round((y + 0.3) / MM) : round((y + height - 0.3) / MM),
            round((x + 0.3) / MM) : round((x + width - 0.3) / MM),
        ]
        found = numpy.argwhere(label) * MM + 0.3
        assert found[:, 0].min() >= 1.9
        assert found[:, 1].min() >= 1.9
        assert found[:, 0].max() <= height - 1.9
        assert found[:, 1].max() <= width - 1.9


@pytest.mark.parametrize("name", PUBLISHED)
def test_bars_are_whole_dots_wide_high_enough_and_have_their_quiet_zone(name):
    _pw, _ph, _columns, _rows, width, height, left, top, *_steps = PUBLISHED[name]
    dark = Sheet(lay_out([bag(131)], stocks()[name], moment=MOMENT, title="x").pdf).dark(DPI)
    label = dark[round(top / MM) : round((top + height) / MM), round(left / MM) : round((left + width) / MM)]
    row = next(number for number in range(len(label) - 1, 0, -1) if bars_in(label[number]) == BARS)
    tall = longest([bars_in(line) == BARS for line in label]) * MM
    edges = numpy.flatnonzero(numpy.diff(label[row].astype(int))) + 1
    first, last = edges[0] * MM, edges[2 * BARS - 1] * MM
    module = (last - first) / MODULES
    assert module == pytest.approx(round(module / 0.125) * 0.125, abs=0.002)
    assert module >= 0.249
    assert numpy.diff(edges[: 2 * BARS]) * MM / module == pytest.approx(
        numpy.round(numpy.diff(edges[: 2 * BARS]) * MM / module), abs=0.2
    )
    assert first >= 10 * module - 0.07
    after = edges[2 * BARS] * MM if len(edges) > 2 * BARS else width
    assert after - last >= 10 * module - 0.07
    assert tall >= 0.15 * (last - first) - 0.05
    assert tall >= 6.3


def bars_in(line):
    """Return how many dark runs a line has up to the first gap of 3 mm after it began."""
    edges = numpy.flatnonzero(numpy.diff(numpy.concatenate(([0], line.astype(int), [0]))))
    runs = edges.reshape(-1, 2)
    if not len(runs):
        return 0
    gaps = runs[1:, 0] - runs[:-1, 1]
    far = numpy.flatnonzero(gaps > 2.2 / MM)
    return int(far[0]) + 1 if len(far) else len(runs)


def longest(flags):
    best = now = 0
    for flag in flags:
        now = now + 1 if flag else 0
        best = max(best, now)
    return best
