"""What a mark pattern comes to: the mark as it would be inked, and its length at the lettering height."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from findsdesk.domain.marks import check_pattern, make_mark, mark_length_mm
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_, Terms, put

_EXAMPLE = {"season": "2026", "square": "B2", "deposit": "2017", "container": "131", "piece": "4"}


def mark_in_words(values: Mapping[str, Any], site: str, lettering_tenths: int, terms: Terms) -> str:
    """Return the mark that a season's pattern gives for an example, or why the pattern is refused."""
    pattern = str(values.get("mark_pattern") or "")
    try:
        check_pattern(pattern)
    except Refusal as refusal:
        return refusal.in_words(terms)
    lines = make_mark(pattern, _EXAMPLE | {"site": site, "permit": str(values.get("permit") or "PERMIT")})
    length = mark_length_mm(lines, lettering_tenths) / 10
    return put(
        N_("{mark}: {length} mm long at {lettering} mm lettering."),
        terms,
        {"mark": " / ".join(lines), "length": f"{length:.0f}", "lettering": f"{lettering_tenths / 10:g}"},
    )
