"""``findsdesk prove``: prove that the store is what its journal says."""

from __future__ import annotations

import argparse

from findsdesk.cli.calls import DONE, FOUND_SOMETHING, add_json, add_store
from findsdesk.cli.saying import say, say_json
from findsdesk.cli.seat import reading_seat
from findsdesk.words import N_, CountOf, plural

EXAMPLE = ("findsdesk prove quay", "findsdesk prove quay --json")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    add_store(parser)
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """Walk the chains, the totals, the standings and the references; say what is wrong, the first first."""
    from findsdesk.desk.proving import prove

    with reading_seat(call) as desk:
        proof = prove(desk)
    if call.json:
        findings = [{"kind": one.kind, "where": one.where, "said": one.in_words(call.terms)} for one in proof.findings]
        looked = {"stations": proof.stations, "acts": proof.acts, "lines": proof.lines, "containers": proof.containers}
        say_json({"sound": proof.sound, "head": proof.head, **looked, "findings": findings})
    else:
        for one in proof.findings:
            print(one.in_words(call.terms))
        if proof.sound:
            say(
                N_("Sound: {acts} and {lines} of {stations}, {there}. Head {head}."),
                call.terms,
                acts=CountOf("{n} act", "{n} acts", proof.acts),
                lines=CountOf("{n} line", "{n} lines", proof.lines),
                stations=plural("{n} station", "{n} stations", proof.stations),
                there=CountOf("{n} {container}", "{n} {containers}", proof.containers),
                head=proof.head,
            )
        else:
            print(plural("{n} thing is wrong.", "{n} things are wrong.", len(proof.findings)))
    return DONE if proof.sound else FOUND_SOMETHING
