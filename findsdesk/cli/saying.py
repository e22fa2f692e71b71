"""What a command says: sentences, tables of text, and JSON for programs."""

from __future__ import annotations

import json
import unicodedata
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import fields, is_dataclass
from datetime import date, datetime
from enum import Enum
from pathlib import Path
from typing import Any

from findsdesk.words import Terms, put


def say(text: str, terms: Terms | None = None, /, **facts: object) -> None:
    """Print a marked sentence with the excavation's own words and its facts."""
    print(put(text, terms, facts))


def quoted(text: str) -> str:
    """Return a text as a shell takes it for one word."""
    return f'"{text}"' if any(letter in text for letter in " '&();") else text


def plain(value: Any) -> Any:
    """Return a result of the desk as JSON knows it: names for choices, ISO dates and moments, paths as text."""
    if isinstance(value, Enum):
        return value.value
    if is_dataclass(value) and not isinstance(value, type):
        return {field.name: plain(getattr(value, field.name)) for field in fields(value)}
    if isinstance(value, Mapping):
        return {str(plain(key)): plain(one) for key, one in value.items()}
    if isinstance(value, datetime | date):
        return value.isoformat()
    if isinstance(value, Path):
        return str(value)
    if isinstance(value, list | tuple | set | frozenset):
        return [plain(one) for one in value]
    return value


def say_json(value: Any) -> None:
    """Print a result of the desk for programs."""
    print(json.dumps(plain(value), ensure_ascii=False, indent=2))


def say_table(headers: Sequence[str], rows: Iterable[Sequence[object]]) -> None:
    """Print a table: numbers to the right, texts to the left, each column as wide as it must be."""
    cells = [["" if cell is None else _shown(cell) for cell in row] for row in rows]
    right = [bool(cells) and all(_is_number(row[place]) for row in cells) for place in range(len(headers))]
    widths = [max(map(_width, column)) for column in zip(headers, *cells, strict=True)]
    for row in (list(headers), *cells):
        padded = (_padded(*one) for one in zip(row, widths, right, strict=True))
        print("  ".join(padded).rstrip())


def _shown(cell: object) -> str:
    if isinstance(cell, datetime):
        return cell.strftime("%Y-%m-%d %H:%M")
    return str(cell)


def _is_number(text: str) -> bool:
    return text == "" or text.replace(",", "").replace(".", "").lstrip("-−").isdigit()


def _width(text: str) -> int:
    """Return how many columns of a terminal a text takes: wide signs take two, combining marks none."""
    return sum(
        0 if unicodedata.combining(sign) else 2 if unicodedata.east_asian_width(sign) in "WF" else 1 for sign in text
    )


def _padded(text: str, width: int, right: bool) -> str:
    gap = " " * (width - _width(text))
    return gap + text if right else text + gap
