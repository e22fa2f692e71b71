"""One deed for several things in a row: what is refused is said, and the rest goes on."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Iterable
from typing import Any

from findsdesk.domain.refusals import Question, Refusal
from findsdesk.words import _


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


def in_words(refusal: Refusal, call: argparse.Namespace) -> str:
    """Return the sentence of a refusal, and how a question is answered where the call can."""
    sentence = refusal.in_words(call.terms)
    if isinstance(refusal, Question) and hasattr(call, "sure"):
        return f"{sentence} {_('Add --sure to answer yes.')}"
    return sentence
