"""What the labels bench says: rows, buttons, the question after printing, what was read back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from findsdesk.desk.bagging import BagFacts
from findsdesk.desk.labels_waiting import TagsToPrint
from findsdesk.desk.other_labels import Which
from findsdesk.desk.printing import PrintKind, ReadBack
from findsdesk.desk.shipped import vocabulary
from findsdesk.domain.bags import BAG_IN_WORDS
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.benches.labels.papers_again import Paper
from findsdesk.ui.benches.labels.rows import Row
from findsdesk.ui.benches.labels.state import LabelsState, Phase
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, _, grouped, plural, put

_ROWS: dict[Row, str] = {
    Row.PACK: N_("Settled, to pack"),
    Row.BAG: N_("Bag labels"),
    Row.WASH: N_("Wash tags"),
    Row.TAGS: N_("Field tags for tomorrow"),
    Row.OTHER: N_("Other labels"),
    Row.AGAIN: N_("To write again"),
    Row.MARKS: N_("Marks to ink"),
    Row.LISTS: N_("Lists on paper"),
}

_REASONS_IN_A_WORD = {"jammed": N_("jammed"), "lost": N_("lost"), "changed": N_("changed")}


@dataclass(frozen=True, slots=True)
class RowWords:
    """One line of the list at the left."""

    row: Row
    name: str
    amount: int | None


def rows_in_words(state: LabelsState) -> tuple[RowWords, ...]:
    """Return the lines of the list, each with how much waits."""
    return tuple(RowWords(row, put(text), state.amount(row)) for row, text in _ROWS.items())


def going_on(state: LabelsState) -> str:
    """Return the line beside the title: what waits, most pressing first."""
    waiting = state.waiting
    if waiting is None:
        return ""
    parts = []
    if waiting.to_pack:
        parts.append(plural("{n} to pack", "{n} to pack", waiting.to_pack))
    if waiting.bag_labels:
        parts.append(plural("{n} bag to label", "{n} bags to label", waiting.bag_labels))
    if waiting.again:
        parts.append(plural("{n} to write again", "{n} to write again", waiting.again))
    if waiting.to_mark:
        parts.append(plural("{n} to mark", "{n} to mark", waiting.to_mark))
    return ", ".join(parts) or _("nothing waits")


def labels_counted(kind: PrintKind, n: int) -> str:
    """Return "52 labels", "3 wash tags", "40 tags"."""
    if kind is PrintKind.BAG:
        return plural("{n} label", "{n} labels", n)
    if kind is PrintKind.WASH:
        return plural("{n} wash tag", "{n} wash tags", n)
    if kind is PrintKind.TAG:
        return plural("{n} tag", "{n} tags", n)
    if kind is PrintKind.SLIP:
        return plural("{n} slip", "{n} slips", n)
    return plural("{n} label", "{n} labels", n)


def print_button(state: LabelsState) -> str:
    """Return what the clay button says: how many sheets leave the printer."""
    if state.sheets is None:
        return _("Print")
    if state.stock().kind == "roll":
        return put(N_("Print {labels}"), None, {"labels": labels_counted(state.sheets.kind, len(state.sheets.placed))})
    return plural("Print {n} sheet", "Print {n} sheets", state.sheets.pages)


def batch_line(state: LabelsState) -> str:
    """Return what lies on the sheets: "52 labels on 3 sheets", and what is left out on the first."""
    sheets = state.sheets
    if sheets is None:
        return ""
    labels = labels_counted(sheets.kind, len(sheets.placed))
    if state.reprint:
        why = reason_in_words(state.reprint.reason)
        if all(one.copy == 1 for one in sheets.placed):
            return put(N_("{labels} never printed before, as copy 1: {why}"), None, {"labels": labels, "why": why})
        return put(N_("{labels} again, as the next copy: {why}"), None, {"labels": labels, "why": why})
    again = _as_the_next_copy(state)
    if state.stock().kind == "roll":
        return labels + again
    on = plural("{n} sheet", "{n} sheets", sheets.pages)
    gone = len(state.used_places())
    skipped = f", {plural('{n} used place skipped', '{n} used places skipped', gone)}" if gone else ""
    return put(N_("{labels} on {on}"), None, {"labels": labels, "on": on}) + again + skipped


def _as_the_next_copy(state: LabelsState) -> str:
    """Return how many labels wait again because their paper was spoiled."""
    codes = {one.code for one in (state.sheets.placed if state.sheets else ()) if one.copy > 1}
    text = plural("{n} of them as the next copy", "{n} of them as the next copy", len(codes))
    return f", {text}" if codes else ""


def page_line(state: LabelsState) -> str:
    """Return which page is on screen."""
    pages = state.sheets.pages if state.sheets else 1
    text = N_("Label {page} of {pages}") if state.stock().kind == "roll" else N_("Sheet {page} of {pages}")
    return put(text, None, {"page": state.page, "pages": pages})


def read_back_line(read: ReadBack) -> str:
    """Return what the decoder read, in one sentence."""
    facts = {"dpi": read.dpi, "read": grouped(read.read), "of": grouped(read.of)}
    if read.all_well:
        return put(N_("At {dpi} dpi: {read} of {of} read, none wrong."), None, facts)
    if read.strange:
        return put(
            N_("At {dpi} dpi: {read} of {of} read, and {code} is not meant."), None, facts | _first(read.strange)
        )
    return put(N_("At {dpi} dpi: {read} of {of} read. Not read: {code}."), None, facts | _first(read.missing))


def _first(codes: tuple[str, ...]) -> dict[str, object]:
    more = len(codes) - 2
    shown = ", ".join(codes[:2])
    return {"code": put(N_("{codes} and {n} more"), None, {"codes": shown, "n": more}) if more > 0 else shown}


def question(state: LabelsState) -> str:
    """Return the question once the PDF is out of the program."""
    if state.sheets is None:
        return ""
    labels = labels_counted(state.sheets.kind, len(state.sheets.placed))
    return put(N_("Did the {labels} come out well?"), None, {"labels": labels})


def all_well_button(state: LabelsState) -> str:
    """Return the answer that all came out well."""
    n = len(state.sheets.placed) if state.sheets else 0
    return _("Yes, both came out well") if n == 2 else plural("Yes, it came out well", "Yes, all {n} came out well", n)


def spoiled_line(state: LabelsState) -> str:
    """Return how many labels are said to be spoiled."""
    n, of = len(state.spoiled), len(state.sheets.placed) if state.sheets else 0
    return put(N_("{n} of {of} spoiled"), None, {"n": n, "of": of})


def named_spoiled(state: LabelsState, code: str, new: bool | None) -> Answer:
    """Return the answer to a scan while the spoiled labels are named; ``new`` None: it is not on these sheets."""
    if new is None:
        return Answer(Tone.REFUSED, code, _(" is not on these sheets: nothing is crossed out for it"))
    if not new:
        return Answer(Tone.ALREADY, code, _(" is crossed out already; a click on it takes the cross off"))
    return Answer(Tone.DONE, code, f" {put(N_('is crossed out: {said}'), None, {'said': spoiled_line(state)})}")


def reasons() -> tuple[tuple[str, str], ...]:
    """Return the three reasons for a reprint: key and words, in the order of their keys 1, 2, 3."""
    return tuple((term.key, put(term.name)) for term in vocabulary("reprint_reasons"))


def reason_in_a_word(key: str) -> str:
    """Return a reason as short as a button on one line has to be."""
    return put(_REASONS_IN_A_WORD.get(key, key))


def reason_in_words(key: str) -> str:
    """Return a reason in words."""
    return dict(reasons()).get(key, key)


def done_line(state: LabelsState, printed: int, left_over: int) -> tuple[str, str]:
    """Return what the scan line says once somebody has answered: head and rest."""
    kind = state.sheets.kind if state.sheets else PrintKind.BAG
    head = put(N_("{labels} printed"), None, {"labels": labels_counted(kind, printed)})
    return head, f", {plural('{n} comes again', '{n} come again', left_over)}" if left_over else ""


def paper_in_words(paper: Paper, state: LabelsState, around: WordsAround) -> str:
    """Return a paper of what is in hand: "Bag label TQB000305Z, diagnostic"."""
    if paper.all_codes:
        return labels_counted(paper.kind, len(paper.all_codes))
    number = state.dossier.number if state.dossier else ""
    if paper.kind is PrintKind.PIECE:
        return around.say(N_("Label of piece {code}"), code=paper.code)
    if paper.kind is PrintKind.BAG:
        what = BAG_IN_WORDS.get(paper.what, paper.what)
        text = N_("Bag label {code}, {what}") if what else N_("Bag label {code}")
        return around.say(text, code=paper.code, what=put(what) if what else "")
    if paper.kind is PrintKind.SLIP:
        return around.say(N_("Slip inside bag {code}"), code=paper.code)
    text = N_("Tag of {container} {number}") if paper.kind is PrintKind.TAG else N_("Wash tag of {container} {number}")
    return around.say(text, number=number)


def tags_in_words(tags: TagsToPrint, around: WordsAround) -> str:
    """Return a group of tags as it is chosen: numbers, for whom, how many."""
    facts = {"first": tags.first, "last": tags.last, "n": len(tags.codes), "who": tags.supervisor}
    span = N_("{first} to {last}") if tags.first != tags.last else N_("{first}")
    numbers = around.say(span, **facts)
    if not tags.for_the_trench:
        return around.say(N_("Already here without a printed tag: {n}"), **facts)
    if tags.supervisor:
        return around.say(N_("{numbers}, {who}: {n}"), numbers=numbers, **facts)
    return around.say(N_("{numbers}: {n}"), numbers=numbers, **facts)


def when_nothing_waits(state: LabelsState, around: WordsAround) -> tuple[str, str, str]:
    """Return what stands in place of the sheet: the words, the act, and where the act leads ("row x" or a bench)."""
    if state.row is Row.BAG and state.waiting and state.waiting.to_pack:
        n = state.waiting.to_pack
        settled = (
            around.say(N_("One {container} is settled and not in bags yet."))
            if n == 1
            else around.say(N_("{n} {containers} are settled and not in bags yet."), n=n)
        )
        return settled, _("Pack them"), f"row {Row.PACK}"
    if state.row is Row.BAG:
        return _("Every bag has its label. Here stand the labels of bags that wait for one."), "", ""
    if state.row is Row.WASH:
        text = N_("Every counted {container} has its wash tag. Here stand those that wait for one.")
        return around.say(text), _("Go to the wash yard"), "bench wash"
    if state.row is Row.OTHER:
        return when_no_other_waits(state), "", ""
    return _("No tag waits to be printed. Issue tags above, and their sheet stands here."), "", ""


def when_no_other_waits(state: LabelsState) -> str:
    """Return what stands in place of a sheet of other labels."""
    read = state.read.other if state.read else None
    if read is None or read.which is Which.WAITING:
        return _("Every one has its label. Here stand those that have none yet.")
    if read.which is Which.AGAIN and read.printed:
        return _("These were printed already. Say above why they are printed again.")
    if read.which is Which.AGAIN:
        return _("None of this kind was printed yet.")
    if read.which is Which.IN_HAND:
        return _("Nothing that is in hand waits for such a label. Scan a tag, a bag or a piece.")
    return _("Nothing of today waits for such a label.")


def which_in_words(state: LabelsState, around: WordsAround) -> tuple[tuple[Which, str], ...]:
    """Return which of the other labels can be chosen, each with how many were never printed."""
    read = state.read.other if state.read else None
    waiting = {which: grouped(n) for which, n in read.waiting.items()} if read else {}
    number = state.dossier.number if state.dossier else ""
    in_hand = N_("of {container} {number}: {n}") if number else N_("of what is in hand: {n}")
    return (
        (Which.TODAY, around.say(N_("of today: {n}"), n=waiting.get(Which.TODAY, "0"))),
        (Which.IN_HAND, around.say(in_hand, number=number, n=waiting.get(Which.IN_HAND, "0"))),
        (Which.WAITING, around.say(N_("all not printed yet: {n}"), n=waiting.get(Which.WAITING, "0"))),
        (Which.AGAIN, _("all printed before, again")),
    )


def phase_keys(state: LabelsState) -> tuple[tuple[str, str], ...]:
    """Return the keys that mean something at the sheet now."""
    keys = []
    if state.phase is Phase.SPOILED:
        keys.append((_("Space"), _("spoiled, or not")))
        keys.append(("1 2 3", _("why")))
    elif state.may_change_used():
        keys.append((_("Enter"), _("begins here")))
        keys.append((_("Space"), _("used, or free")))
    if state.sheets and state.sheets.pages > 1:
        keys.append((_("PgUp PgDn"), _("sheets")))
    return tuple(keys)


def instead_of_an_offer(state: LabelsState) -> str:
    """Return what stands where a paper would be offered to be printed again."""
    if state.phase is not Phase.LOOKING:
        return _("How did these come out? The list waits until it is said.")
    if state.reprint is not None:
        return _("These are printed again. A line of the list at the side leaves them.")
    if state.row is Row.LISTS:
        return _("A tag that is scanned here says of what the sheet is printed.")
    if not state.may_offer():
        return _("A scan leaves what is typed here as it is.")
    return _("Scan a damaged tag or label to print it again.")


def packed(bags: Sequence[BagFacts]) -> tuple[str, str]:
    """Return how many bags are new, and how many were there and keep their code; one that is empty now is neither."""
    new = sum(bag.is_new for bag in bags)
    there = sum(bool(bag.pieces) and not bag.is_new for bag in bags)
    head = plural("{n} new bag", "{n} new bags", new)
    return head, plural(", {n} that was there", ", {n} that were there", there) if there else ""
