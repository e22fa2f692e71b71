"""The values a filter offers, read from the desk: (value for the desk, words); runs on the reading lane."""

from __future__ import annotations

from collections.abc import Mapping

from findsdesk.desk.desk import Desk
from findsdesk.desk.filter_words import Values, filter_words
from findsdesk.ui.benches.registers.list_kinds import Asked, ListKind


def filter_values(desk: Desk, kind: ListKind) -> Mapping[str, Values]:
    """Return the values of each filter of a list that is given by choosing; of standings those it can show."""
    only = {value for name, value in kind.fixed if name == "standing"}
    return {
        one.name: tuple(
            pair for pair in filter_words(desk, one.name) if one.name != "standing" or not only or pair[0] in only
        )
        for one in kind.filters
        if one.asked is Asked.CHOICE
    }
