"""Groups as they were dictated, one a line, in a file: ``QRS rim 11 340 keep``, or the same with commas.

Values with blanks stand in quotation marks. A line of headers (ware, part, pieces …) and remarks after ``#`` are
passed over.
"""

from __future__ import annotations

import csv
import shlex
from dataclasses import dataclass
from pathlib import Path

from findsdesk.domain.refusals import Refusal
from findsdesk.exchange.arriving_files import take_text
from findsdesk.words import N_


@dataclass(frozen=True, slots=True)
class DictatedLine:
    """One line: its number in the file and its values in their order."""

    line_number: int
    values: tuple[str, ...]


def read_dictation(path: Path) -> tuple[DictatedLine, ...]:
    """Read a file of dictated groups; the whole file is read before anything is done with it.

    Raises ``dictation_unreadable`` with the line, and the refusals of a file that cannot be read.
    """
    lines = []
    for number, line in enumerate(take_text(path).splitlines(), 1):
        try:
            values = _values(line)
        except (ValueError, csv.Error) as fault:
            text = N_("{file}, line {line}: a quotation mark opens and never closes.")
            raise Refusal("dictation_unreadable", text, file=path.name, line=number) from fault
        if values and values[0].strip().lower() != "ware":
            lines.append(DictatedLine(number, values))
    return tuple(lines)


def _values(line: str) -> tuple[str, ...]:
    if line.lstrip().startswith("#"):
        return ()
    # One comma alone is a decimal sign: QRS rim 11 340,5 keep.
    for separator, least in ((";", 1), ("\t", 1), (",", 2)):
        if line.count(separator) >= least:
            return tuple(one.strip() for one in next(csv.reader([line], delimiter=separator, strict=True)))
    return tuple(shlex.split(line, comments=True))
