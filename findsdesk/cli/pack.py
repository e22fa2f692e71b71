"""``findsdesk pack``: bags into boxes as they are scanned, or by a proposal of few boxes."""

from __future__ import annotations

import argparse

from findsdesk.cli.calls import DONE, add_json, add_moment, add_store
from findsdesk.cli.saying import say, say_json
from findsdesk.cli.seat import reading_seat, writing_seat
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_, CountOf, _

EXAMPLE = (
    "findsdesk pack quay                                       (a proposal for all bags that lie in no box)",
    "findsdesk pack quay --square B2",
    "findsdesk pack quay --square B2 --do --place 'Shelf 3' --by mika",
    "findsdesk pack quay TQX000031U TQB000012N TQB000013L --by mika     (box, bag, bag, as they are scanned)",
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    add_store(parser)
    parser.add_argument("codes", nargs="*", metavar="CODE", help=_("a box, then its bags, and so on"))
    parser.add_argument("--square", default="", metavar="NAME", help=_("propose boxes for the bags of a square"))
    parser.add_argument("--deposit", default="", metavar="NUMBER", help=_("propose boxes for the bags of a deposit"))
    parser.add_argument("--kind", default="", metavar="KIND", help=_("propose boxes of one kind only"))
    parser.add_argument("--limit", default="", metavar="GRAMS", help=_("the most a box may weigh (else as set up)"))
    parser.add_argument("--do", action="store_true", help=_("make the proposed boxes and pack them, in one act"))
    parser.add_argument("--place", default="", metavar="PLACE", help=_("where the proposed boxes belong, with --do"))
    parser.add_argument("--sure", action="store_true", help=_("answer what is asked with yes; it is written down"))
    add_moment(parser)
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """Pack by scan, propose, or pack as proposed."""
    if call.codes:
        return _by_scan(call)
    return _as_proposed(call) if call.do else _propose(call)


def _by_scan(call: argparse.Namespace) -> int:
    from findsdesk.cli.store_in_words import say_box, say_cautions
    from findsdesk.desk.boxing import pack_by_scan

    if call.do or call.square or call.deposit:
        raise Refusal("scan_or_propose", N_("Either name codes, or let boxes be proposed. Leave one of both out."))
    with writing_seat(call) as desk:
        packed = pack_by_scan(desk, call.codes, sure=call.sure)
        if call.json:
            say_json({"boxes": packed})
            return DONE
        for one in packed:
            say_box(desk, one)
        say_cautions(packed[0].cautions)
    return DONE


def _choice(call: argparse.Namespace) -> dict[str, object]:
    from findsdesk.domain.numbers import read_grams

    limit = {"limit_tenths": read_grams(call.limit)} if call.limit else {}
    return {"square": call.square, "deposit": call.deposit, "kind": call.kind, **limit}


def _propose(call: argparse.Namespace) -> int:
    from findsdesk.cli.store_in_words import say_proposal
    from findsdesk.desk.box_proposals import propose_boxes

    with reading_seat(call) as desk:
        proposal = propose_boxes(desk, **_choice(call))  # type: ignore[arg-type]
        if call.json:
            say_json(proposal)
        else:
            say_proposal(desk, proposal)
    return DONE


def _as_proposed(call: argparse.Namespace) -> int:
    from findsdesk.cli.store_in_words import say_cautions
    from findsdesk.desk.box_proposals import pack_as_proposed

    with writing_seat(call) as desk:
        packed = pack_as_proposed(desk, place=call.place, sure=call.sure, **_choice(call))  # type: ignore[arg-type]
        if call.json:
            say_json({"boxes": packed})
            return DONE
        for one in packed:
            say(
                N_("Box {number} ({code}): {bags}, {weight} kg"),
                None,
                number=one.box.number,
                code=one.box.code,
                bags=CountOf("{n} bag", "{n} bags", one.box.bags),
                weight=f"{one.box.tenths / 10_000:.1f}",
            )
        say_cautions(packed[0].cautions)
    return DONE
