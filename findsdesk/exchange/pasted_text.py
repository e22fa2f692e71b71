"""Text copied from a spreadsheet: parted into lines and cells at tabs, or at semicolons where there is no tab."""

from __future__ import annotations

import csv
import io


def cells_of(text: str) -> list[list[str]]:
    """Return the cells of each line, without blanks around them; empty lines are left out."""
    separator = "\t" if "\t" in text else ";"
    plain = text.replace("\r\n", "\n").replace("\r", "\n")
    parted = ([cell.strip() for cell in line] for line in csv.reader(io.StringIO(plain), delimiter=separator))
    return [line for line in parted if any(line)]
