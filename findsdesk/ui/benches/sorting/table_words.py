"""The table in words: its bar, its rows, the last line, what settling waits for. No window needed."""

from __future__ import annotations

from dataclasses import replace

from findsdesk.desk.sorting_table import DryGrams, EntryRow
from findsdesk.domain.balance import Decision, Entry, Ledger, grams_agree
from findsdesk.domain.standings import Standing
from findsdesk.ui.benches.sorting.lines import TableLine
from findsdesk.ui.benches.sorting.row_words import doubt_beside, in_short
from findsdesk.ui.benches.sorting.state import SortingState
from findsdesk.ui.widgets.balance_bar import BarPart, Fill
from findsdesk.ui.widgets.big_line import Figure
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, Terms, _, grouped, plural, put

ENTRY_IN_WORDS: dict[Entry, str] = {
    Entry.COUNTED: N_("counted"),
    Entry.RECOUNTED: N_("counted again"),
    Entry.FOUND_MORE: N_("found more"),
    Entry.ARRIVED: N_("arrived"),
    Entry.MOVED_OUT: N_("moved out"),
    Entry.USED_UP: N_("used up"),
    Entry.NOT_A_SHERD: N_("not a sherd"),
    Entry.NOT_FOUND: N_("not found"),
}


def big_line(state: SortingState) -> str:
    """Return the line that is read across the table: the row said last, its doubt behind it."""
    if state.told:
        return state.told
    if state.last is None:
        return _("The row said last stands here")
    said = in_short(state.texts_of(state.last), state.lists)
    if state.last.was is not None:
        said = _("{row}, was {before}").format(row=said, before=state.lists.decision_word(state.last.was))
    doubt = doubt_beside(state.last, state.lists)
    if len(doubt) > _READ_ACROSS:
        # A long doubt would make the whole line too small to be read across the table; it stands whole in its row.
        doubt = _("in doubt: F2")
    return f"{said} — {doubt}" if doubt else said


_READ_ACROSS = 24
"""Letters of a doubt that leave the line large enough."""


def doubt_of_no_cell(line: TableLine | None, state: SortingState) -> str:
    """Return why a row waits where that is about none of its cells, as a change of somebody else's is, or nothing."""
    return doubt_beside(line, state.lists) if line is not None and not line.doubt_column else ""


def decided_by(rule: str, before: str) -> str:
    """Return by which rule a row is decided, and what it was ``before``, where it is put right and that is new."""
    by = _("by “{rule}”").format(rule=rule) if rule else ""
    return _("{by}, was {before}").format(by=by or _("by no rule"), before=before) if before else by


def going_on(state: SortingState, around: WordsAround) -> str:
    """Return the line beside the title: bucket 131, context 2017, square B2: 74 of 132 read."""
    dossier = state.dossier
    if dossier is None:
        return ""
    where = [around.say(N_("{container} {number}"), number=dossier.number)]
    if dossier.deposit:
        where.append(around.say(N_("{deposit} {number}"), number=dossier.deposit))
    if dossier.square:
        where.append(around.say(N_("{square} {name}"), name=dossier.square))
    ledger = state.ledger()
    if dossier.standing is not Standing.SORTING or not ledger.expected:
        return ", ".join(where)
    read = around.say(N_("{n} of {all} read"), n=grouped(ledger.sorted), all=came_in_words(ledger))
    return f"{', '.join(where)}: {read}"


def bar_parts(state: SortingState) -> tuple[BarPart, ...]:
    """Return the balance as a bar: read by decision, explained, in doubt, left; over is said and shown as over."""
    ledger = state.ledger()
    parts = [
        BarPart(ledger.kept, _("{n} to keep").format(n=grouped(ledger.kept)), Fill.SOLID),
        BarPart(ledger.discarded, _("{n} discarded").format(n=grouped(ledger.discarded)), Fill.QUIET),
        BarPart(ledger.to_discard, _("{n} to discard, unsigned").format(n=grouped(ledger.to_discard)), Fill.RULED),
        BarPart(ledger.on_hold, _("{n} on hold").format(n=grouped(ledger.on_hold)), Fill.QUIET),
        BarPart(ledger.used_up, _("{n} used up").format(n=grouped(ledger.used_up)), Fill.OPEN),
        BarPart(ledger.moved_out, _("{n} moved out").format(n=grouped(ledger.moved_out)), Fill.OPEN),
        BarPart(ledger.not_a_sherd, _("{n} not a sherd").format(n=grouped(ledger.not_a_sherd)), Fill.OPEN),
        BarPart(ledger.not_found, _("{n} not found").format(n=grouped(ledger.not_found)), Fill.OPEN),
    ]
    shown = [part for part in parts if part.amount > 0]
    waiting = state.pieces_waiting()
    doubtful = _("{n} in doubt").format(n=grouped(waiting))
    if state.count_follows:
        return (*shown, BarPart(waiting, doubtful, Fill.OPEN)) if waiting else tuple(shown)
    if ledger.over:
        words = _("{n} over the {expected}").format(n=grouped(ledger.over), expected=grouped(ledger.expected))
        last = BarPart(ledger.over, words, Fill.OVER)
        shown = _without(shown, ledger.over)
    else:
        words = _("{n} left of {all}").format(n=grouped(ledger.unsorted), all=grouped(ledger.expected))
        last = BarPart(ledger.unsorted, words, Fill.HATCHED)
    # Rows in doubt are in no ledger: what they say is among what is left, whatever number they say.
    return (*shown, replace(last, words=f"{words}, {doubtful}") if waiting else last)


def came_in_words(ledger: Ledger) -> str:
    """Return what came in, parted where it came in more than one way: 134 (132 counted, 2 found more)."""
    ways = (
        (ledger.counted, _("{n} counted")),
        (ledger.found_more, _("{n} found more")),
        (ledger.arrived, _("{n} arrived")),
    )
    told = [words.format(n=grouped(pieces)) for pieces, words in ways if pieces]
    return f"{grouped(ledger.expected)} ({', '.join(told)})" if len(told) > 1 else grouped(ledger.expected)


def _without(parts: list[BarPart], over: int) -> list[BarPart]:
    """Return the parts with what is over taken from the widest: it is drawn by itself, and once."""
    widest = max(range(len(parts)), key=lambda place: parts[place].amount, default=None)
    if widest is None:
        return parts
    part = parts[widest]
    return [*parts[:widest], BarPart(max(1, part.amount - over), part.words, part.fill), *parts[widest + 1 :]]


def settle_words(state: SortingState, around: WordsAround) -> str:
    """Return what the clay button says: settle, or when it will be possible."""
    ledger, waiting = state.ledger(), len(state.lines.waiting())
    if waiting:
        return plural("Settle when {n} row is put right", "Settle when {n} rows are put right", waiting)
    if state.count_follows and not ledger.accounted:
        return _("Settle when it is sorted")
    if not state.counted and not state.count_follows:
        return _("Settle when it is counted")
    if ledger.over and not state.count_follows:
        return plural("Settle when {n} over is corrected", "Settle when {n} over are corrected", ledger.over)
    if ledger.unsorted and not state.count_follows:
        return plural(
            "Settle when {n} is sorted or explained", "Settle when {n} are sorted or explained", ledger.unsorted
        )
    number = state.dossier.number if state.dossier else ""
    return around.say(N_("Settle {container} {number}"), number=number)


def count_words(state: SortingState, around: WordsAround) -> str:
    """Return what is to be said about the count, or nothing: counted only here, not counted, or over."""
    if state.count_follows:
        return around.say(N_("Counted only at sorting: what is read becomes the count. F5 writes a count first."))
    if not state.counted:
        return around.say(N_("This {container} was not counted yet. F5 counts it here."))
    if state.ledger().over:
        return _("Nothing is refused: read on. F5 counts again, F7 says that more were found.")
    return ""


def grams_figures(grams: DryGrams, accounted: int) -> tuple[Figure, ...]:
    """Return the dry grams read against those counted; nothing where nobody weighed it before."""
    if not grams.counted:
        return (Figure(_grams(accounted), _("g read"), _("Dry")),) if accounted else ()
    words = _("of {g} g dry").format(g=_grams(grams.counted))
    return (Figure(_grams(accounted), words),)


def _grams(tenths: int) -> str:
    """Return grams as they are read in a text, thousands set apart; a row shows them as they are typed."""
    return f"{grouped(tenths // 10)}.{tenths % 10}"


def grams_words(grams: DryGrams, state: SortingState) -> tuple[str, bool]:
    """Return whether the dry grams agree, in words and as a flag for a doubt; nothing while pieces are left."""
    accounted = state.accounted_tenths()
    if not grams.counted or not state.ledger().balances:
        return "", False
    if not all(line.facts is None or line.facts.tenths is not None for line in state.lines.lines):
        return "", False
    share = f"{grams.tolerance_permille / 10:g}"
    if grams_agree(grams.counted, accounted, grams.tolerance_permille):
        return _("Grams agree within {share} %").format(share=share), False
    apart = _grams(abs(grams.counted - accounted))
    return _("Grams are {g} g apart, more than {share} %: weigh again").format(g=apart, share=share), True


def ware_figures(state: SortingState) -> tuple[Figure, ...]:
    """Return the share of each ware among what is read, the commonest first: QRS 46 %; of many the rest in one."""
    pieces = state.ware_pieces()
    every = sum(pieces.values())
    ordered = sorted(pieces.items(), key=lambda item: (-item[1], item[0]))
    shown = [(ware or _("no ware"), n) for ware, n in ordered]
    if (left := shown[_WARES_SHOWN:])[1:]:
        others = plural("{n} other", "{n} others", len(left))
        shown = [*shown[:_WARES_SHOWN], (others, sum(n for _ware, n in left))]
    return tuple(Figure(f"{n * 100 / every:.0f} %", before=ware) for ware, n in shown)


_WARES_SHOWN = 6


def entry_words(entry: EntryRow, terms: Terms) -> str:
    """Return an entry of the ledger: 1 not a sherd (pebble); one answered as: not a sherd, 1 fewer."""
    what = put(ENTRY_IN_WORDS[entry.kind])
    if entry.answers_id is not None:
        return _("{n} {what}: taken back").format(n=grouped(abs(entry.pieces)), what=what)
    because = _because(entry.why if entry.why != entry.other else "")
    if entry.other:
        return _moved_words(entry, terms) + because
    if not entry.pieces and entry.kind is Entry.USED_UP:
        return _("taken off as a sample") + because
    return f"{grouped(entry.pieces)} {what}{because}"


def _moved_words(entry: EntryRow, terms: Terms) -> str:
    """Return what went to another container or came from it: 1 moved out, now bucket 184 (object 32)."""
    said = N_("{n} {what}, now {container} {number}")
    if entry.kind is Entry.ARRIVED:
        said = N_("{n} {what} from {container} {number}")
    elif entry.found is not None:
        said = N_("{n} {what}, now {container} {number} (object {object})")
    facts = {"what": put(ENTRY_IN_WORDS[entry.kind]), "number": entry.other, "object": entry.found}
    return put(said, terms, {"n": grouped(entry.pieces), **facts})


def lifted_figures(lifted: int) -> tuple[Figure, ...]:
    """Return how many sherds were lifted out of the rows as pieces: they count, and stand at the bench of pieces."""
    return (Figure(grouped(lifted), plural("lifted out as a piece", "lifted out as pieces", lifted)),) if lifted else ()


def explained_words(kind: Entry, pieces: int, why: str) -> str:
    """Return an explanation as it is read back: 1 not a sherd (pebble)."""
    return f"{grouped(pieces)} {put(ENTRY_IN_WORDS[kind])}{_because(why)}"


def _because(why: str) -> str:
    return f" ({why.replace('_', ' ')})" if why else ""


def kept_words(state: SortingState, around: WordsAround) -> str:
    """Return what became of a row that was half typed when the next container came, or what is here again."""
    if state.lines.found_again:
        waiting = len(state.lines.waiting())
        half_typed = [_("a half typed row")] if state.lines.half_found else []
        rows = [plural("{n} row not written", "{n} rows not written", waiting)] if waiting else []
        kept = _("Kept from before the window was closed: {rows}.").format(rows=", ".join((*half_typed, *rows)))
        return f"{kept} {_('F2 leads to a row that waits.')}" if rows else kept
    if state.kept_of is None:
        return ""
    number, half = state.kept_of
    said = in_short(half, state.lists)
    return around.say(
        N_("Half a row of {container} {number} is kept: {said}. It is back when {number} is."), number=number, said=said
    )


_DONE = {
    "add_groups": N_("the paste of {said} rows"),
    "change_group": N_("the change {said}"),
    "say_why": N_("the reason given for {said}"),
    "remove_group": N_("the removal of {said}"),
    "draw_share": N_("the share drawn of {said}"),
    "lift_pieces": N_("the lifting of {said}"),
    "lay_back": N_("the laying back of {said}"),
    "answer_entry": N_("the taking back of {said}"),
    "count_again": N_("the count {said}"),
    "count_at_sorting": N_("the count {said}"),
    "take_sample": N_("sample {said}"),
    "use_up_sample": N_("sample used up {said}"),
    "gather_vessel": N_("the gathering into vessel {said}"),
    "leave_vessel": N_("the taking out of vessel {said}"),
    "change_piece": N_("what was said of piece {said}"),
    "register_object": N_("object {said}"),
    "take_out": N_("what was taken out, {said}"),
    "read_container": N_("the reading {said}"),
    "correct_reading": N_("the reading {said}"),
}
"""What was done, as it stands behind "takes back"; what is not named says enough of itself."""


def done_words(deed: str, said: str) -> str:
    """Return an act as it is offered: QRS rim 11, keep; the lifting of 131.1; 1 not a sherd (pebble)."""
    if deed == "add_groups":
        return plural("the paste of {n} row", "the paste of {n} rows", int(said)) if said.isdigit() else said
    return put(_DONE.get(deed, "{said}"), None, {"said": said.replace("_", " ")})


def turn_words(state: SortingState) -> str:
    """Return what the next taking back and doing again are about, and what was done since and stays."""
    turn, lines = state.turn, state.lines
    removed, again = lines.to_bring_back(turn.since), lines.to_remove_again(turn.since)
    told = []
    if removed is not None:
        told.append((N_("Ctrl+Z brings back: {what}"), row_words(removed.line, state)))
    elif turn.back:
        told.append((N_("Ctrl+Z takes back: {what}"), done_words(turn.back.deed, turn.back.said)))
    if turn.stays and removed is None:
        told.append((N_("not by Ctrl+Z: {what}"), done_words(turn.stays.deed, turn.stays.said)))
    if again is not None:
        words = N_("Ctrl+Y gives up again: {what}") if again.change_of else N_("Ctrl+Y removes again: {what}")
        told.append((words, row_words(again.line, state)))
    elif turn.again:
        told.append((N_("Ctrl+Y does again: {what}"), done_words(turn.again.deed, turn.again.said)))
    return "   ·   ".join(put(words, None, {"what": what}) for words, what in told)


def row_words(line: TableLine, state: SortingState) -> str:
    """Return a row as it is read back aloud."""
    return in_short(state.texts_of(line), state.lists)


def doubt_words(state: SortingState) -> str:
    """Return that rows wait, are decided against a rule without a reason, or are to be discarded and look late."""
    waiting, untold = len(state.lines.waiting()), len(state.lines.wanting_why())
    told = [plural("{n} row waits with a doubt: F2", "{n} rows wait with a doubt: F2", waiting)] if waiting else []
    if untold:
        told.append(wanting_why_words(untold))
    late = _late_and_to_discard(state)
    if late:
        told.append(plural("{n} to discard looks late here", "{n} to discard look late here", late))
    return "   ·   ".join(told)


def _late_and_to_discard(state: SortingState) -> int:
    """Return how many sherds look late for their sealed deposit and are to be discarded: few were dated at first."""
    rows = (line.row for line in state.lines.lines if line.row is not None and state.looks_late(line))
    return sum(row.pieces for row in rows if row.decision is Decision.DISCARD and not row.discarded)


def wanting_why_words(rows: int) -> str:
    """Return that so many rows are decided against a rule without a reason, and the key that leads to them."""
    return plural("{n} row against a rule, no reason yet: F2", "{n} rows against a rule, no reason yet: F2", rows)
