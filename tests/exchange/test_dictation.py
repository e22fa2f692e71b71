"""Dictated groups in a file: words with blanks between, or a small table."""

from __future__ import annotations

from pathlib import Path

import pytest

from findsdesk.domain.refusals import Refusal
from findsdesk.exchange.dictation import read_dictation


@pytest.mark.parametrize(
    ("line", "values"),
    [
        ("QRS rim 11 340 keep", ("QRS", "rim", "11", "340", "keep")),
        ("QRS rim 11 340,5 keep", ("QRS", "rim", "11", "340,5", "keep")),
        ('QRS "decorated body" 2', ("QRS", "decorated body", "2")),
        ("QRS,rim,11,340.5,keep", ("QRS", "rim", "11", "340.5", "keep")),
        ("QRS;rim;11;340,5;keep", ("QRS", "rim", "11", "340,5", "keep")),
        ("QRS\trim\t11", ("QRS", "rim", "11")),
        (",other,31,,discard,duplicate", ("", "other", "31", "", "discard", "duplicate")),
        ('"" other 31', ("", "other", "31")),
    ],
)
def test_a_line_is_read(line: str, values: tuple[str, ...], tmp_path: Path) -> None:
    (tmp_path / "read.txt").write_text(f"# Oren, 14 July\nware,part,pieces\n\n{line}\n", encoding="utf-8")
    (one,) = read_dictation(tmp_path / "read.txt")
    assert (one.line_number, one.values) == (4, values)


@pytest.mark.parametrize("line", ['QRS "rim 11', 'QRS;"rim;11'])
def test_an_open_quotation_mark_is_refused(line: str, tmp_path: Path) -> None:
    (tmp_path / "read.txt").write_text(line, encoding="utf-8")
    with pytest.raises(Refusal) as caught:
        read_dictation(tmp_path / "read.txt")
    assert (caught.value.code, caught.value.facts["line"]) == ("dictation_unreadable", 1)
