"""How many of a thing, in words: one piece and two pieces, several numbers in one sentence, the terms of the yard.

OWN: the texts are ours; that 1 takes the singular in English is common knowledge.
"""

import copy
import json
import pickle

import pytest

from findsdesk.domain.balance import Ledger, may_settle
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_, CountOf, Terms, put


@pytest.mark.parametrize(
    ("rows", "pieces", "said"),
    [(1, 1, "1 row, 1 piece"), (2, 1, "2 rows, 1 piece"), (0, 12300, "0 rows, 12,300 pieces")],
)
def test_each_number_of_a_sentence_takes_its_own_form(rows: int, pieces: int, said: str) -> None:
    facts = {"rows": CountOf("{n} row", "{n} rows", rows), "pieces": CountOf("{n} piece", "{n} pieces", pieces)}
    assert put(N_("{rows}, {pieces}"), None, facts) == said


def test_a_count_says_the_words_of_the_yard_and_stays_a_number() -> None:
    one = CountOf("{n} settled {container}", "{n} settled {containers}", 1)
    assert put(N_("On no list: {there}"), Terms(container="crate"), {"there": one}) == "On no list: 1 settled crate"
    assert (one, str(one), json.dumps({"there": one})) == (1, "1 settled container", '{"there": 1}')
    for other in (copy.deepcopy(one), pickle.loads(pickle.dumps(one))):
        assert str(other) == "1 settled container"


def test_a_container_of_one_sherd_is_refused_in_the_singular() -> None:
    with pytest.raises(Refusal) as caught:
        may_settle(Ledger(counted=1), {"number": "88"})
    assert caught.value.in_words().startswith("Container 88: 1 of 1 piece not sorted yet.")
