"""Every deed has words for the journal and names its opposite, or says why it has none."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

import findsdesk.desk
from findsdesk.desk.deed_words import DEED_IN_WORDS
from findsdesk.domain.opposites import OPPOSITES


def deeds_written() -> dict[str, str]:
    """Return the name of each deed that a use case does, and the file in which it stands."""
    names: dict[str, str] = {}
    for path in sorted(Path(findsdesk.desk.__file__).parent.glob("*.py")):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr == "deed":
                names |= {one.value: path.name for one in node.args if isinstance(one, ast.Constant)}
    return names


DEEDS = deeds_written()


def test_the_deeds_are_found() -> None:
    assert {"log_count", "check_in", "settle"} <= DEEDS.keys()


@pytest.mark.parametrize("name", sorted(DEEDS))
def test_each_deed_has_words_and_an_opposite(name: str) -> None:
    assert name in DEED_IN_WORDS
    opposite = OPPOSITES[name]
    assert (opposite.deed is None) == bool(opposite.why_not)
    assert opposite.deed is None or opposite.deed in DEEDS


def test_no_opposite_of_a_deed_that_is_none() -> None:
    assert OPPOSITES.keys() <= DEEDS.keys()
