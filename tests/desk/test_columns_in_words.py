"""Columns of the store in people's words, in the journal's acts and where two stores said different things."""

from __future__ import annotations

import re
from datetime import timedelta, timezone

from findsdesk.desk.clash_words import side_in_words
from findsdesk.desk.clashes import ClashSide
from findsdesk.desk.columns_in_words import QUIET, column_in_words, value_in_words
from findsdesk.store.every_table import every_model
from findsdesk.store.models import Journaled
from findsdesk.words import Terms

YARD = timezone(timedelta(hours=2))
TERMS = Terms("context", "contexts", "bucket", "buckets", "square", "squares")


def test_no_column_shows_how_the_store_keeps_it() -> None:
    kept = re.compile(r"_|\{|\b(permille|tenths|mm|ml|id|at)$")
    columns = {
        column.name for model in every_model() if issubclass(model, Journaled) for column in model.__table__.columns
    }
    assert {"rim_permille", "search_text"} <= columns
    words = {name: column_in_words(name, TERMS) for name in columns - QUIET}
    assert [one for one in words.items() if kept.search(one[1])] == []


def test_values_are_written_with_their_units() -> None:
    shown = {
        "rim_permille": (185, "18.5 %"),
        "tenths": (1711, "171.1 g"),
        "wall_tenths_mm": (65, "6.5 mm"),
        "rim_diameter_mm": (140, "140 mm"),
        "volume_ml": (350, "350 ml"),
        "pieces": (7, "7"),
        "for_mending": (True, "yes"),
        "decision": ("mend", "keep for mending"),
        "packed_at": ("2026-07-14T03:50:00+00:00", "2026-07-14 05:50"),
        "note": (None, ""),
    }
    assert {name: value_in_words(name, value, YARD) for name, (value, _words) in shown.items()} == {
        name: words for name, (_value, words) in shown.items()
    }


def test_a_side_of_a_clash_is_said_in_the_words_of_the_trade() -> None:
    said = {"deposit_id": "2017", "base_permille": 250, "tenths": 84}
    values = said | {"decision": "discard", "reason": "", "search_text": "x"}
    side = ClashSide("tent", "", "", "", None, values, gone=False)
    assert side_in_words(side, TERMS, YARD) == "context 2017, base 25 %, weight 8.4 g, decision discard, reason –"
