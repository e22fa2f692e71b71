"""The mark inked on a kept sherd: a pattern of plain fields in braces, on one to three lines."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from functools import cache

from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_

FIELDS = ("permit", "site", "season", "square", "deposit", "container", "piece")
MOST_LINES = 3

# Hand lettering 2 mm high takes 1.2 to 1.5 mm a character with its gap (common practice, no source). We take the upper
# figure, so that a mark is rather thought too long than too short; the gap of 0.5 mm after the last character is left
# off: VE-26-014 is 9 x 1.5 - 0.5 = 13 mm.
_CHARACTER_TENTHS = 15
_GAP_TENTHS = 5
_MEASURED_AT_TENTHS = 20

SMALLEST_MARKED_MM = 20
"""Sherds under about 2 cm are not marked: they go into a slip bag (common practice, no source)."""
TO_EACH_BREAK_TENTHS = 30
"""A mark keeps 3 mm from the break at each of its ends, so that it is not worn off (common practice, no source)."""
MARKED_MATERIALS = frozenset({"pottery", "tile_brick", "worked_stone"})
"""What is inked. Metal, glass, beads, plaster, slag and shell are bagged and labelled instead (common practice)."""

_PARTS = re.compile(r"([^{}]*)(?:\{([^{}]*)\})?")


def _lines_of(pattern: str) -> list[str]:
    """Return the lines of a pattern without blanks at their ends and without empty lines."""
    return [line.strip() for line in pattern.splitlines() if line.strip()]


def _check_line(line: str) -> None:
    if re.search(r"[{}]", re.sub(r"\{[^{}]*\}", "", line)):
        raise Refusal(
            "unbalanced_brace",
            N_("A brace is missing or doubled in “{line}”. Write each field in one pair of braces: {example}."),
            line=line,
            example="{deposit}-{container}",
        )
    for name in re.findall(r"\{([^{}]*)\}", line):
        if name not in FIELDS:
            raise Refusal(
                "unknown_field",
                N_("“{name}” is not a field of the mark. The fields are {known}."),
                name=name,
                known=", ".join(FIELDS),
            )


def check_pattern(pattern: str) -> None:
    """Refuse a mark pattern that cannot be used.

    Refusals: ``empty_pattern``, ``too_many_lines`` (above three), ``unbalanced_brace``, ``unknown_field``.
    """
    lines = _lines_of(pattern)
    if not lines:
        raise Refusal(
            "empty_pattern",
            N_("The mark pattern is empty. Write at least one field, for example {example}."),
            example="{container}",
        )
    if len(lines) > MOST_LINES:
        raise Refusal(
            "too_many_lines",
            N_("A mark has {most} lines at most, this one has {lines}. Put fields together on a line."),
            most=MOST_LINES,
            lines=len(lines),
        )
    for line in lines:
        _check_line(line)


@cache
def _checked_lines(pattern: str) -> tuple[tuple[tuple[str, str], ...], ...]:
    """Return the lines of a pattern as signs with the field after them; few patterns make very many marks."""
    check_pattern(pattern)
    return tuple(tuple(_PARTS.findall(line)) for line in _lines_of(pattern))


def _fill(parts: Sequence[tuple[str, str]], fields: Mapping[str, str]) -> str:
    """Fill a line; a field without a value takes the sign written before it away (no ``2017-131-``)."""
    filled = ""
    for before, name in parts:
        value = fields.get(name, "") if name else ""
        if not name or value:
            filled += before + value
    return filled.strip()


def make_mark(pattern: str, fields: Mapping[str, str]) -> tuple[str, ...]:
    """Return the lines to ink, from a pattern and the values of its fields; a line left empty falls away.

    Refuses what ``check_pattern`` refuses.
    """
    filled = (_fill(line, fields) for line in _checked_lines(pattern))
    return tuple(line for line in filled if line)


def mark_length_mm(lines: Sequence[str], lettering_mm_tenths: int = _MEASURED_AT_TENTHS) -> int:
    """Return how long the longest line becomes, in tenths of a millimetre, rounded up.

    ``lettering_mm_tenths`` is the height of the lettering in tenths of a millimetre; 1.5 mm a character with its gap at
    2 mm, in proportion for other heights (common practice, no source).
    """
    longest = max((len(line) for line in lines), default=0)
    if longest == 0:
        return 0
    at_two_mm = longest * _CHARACTER_TENTHS - _GAP_TENTHS
    return -(-at_two_mm * lettering_mm_tenths // _MEASURED_AT_TENTHS)


def smallest_sherd_mm(length_tenths: int) -> int:
    """Return the width in whole millimetres of the smallest sherd that takes a mark of that length (tenths of a mm).

    The mark and 3 mm to the break at each end, and never under 2 cm (both common practice, no source).
    """
    across = length_tenths + 2 * TO_EACH_BREAK_TENTHS if length_tenths else 0
    return max(SMALLEST_MARKED_MM, -(-across // 10))


def names_field(pattern: str, field: str) -> bool:
    """Tell whether a pattern writes a field: one that writes the piece gives each piece a mark of its own."""
    return f"{{{field}}}" in pattern


def read_mark(pattern: str, text: str, known: Mapping[str, str]) -> Mapping[str, str] | None:
    """Return the fields that a typed mark says by a pattern, or None where it does not fit.

    The whole mark is read, its lines with a blank or a stroke between them, or only those lines that name the
    container: ``2017-131`` of ``VE-26-014 / 2017-131``. ``known`` are values that are the same in the whole season
    (permit, site, season); one that differs does not fit. Capitals and blanks do not matter.
    """
    lines = _lines_of(pattern)
    said = " ".join(text.replace("/", " ").split())
    for first in range(len(lines)):
        for end in range(len(lines), first, -1):
            some = lines[first:end]
            if not any(names_field(line, "container") for line in some):
                continue
            found = re.fullmatch(r"\s+".join(_line_read(line, known) for line in some), said, re.IGNORECASE)
            if found is not None:
                return {name: value for name, value in found.groupdict().items() if value}
    return None


def _literal_read(before: str) -> str:
    if not before.strip():
        return r"\s+" if before else ""
    return rf"\s*{re.escape(before.strip())}\s*"


def _line_read(line: str, known: Mapping[str, str]) -> str:
    """Return the expression that reads one line of a mark; a mark of no single piece leaves the piece out."""
    read = ""
    for before, name in _PARTS.findall(line):
        literal = _literal_read(before.replace("/", " "))
        if not name:
            read += literal
            continue
        value = re.escape(known[name]) if known.get(name) else r"[^\s/]+?"
        field = literal + (f"(?P<{name}>{value})" if f"(?P<{name}>" not in read else value)
        read += f"(?:{field})?" if name == "piece" else field
    return read
