"""Cards of codes as PDF: the command card of the wash station, and the sheet by which a scanner is tried out."""

from __future__ import annotations

from findsdesk.desk.desk import Desk
from findsdesk.desk.setting_up import season_now
from findsdesk.domain.command_cards import IN_WORDS, Command, command_code, digit_of, tub_code
from findsdesk.domain.scanner_check import TEST_CODES
from findsdesk.words import N_, put


def command_card(desk: Desk) -> bytes:
    """Return the card on A4, in the paper language: a symbol with its words for each command and each tub."""
    from findsdesk.paper.command_card import CardHead, CardSymbol, print_card

    facts, season = desk.facts, season_now(desk)
    language = facts.settings.paper_language

    def say(text: str, **values: object) -> str:
        return put(text, facts.terms, values, language)

    commands = [
        CardSymbol(say(IN_WORDS[command]), command_code(facts.code, command), large=digit_of(command) is not None)
        for command in Command
    ]
    tubs = [
        CardSymbol(say(N_("tub {tub}"), tub=tub), tub_code(facts.code, tub))
        for tub in range(1, facts.settings.tubs + 1)
    ]
    head = CardHead(
        title=say(N_("Command card, wash station")),
        excavation=" · ".join(part for part in (facts.name, season.permit if season else "") if part),
        note=say(N_("A digit twice: scan it, then “the same digit again”. A wrong digit: scan the tag again.")),
        person=desk.person.name,
        moment=desk.now().astimezone(facts.zone),
        store=desk.head(),
        language=language,
    )
    return print_card(head, (*commands, *tubs))


def scanner_sheet(desk: Desk) -> bytes:
    """Return the sheet on A4 by which a scanner is tried out: three codes with every digit and letter."""
    from findsdesk.paper.command_card import CardHead, CardSymbol, print_card

    facts = desk.facts
    language = facts.settings.paper_language

    def say(text: str, **values: object) -> str:
        return put(text, facts.terms, values, language)

    head = CardHead(
        title=say(N_("Scanner test")),
        excavation=facts.name,
        note=say(N_("Scan the three codes one after the other while “Scanner” is open in Set-up.")),
        person=desk.person.name,
        moment=desk.now().astimezone(facts.zone),
        store=desk.head(),
        language=language,
    )
    symbols = [CardSymbol(say(N_("code {n}"), n=n), code) for n, code in enumerate(TEST_CODES, 1)]
    return print_card(head, symbols)
