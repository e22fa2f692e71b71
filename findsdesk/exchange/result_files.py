"""Files that come back with a loan: a report, a table, a picture; kept byte for byte, never opened."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from pathlib import Path

from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_

MOST_MEGABYTES = 200


@dataclass(frozen=True, slots=True)
class ResultFile:
    """A file as it came: its bytes, their SHA-256, its name."""

    content: bytes
    sha256: str
    file_name: str


def read_result(path: Path) -> ResultFile:
    """Read a file whole. Refusals: ``no_result_file``, ``result_too_large`` (above 200 megabytes), ``result_empty``."""
    try:
        if path.stat().st_size > MOST_MEGABYTES * 1_000_000:
            raise Refusal(
                "result_too_large",
                N_("{file} is larger than {most} megabytes. Keep it elsewhere and write where."),
                file=path.name,
                most=MOST_MEGABYTES,
            )
        content = path.read_bytes()
    except (OSError, ValueError) as error:
        raise Refusal(
            "no_result_file", N_("{file} is not there or cannot be read. Choose the file again."), file=path.name
        ) from error
    if not content:
        raise Refusal("result_empty", N_("{file} is empty. Choose the file again."), file=path.name)
    return ResultFile(content, hashlib.sha256(content).hexdigest(), path.name)
