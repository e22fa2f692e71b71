"""A whole dictation written at once: each line is the deed ``sort`` on one container; what is refused is listed."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from findsdesk.desk.desk import Desk
from findsdesk.desk.group_rows import GroupRow
from findsdesk.desk.playing import do
from findsdesk.domain.refusals import Refusal
from findsdesk.exchange.dictation import read_dictation


@dataclass(frozen=True, slots=True)
class RefusedLine:
    """A line that was refused, and why."""

    line_number: int
    refusal: Refusal


@dataclass(frozen=True, slots=True)
class Dictated:
    """What a dictation brought: the groups written, and the lines refused; the rest went on."""

    groups: tuple[GroupRow, ...]
    refused: tuple[RefusedLine, ...]


def write_dictation(desk: Desk, tag: str, path: Path, *, sure: bool = False) -> Dictated:
    """Write the groups of a file for one container. Refusals: those of reading the file."""
    groups: list[GroupRow] = []
    refused: list[RefusedLine] = []
    for line in read_dictation(path):
        try:
            groups.append(do(desk, "sort", {"sure": "yes" if sure else "no"}, (tag, *line.values)))
        except Refusal as refusal:
            refused.append(RefusedLine(line.line_number, refusal))
    return Dictated(tuple(groups), tuple(refused))
