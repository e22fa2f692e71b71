"""The one sensible next step of a container, in words: what the scan line says, and the clay dot of its life line."""

from __future__ import annotations

from findsdesk.desk.dossiers import DepositDossier, Dossier
from findsdesk.domain.cautions import At
from findsdesk.domain.moments import SoakState, dry_from, soak_state
from findsdesk.domain.routes import Standing, StepKind, Treatment
from findsdesk.domain.standings import HOLD_IN_WORDS
from findsdesk.ui import moments_in_words as times
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_

_BY_STANDING: dict[Standing, str] = {
    Standing.ISSUED: N_("check it in"),
    Standing.LISTED: N_("expected: check it in"),
    Standing.MISSING: N_("was missing: check it in"),
    Standing.SORTING: N_("go on sorting"),
    Standing.SETTLED: N_("bag it"),
    Standing.AWAY: N_("is away: book it back first"),
    Standing.CLOSED: N_("closed sample, leave it shut"),
    Standing.EMPTY: N_("empty after washing"),
    Standing.VOID: N_("its tag is void"),
    Standing.UNUSED: N_("its tag came back unused; if it holds finds, check it in"),
    Standing.JOINED: N_("was put together with another"),
}
_WORK: dict[Standing, At] = {
    Standing.ISSUED: At.CHECK_IN,
    Standing.LISTED: At.CHECK_IN,
    Standing.MISSING: At.CHECK_IN,
    Standing.SOAKING: At.WASH,
    Standing.WASHED: At.COUNT,
    Standing.DRYING: At.DRY,
    Standing.DRY: At.SORT,
    Standing.SORTING: At.SORT,
    Standing.SETTLED: At.BAG,
    Standing.BAGGED: At.CARRY,
}
_WORK_ON_ARRIVAL: dict[Treatment, At] = {
    Treatment.WET: At.LOOK,
    Treatment.GENTLE: At.WASH,
    Treatment.DRY: At.DRY_BRUSH,
    Treatment.SPECIALIST: At.DRY,
}


def next_step(dossier: Dossier, around: WordsAround) -> str:
    """Return what to do next, as the end of a sentence: "count it, that says washed"."""
    say, standing = around.say, dossier.standing
    if dossier.held_for and standing in (Standing.ARRIVED, Standing.SOAKING, Standing.WASHED, Standing.DRYING):
        return say(N_("held back: {why}. No water, no brush"), why=say(HOLD_IN_WORDS[dossier.held_for]))
    if standing is Standing.ARRIVED:
        return _on_arrival(dossier, around)
    if standing in (Standing.SOAKING, Standing.WASHED):
        return _out_of_the_water(dossier, around)
    if standing is Standing.DRYING:
        return _drying(dossier, around)
    if standing is Standing.DRY:
        return say(N_("dry: sort it")) if dossier.route.sorted_here else say(N_("dry: bag it or hand it on"))
    if standing is Standing.BAGGED:
        return _bagged(dossier, around)
    return say(_BY_STANDING[standing])


def _on_arrival(dossier: Dossier, around: WordsAround) -> str:
    say, route = around.say, dossier.route
    if route.treatment is Treatment.STOP:
        return say(N_("human remains: stop, cover, tell the director"))
    if route.treatment is Treatment.CLOSED:
        return say(N_("leave it shut, to the {crate}"), crate=say(route.crate))
    if route.treatment is Treatment.SPECIALIST:
        return say(N_("no water: to the {crate}, for trained hands"), crate=say(route.crate))
    if route.treatment is Treatment.DRY:
        return say(N_("no water: count it dry, {crate}"), crate=say(route.crate))
    if route.treatment is Treatment.GENTLE:
        return say(N_("wash it gently by hand, never in a tub"))
    looked = any(step.kind is StepKind.LOOKED_AT for step in dossier.life)
    return say(N_("into a tub")) if looked else say(N_("dip and look, then the tub"))


def _out_of_the_water(dossier: Dossier, around: WordsAround) -> str:
    say, settings = around.say, around.settings
    in_tub = [part for part in dossier.stands_at if part.kind == "tub"]
    if in_tub:
        since = min(part.since for part in in_tub)
        state = soak_state(since, around.now, settings.soak_shortest_h, settings.soak_longest_h)
        if state is SoakState.TOO_SHORT:
            so_far = times.hours(max(0.0, (around.now - since).total_seconds() / 3600))
            return say(N_("soaking {so_far}, shortest {shortest} h"), so_far=so_far, shortest=settings.soak_shortest_h)
        if state is SoakState.TOO_LONG:
            return say(N_("soaking too long: wash and count it now"))
    if not settings.count_at_wash:
        return say(N_("wash it; it is counted at sorting"))
    return say(N_("count it")) if dossier.standing is Standing.SOAKING else say(N_("washed: count it"))


def _drying(dossier: Dossier, around: WordsAround) -> str:
    places = sorted({part.place for part in dossier.stands_at if part.kind == "tray" and part.place})
    since = min((part.since for part in dossier.stands_at), default=around.now)
    dry_at = dry_from(since, around.settings.dry_h)
    when = times.clock_time(dry_at, around.zone)
    if dry_at.astimezone(around.zone).date() != around.today():
        when = times.day_and_time(dry_at, around.zone)
    if dry_at <= around.now:
        return around.say(N_("should be dry: say so, then sort it"))
    if places:
        return around.say(N_("drying in tray {trays}, dry from about {when}"), trays=", ".join(places), when=when)
    return around.say(N_("drying, dry from about {when}"), when=when)


def _bagged(dossier: Dossier, around: WordsAround) -> str:
    bags, waiting = len(dossier.bags), sum(not bag.labelled for bag in dossier.bags)
    if waiting:
        return around.say(N_("bagged: print its labels, {n} to go"), n=waiting)
    return around.say(N_("bagged in {n}, labelled"), n=bags) if bags else around.say(N_("bagged"))


def work_ahead(dossier: Dossier) -> At | None:
    """Return at what work its cautions are shown now."""
    if dossier.standing is Standing.ARRIVED:
        return _WORK_ON_ARRIVAL.get(dossier.route.treatment)
    return _WORK.get(dossier.standing)


def answer_to(thing: Dossier | DepositDossier, around: WordsAround) -> Answer:
    """Return the line for the scan line: what was found, and the one sensible next step."""
    say = around.say
    if isinstance(thing, DepositDossier):
        return Answer(Tone.DONE, *_deposit_line(thing, around))
    head = say(N_("{Container} {number}"), number=thing.number)
    where = say(N_("{deposit} {number}"), number=thing.deposit) if thing.deposit else say(N_("no {deposit} yet"))
    if thing.piece is not None:
        where = f"{say(N_('{container} {number}'), number=thing.number)}, {where}"
        head = say(N_("Piece {name}"), name=thing.piece.piece.name)
    return Answer(Tone.DONE, head, f", {where}: {next_step(thing, around)}")


def _deposit_line(thing: DepositDossier, around: WordsAround) -> tuple[str, str]:
    say = around.say
    head = say(N_("{Deposit} {number}"), number=thing.number)
    many = (
        N_("{square} {name}, one {container}")
        if len(thing.containers) == 1
        else N_("{square} {name}, {n} {containers}")
    )
    rest = say(many, name=thing.square, n=len(thing.containers))
    if thing.asked_for and thing.asked_for.casefold() != thing.number.casefold():
        return head, f", {say(N_('once {old}'), old=thing.asked_for)}: {rest}"
    return head, f": {rest}"
