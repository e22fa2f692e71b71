"""The balance certificate: of every material, what came in and where every piece of it is; signed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from findsdesk.desk.balances import CAME_IN, MaterialBalance, Unsettled, balances_in, where_it_is
from findsdesk.desk.desk import Desk
from findsdesk.desk.setting_up import season_of
from findsdesk.desk.sheets import PrintedList, Wording
from findsdesk.desk.shipped import material_named, route_of
from findsdesk.desk.whole_papers import Asked, grams, material_in_words, print_whole
from findsdesk.domain.balance import grams_agree
from findsdesk.domain.refusals import Refusal
from findsdesk.paper.list_kinds import Column, ListRow, Section, Signature
from findsdesk.paper.report_kinds import Heading, Part, Table, Words
from findsdesk.words import N_, grouped, how_many

MOST_OVER = 12
"""Containers named in the first sentence."""
MOST_NAMED = 400
"""Containers named under a balance; more than that are counted."""


def balance_certificate(now: Desk, asked: Asked) -> PrintedList:
    """Return the certificate of each material, a page each; of one material and of one season where they are asked.

    Refusals: ``unknown_season``, ``unknown_material``, ``unknown_paper``.
    """
    with now.at_one_moment() as desk:
        say = Wording(desk)
        found = season_balances(desk, asked.season, _material(asked.material))
        season = say(N_("Season {name}"), name=asked.season) if asked.season else say(N_("All seasons"))
        return print_whole(
            say,
            asked,
            title=say(N_("Balance certificate")),
            filter_words=season,
            parts=lambda: _parts(say, found),
            rows=len(found),
        )


def season_balances(desk: Desk, season: str = "", material: str = "") -> tuple[MaterialBalance, ...]:
    """Return the balance of each material of a season, or of all. Refusal: ``unknown_season``."""
    with desk.reading() as reading:
        session = reading.session
        season_id = season_of(session, reading.now.date(), season).id if season else None
        return balances_in(session, season_id=season_id, material=material)


def _material(said: str) -> str:
    if not said:
        return ""
    known = material_named(said)
    if known is None:
        raise Refusal("unknown_material", N_("There is no material {material}."), material=said)
    return known


def _parts(say: Wording, found: Sequence[MaterialBalance]) -> Iterator[Part]:
    if not found:
        yield Words(say(N_("Nothing is counted yet.")))
    for place, one in enumerate(found):
        yield Heading(material_in_words(one.material, say), fresh=place > 0)
        yield from certificate_parts(say, one)
        yield Signature(say(N_("Director")), say.desk.facts.director)
        if say.desk.facts.settings.inspector_signs:
            yield Signature(say(N_("Inspector")))


def certificate_parts(say: Wording, one: MaterialBalance, caption: str = "") -> Iterator[Part]:
    """Yield the balance of one material: its sentence, the ledger, the grams, and what does not balance."""
    yield Words(_verdict(say, one), leads=True)
    yield Table(
        (Column(say(N_("Ledger")), 4.0), Column(say(N_("Count")), 1.0, "right")),
        lambda: _ledger(say, one),
        caption=caption,
        together=True,
    )
    yield Words(_grams(say, one), quiet=True)
    if one.unsettled:
        yield Words(_open(say, one))


def _ledger(say: Wording, one: MaterialBalance) -> Iterator[ListRow]:
    ledger = one.ledger
    yield Section(say(N_("Came in")), grouped(ledger.expected), level=2)
    for name, words in CAME_IN:
        yield (say(words), grouped(getattr(ledger, name)))
    yield Section(say(N_("Where it is")), grouped(ledger.accounted + ledger.unsorted), level=2)
    for name, words, pieces in where_it_is(ledger, one.signed, one.over):
        if name != "over" or pieces:
            yield (say(words), grouped(pieces).replace("-", "−"))


def _verdict(say: Wording, one: MaterialBalance) -> str:
    route = route_of(one.material)
    pieces = how_many(route.pieces_one, route.pieces_many, one.ledger.expected, say.language)
    of_one, of_many = N_("one {container}"), N_("{n} {containers}")
    facts = {"pieces": pieces, "of": say(of_one if one.containers == 1 else of_many, n=grouped(one.containers))}
    over = [each for each in one.unsettled if each.left < 0]
    if over:
        several = len({each.season for each in one.unsettled}) > 1
        named = ", ".join(_named(each, several) for each in over[:MOST_OVER])
        more = len(over) - MOST_OVER
        rest = say(N_(" and {n} more"), n=grouped(more)) if more > 0 else ""
        text = N_("{pieces} of {of} came in. More is sorted than came in: {numbers}. Count again before you sign.")
        return say(text, numbers=named + rest, **facts)
    if one.unsettled:
        left = grouped(one.unsorted)
        text = N_("{pieces} of {of} came in. Each can be pointed at; {left} not yet sorted.")
        return say(text, left=left, **facts)
    return say(N_("{pieces} of {of} came in. It balances: each can be pointed at."), **facts)


def _grams(say: Wording, one: MaterialBalance) -> str:
    if not one.counted_tenths and not one.accounted_tenths:
        return say(N_("Nothing of it was weighed dry."))
    if not one.counted_tenths:
        weighed = grams(one.accounted_tenths)
        return say(
            N_("Not weighed dry when it came in. Of what is accounted for {weighed} g are weighed."), weighed=weighed
        )
    permille = say.desk.facts.settings.grams_tolerance_permille
    agree = grams_agree(one.counted_tenths, one.accounted_tenths, permille)
    text = N_("Dry grams: {came} came in, {went} are accounted for; within {share} %: {agree}.")
    yes = say(N_("yes")) if agree else say(N_("no"))
    return say(
        text, came=grams(one.counted_tenths), went=grams(one.accounted_tenths), share=f"{permille / 10:g}", agree=yes
    )


def _open(say: Wording, one: MaterialBalance) -> str:
    several = len({each.season for each in one.unsettled}) > 1
    named = ", ".join(_named(each, several) for each in one.unsettled[:MOST_NAMED])
    more = len(one.unsettled) - MOST_NAMED
    text = N_("Not yet sorted (+) or over (−), by {container}: {named}")
    rest = say(N_("and {n} more"), n=grouped(more)) if more > 0 else ""
    return " ".join(part for part in (say(text, named=named), rest) if part)


def _named(one: Unsettled, several_seasons: bool) -> str:
    """Return a container with what is left of it: 87 (−2), or 2024/87 (−2) where numbers are of several seasons."""
    number = f"{one.season}/{one.number}" if several_seasons else one.number
    return f"{number} ({one.left:+d})".replace("-", "−")
