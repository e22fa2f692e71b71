"""What the asking line asks, in words, with what is proposed."""

from __future__ import annotations

from findsdesk.desk.group_rows import GroupRow
from findsdesk.desk.shares import ShareAhead
from findsdesk.desk.sorting_table import EntryRow
from findsdesk.domain.balance import Decision
from findsdesk.domain.retention import Share
from findsdesk.ui.benches.sorting.ask_line import About, Asking
from findsdesk.ui.benches.sorting.lines import TableLine
from findsdesk.ui.benches.sorting.row_words import in_short
from findsdesk.ui.benches.sorting.state import SortingState
from findsdesk.ui.benches.sorting.table_words import entry_words
from findsdesk.ui.benches.sorting.typed_row import as_typed
from findsdesk.words import N_, Terms, _, put


def explanation_asking(about: About, state: SortingState) -> Asking:
    """Return the question for an explanation; proposed is what is left for "not found", what is over for "more"."""
    ledger = state.ledger()
    if about is About.NOT_A_SHERD:
        whys: tuple[str, ...] = (_("pebble"), _("plaster"), _("root or wood"), _("bone"), _("modern"))
        return Asking(about, _("Not a sherd"), _("Write"), 1, has_grams=True, whys=whys)
    if about is About.FOUND_MORE:
        whys = (_("counted too few"), _("found in the crate"), _("stuck together"))
        return Asking(about, _("Found more"), _("Write"), max(1, ledger.over), has_grams=True, whys=whys)
    whys = (_("counted too many"), _("crumbled"), _("lost"))
    return Asking(about, _("Not found"), _("Write"), max(1, ledger.unsorted), has_grams=True, whys=whys)


def count_asking(state: SortingState) -> Asking:
    """Return the question for a count at the table, the first one or one more."""
    if state.counted:
        whys = (_("does not agree"), _("counted anew"))
        return Asking(About.COUNT, _("Count again"), _("Write"), whys=whys)
    return Asking(About.COUNT, _("Count it here"), _("Write"), has_grams=True, has_why=False)


def answer_asking(entry: EntryRow, terms: Terms) -> Asking:
    """Return the question why an explanation is answered by its opposite."""
    heading = _("Take back: {entry}").format(entry=entry_words(entry, terms))
    whys = (_("typed wrongly"), _("found after all"))
    return Asking(About.ANSWER, heading, _("Take back"), has_number=False, whys=whys, of=entry.id)


def reopen_asking(state: SortingState) -> Asking:
    """Return the question why a settled container is opened again."""
    number = state.dossier.number if state.dossier else ""
    heading = put(N_("Open {container} {number} again"), state.terms, {"number": number})
    whys = (_("look again"), _("sorted wrongly"), _("more was found"))
    return Asking(About.REOPEN, heading, _("Open it"), has_number=False, whys=whys)


def why_asking(row: GroupRow, state: SortingState) -> Asking:
    """Return the question why a row is decided against its rule; nothing is proposed, for somebody is to say it."""
    facts = {"rule": row.facts.rule, "row": in_short(as_typed(row, state.lists), state.lists)}
    facts["says"] = state.lists.decision_word(Decision(row.facts.proposed))
    heading = put(N_("“{rule}” says {says}; decided is {row}. Why?"), None, facts)
    whys = tuple(choice.word for choice in state.lists.reasons[row.decision].of)
    return Asking(
        About.WHY, heading, _("Write"), has_number=False, whys=whys, proposes_why=False, of=row.id, seen=row.version,
        decided=row.decision,
    )  # fmt: skip


def lift_asking(line: TableLine, state: SortingState) -> Asking | None:
    """Return the question how many sherds of a row are lifted out as pieces; None for a row not in the store yet."""
    if line.row is None:
        return None
    row = line.row
    heading = put(N_("Lift out of {row}"), None, {"row": in_short(state.texts_of(line), state.lists)})
    return Asking(
        About.LIFT, heading, _("Lift out"), 1, has_grams=row.tenths is not None, has_why=False, of=row.id,
        seen=row.version,
    )  # fmt: skip


def vessel_asking(line: TableLine, state: SortingState) -> Asking | None:
    """Return the question into which vessel a row goes; None for a row not in the store yet."""
    if line.row is None:
        return None
    heading = put(N_("Gather {row} into a vessel"), None, {"row": in_short(state.texts_of(line), state.lists)})
    discarded = line.row.decision is Decision.DISCARD
    return Asking(
        About.VESSEL, heading, _("Gather"), number_may_stay_empty=True,
        number_words=_("Its number, empty for a new one"), has_why=False, of=line.row.id,
        mends=line.row.decision is Decision.MEND, caution=_to_be_discarded() if discarded else "",
    )  # fmt: skip


def _to_be_discarded() -> str:
    return _("These sherds are to be discarded. If they are kept with the vessel, change that in their row first.")


def share_asking(ahead: ShareAhead, lot: int) -> Asking:
    """Return the question where a share starts; carried on from an earlier row it starts where that one ended.

    Grams are asked for only where the row is parted, or may be.
    """
    share = ahead.share
    facts = {"what": ahead.what, "all": ahead.laid_out, "step": ahead.one_in, "first": ahead.first, "rule": ahead.rule}
    facts |= {"next": share.carried + 1, "more": share.more} if share is not None else {}
    parted = share is None or 0 < share.kept < share.laid_out
    return Asking(
        About.SHARE, put(_share_words(share), None, facts), _("Draw"), lot if ahead.needs_lot else None,
        has_number=ahead.needs_lot, number_words=_("Start at"), has_grams=parted, grams_words=_("Grams kept"),
        has_why=False, of=ahead.group_id, seen=ahead.version,
    )  # fmt: skip


def _share_words(share: Share | None) -> str:
    """Return the marked sentence that says which sherds of a row are kept."""
    if share is None:
        return N_("{what}, {all} laid out, 1 in {step}, “{rule}”: the lot says which one to start at.")
    if not share.kept and share.step:
        return N_("{what}, {all} laid out: none of these is kept. The next one kept is number {next} of those to come.")
    if not share.kept:
        return N_("{what}, {all} laid out, “{rule}”: enough are kept already, none of these is.")
    if share.kept == share.laid_out:
        return N_("{what}, {all} laid out, “{rule}”: all of these are kept.")
    if not share.drawn:
        return N_("{what}, {all} laid out, “{rule}”: the first {more} of these are kept.")
    if share.more:
        return N_("{what}, {all} laid out: start at {first}, then every {step}th, and {more} more from the beginning.")
    return N_("{what}, {all} laid out: start at {first}, then every {step}th, carried on.")
