"""Readings of pottery as the window says them: who read what, how sure, how far two of them agree."""

from __future__ import annotations

from findsdesk.desk.reading_rows import ReadingFacts, period_names
from findsdesk.domain.readings import AGREEMENT_IN_WORDS
from findsdesk.ui import moments_in_words as times
from findsdesk.ui.widgets.dossier_facts import Section
from findsdesk.ui.words_around import WordsAround, first_name
from findsdesk.words import N_


def readings_in_words(readings: tuple[ReadingFacts, ...], around: WordsAround) -> tuple[Section, ...]:
    """Return the readings of a thing as a section of its dossier; none where nobody read it."""
    if not readings:
        return ()
    text = "\n".join(reading_in_words(one, around) for one in readings)
    return (Section(around.say(N_("Read as")), text),)


def reading_in_words(one: ReadingFacts, around: WordsAround) -> str:
    """Return one reading in a few lines: the periods, what was written with them, who and when, the agreement."""
    say = around.say
    periods = period_names(one.periods) or say(N_("no period"))
    sure = around.listed("confidences", one.confidence)
    day = times.day_in_words(one.read_at.astimezone(around.zone).date(), around.today())
    lines = [
        f"{periods}, {sure}",
        one.line,
        say(N_("by {who}, {day}"), who=first_name(one.who), day=day),
        say(N_("agreement: {how}"), how=say(AGREEMENT_IN_WORDS[one.agrees])) if one.agrees else "",
        _look_again(one, around),
    ]
    return "\n".join(line for line in lines if line)


def _look_again(one: ReadingFacts, around: WordsAround) -> str:
    if one.waits:
        return around.say(N_("look again: {why}"), why=one.look_again_why)
    if not one.look_again or one.looked_again_at is None:
        return ""
    day = times.day_in_words(one.looked_again_at.astimezone(around.zone).date(), around.today())
    text = N_("looked again by {who}, {day}: {says}") if one.looked_again_by else N_("looked again, {day}: {says}")
    return around.say(text, who=first_name(one.looked_again_by), day=day, says=one.looked_again_says)
