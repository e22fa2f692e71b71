"""A word that is on no list: which field it was said in, and what was probably meant."""

from __future__ import annotations

from collections.abc import Iterable

from findsdesk.domain.near_codes import alike
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_

LIST_IN_WORDS = {
    "parts": N_("part of the vessel"),
    "surfaces": N_("surface"),
    "decorations": N_("decoration"),
    "conditions": N_("condition"),
    "keep_reasons": N_("why kept"),
    "discard_reasons": N_("why discarded"),
    "waiting_reasons": N_("why on hold"),
    "inclusions": N_("inclusions"),
    "frequencies": N_("how much of it"),
    "grain_sizes": N_("how large its grains"),
    "grain_sortings": N_("how well sorted"),
    "roundings": N_("how rounded"),
    "firings": N_("firing"),
    "conservation_needs": N_("conservation"),
    "sample_purposes": N_("what a sample is for"),
    "confidences": N_("how sure a reading is"),
    "step_back_reasons": N_("why taken back a step"),
    "securities": N_("how far finds belong together"),
    "methods": N_("how a diameter was found"),
}
"""What the words of each list are said of."""
MOST_NAMED = 3
"""So many words are named: a whole list read out helps nobody to find the field."""


def unknown_word(list_name: str, said: str, known: Iterable[str]) -> Refusal:
    """Return the refusal ``unknown_word``: the field in words, what was said, at most three near words.

    Where no word is near the first of the list are named. ``facts["list"]`` names the list for the window.
    """
    words = list(dict.fromkeys(known))
    close = alike(said, words, MOST_NAMED)
    text = (
        N_("{field}: “{said}” is not on the list. Near it: {near}. Choose one, or add it in Set-up.")
        if close
        else N_("{field}: “{said}” is not on the list, which begins {near}. Choose one, or add it in Set-up.")
    )
    called = LIST_IN_WORDS[list_name]
    return Refusal(
        "unknown_word",
        text,
        list=list_name,
        field=called[:1].upper() + called[1:],
        said=said.strip(),
        near=", ".join(close or words[:MOST_NAMED]) or "–",
    )
