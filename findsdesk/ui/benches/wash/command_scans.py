"""What a scan of the command card or of a tub's card does at this bench."""

from __future__ import annotations

from findsdesk.domain.codes import Code
from findsdesk.domain.command_cards import SEEN, Command, command_of, digit_of, tub_of
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.routes import StepKind
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.benches.wash.state import Asked
from findsdesk.ui.benches.wash.tag_work import TagWork
from findsdesk.ui.widgets.typed_number import with_character, with_one_more
from findsdesk.words import N_, _


def answer_scan(work: TagWork, code: Code, due: tuple[str, ...]) -> Answer | None:
    """Do what the code asks; ``due`` are the codes of all that are due to be dry. None where it means nothing here."""
    tub, command = tub_of(code, work.state.settings.tubs), command_of(code)
    if tub is None and command is None:
        return None
    try:
        return _do(work, command, due) if command is not None else _fill(work, tub or "")
    except Refusal as refusal:
        work.bench.refuse(refusal)
        return Answer(Tone.REFUSED, refusal.in_words(work.bench.surroundings.terms))


def _fill(work: TagWork, tub: str) -> Answer:
    work.choose_tub(tub)
    return Answer(Tone.DONE, work.around.say(N_("Tub {tub}"), tub=tub), _(": scan what goes in"))


def _do(work: TagWork, command: Command, due: tuple[str, ...]) -> Answer:
    digit = digit_of(command)
    if digit is not None or command is Command.SAME_AGAIN:
        return _digit(work, digit if digit is not None else work.half.before()[-1:])
    if command is Command.ONE_MORE:
        return _one_more(work)
    if command is Command.WRITE:
        return _write(work)
    if command in SEEN:
        work.do(work.state.look(SEEN[command]))
    elif command is Command.COUNT_AGAIN:
        work.state.begin_again()
        work.show()
    elif command in (Command.LEFT_UNWASHED, Command.WASHED):
        work.do(work.state.treat(StepKind(command.value)))
    elif command is Command.DRY:
        work.do(work.state.dry())
    else:
        work.do(work.state.all_dry(due))
    return _in_hand(work)


def _in_hand(work: TagWork) -> Answer:
    dossier = work.state.in_hand
    number = dossier.number if dossier is not None else ""
    return Answer(Tone.PLAIN, work.around.say(N_("{Container} {number}"), number=number), " …")


def _digit(work: TagWork, digit: str) -> Answer:
    if work.state.in_hand is None or not digit:
        raise Refusal("digit_for_nothing", N_("A digit needs something to count. Scan a tag first."))
    digits = with_character(work.half.before(), digit)
    work.half.put_before(digits)
    return Answer(Tone.DONE, digits, _(" so far"))


def _one_more(work: TagWork) -> Answer:
    if not work.state.counting():
        raise Refusal("no_count_asked", N_("No count is asked now. Scan the tag of what is counted."))
    digits = with_one_more(work.half.before())
    work.half.put_before(digits)
    return Answer(Tone.DONE, digits, _(" so far"))


def _write(work: TagWork) -> Answer:
    digits = work.half.before()
    if digits:
        work.write(digits)
        work.half.put_before("")
    elif work.state.asked() is Asked.TREATMENT:
        work.act()
    else:
        raise Refusal("nothing_typed", N_("There is no number to write. Scan its digits first."))
    return _in_hand(work)
