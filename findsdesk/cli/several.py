"""One deed for several things in a row: what is refused is said, and the rest goes on."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Iterable
from typing import Any

from findsdesk.domain.refusals import Question, Refusal
from findsdesk.words import N_, _, put


def each(things: Iterable[str], deed: Callable[[str], Any], call: argparse.Namespace) -> tuple[list[Any], list[Any]]:
    """Do a deed for each thing; returns the results, and what was refused as ``{"of", "code", "said"}``."""
    done: list[Any] = []
    refused: list[Any] = []
    for thing in things:
        try:
            done.append(deed(thing))
        except Refusal as refusal:
            said = in_words(refusal, call)
            refused.append({"of": thing, "code": refusal.code, "said": said})
            print(f"{thing}: {said}", file=sys.stderr)
    return done, refused


_ANSWERS = {
    "encoding_unsure": N_("Answer with --encoding {encoding}, or another one."),
    "day_order_unsure": N_("Answer with --day-order dmy or mdy."),
    "decimal_unsure": N_("Answer with --decimal , or --decimal ."),
    "circles_unsure": N_("Answer with --circles percent or share."),
}
"""How questions about a whole list are answered from the terminal."""

_BY_OPTION = {"already_counted": ("again", N_("Here that is --again WHY."))}
"""By code of a refusal that names a button of the window: the option of a call that does it, and how it is said."""


def in_words(refusal: Refusal, call: argparse.Namespace) -> str:
    """Return the sentence of a refusal, and how a question is answered where the call can."""
    sentence = refusal.in_words(call.terms)
    if not isinstance(refusal, Question):
        option, hint = _BY_OPTION.get(refusal.code, ("", ""))
        return f"{sentence} {put(hint, call.terms, refusal.facts)}" if option and hasattr(call, option) else sentence
    if refusal.code in _ANSWERS and hasattr(call, "encoding"):
        return f"{sentence} {put(_ANSWERS[refusal.code], call.terms, refusal.facts)}"
    if hasattr(call, "sure"):
        return f"{sentence} {_('Add --sure to answer yes.')}"
    return sentence
