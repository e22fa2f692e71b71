"""``findsdesk do``: do any deed by its name, as a line of a file of acts does."""

from __future__ import annotations

import argparse
import re

from findsdesk.cli.calls import DONE, add_json, add_moment, add_store
from findsdesk.cli.saying import say, say_json
from findsdesk.cli.seat import writing_seat
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_, _

EXAMPLE = (
    'findsdesk do quay attribute P1 to=126 reason="Joren knows the jar" --by tessa',
    "findsdesk do quay swap-tags 113 114 reason=mixed --by tessa",
    "findsdesk do quay --list              (every deed with its arguments)",
)
_PAIR = re.compile(r"([a-z][a-z0-9_-]*)=(.*)", re.DOTALL)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    add_store(parser)
    parser.add_argument("deed", nargs="?", metavar="DEED", help=_("the deed, e.g. attribute"))
    parser.add_argument("words", nargs="*", metavar="VALUE|KEY=VALUE", help=_("its arguments, in order or by name"))
    parser.add_argument("--list", action="store_true", help=_("list every deed with its arguments"))
    add_moment(parser)
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """Do the deed and say what came of it, of taking back and doing again which act that was."""
    if call.list:
        _list()
        return DONE
    from findsdesk.desk.playing import do

    if not call.deed:
        raise Refusal("no_deed", N_("Name the deed. findsdesk do STORE --list lists them."))
    pairs = [_PAIR.fullmatch(word) for word in call.words]
    named = {pair[1]: pair[2] for pair in pairs if pair}
    bare = [word for word, pair in zip(call.words, pairs, strict=True) if pair is None]
    with writing_seat(call) as desk:
        result = do(desk, call.deed, named, bare)
    if call.json:
        say_json(result)
    else:
        say(N_("Done: {deed}. {said}"), call.terms, deed=call.deed, said=getattr(result, "said", ""))
    return DONE


def _list() -> None:
    from findsdesk.desk.deeds_by_name import DEEDS
    from findsdesk.desk.spoken_arguments import spoken_arguments

    width = max(map(len, DEEDS))
    for name, function in DEEDS.items():
        arguments = " ".join(one.name if one.must else f"[{one.name}]" for one in spoken_arguments(function))
        print(f"{name:{width}}  {arguments}")
