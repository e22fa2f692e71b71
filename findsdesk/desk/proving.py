"""Proving a store: chains, lines, kept totals, standings, references, the file; says what is wrong and where."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from itertools import islice

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from findsdesk.desk.deed_words import DEED_IN_WORDS, KIND_IN_WORDS
from findsdesk.desk.desk import Desk
from findsdesk.desk.loan_results import wrong_results
from findsdesk.desk.mark_sums import SORTED
from findsdesk.desk.photos import wrong_photos
from findsdesk.desk.shipped import routes
from findsdesk.desk.standing_together import sorted_here
from findsdesk.domain.standings import STANDING_IN_WORDS, Standing
from findsdesk.store.bags_proved import wrong_bags
from findsdesk.store.chains import WrongEntry, walk_chains
from findsdesk.store.discards_proved import wrong_discards
from findsdesk.store.emptied import empty_beside_sorted
from findsdesk.store.hand_overs_proved import wrong_hand_overs
from findsdesk.store.journal import short_head, store_head
from findsdesk.store.marks_proved import wrong_marks
from findsdesk.store.models import Container, Station
from findsdesk.store.photo_folder import PhotoState
from findsdesk.store.rows_told import WrongRow, wrong_rows
from findsdesk.store.shelves_proved import WrongShelf, wrong_loans, wrong_shelves
from findsdesk.store.soundness import damage, dangling
from findsdesk.store.sums import WrongTotal, wrong_balances, wrong_standings, wrong_wares
from findsdesk.store.texts_proved import wrong_texts
from findsdesk.words import N_, CountOf, Terms, put

MOST_FINDINGS = 200
"""How many findings of one kind are named; what is wrong in one place is often wrong in a thousand."""


class FindingKind(StrEnum):
    """What was found wrong."""

    FILE = "file"
    CHAIN = "chain"
    ROW = "row"
    TOTAL = "total"
    STANDING = "standing"
    REFERENCE = "reference"
    PHOTO = "photo"
    DISCARD = "discard"
    RESULT = "result"
    SHELF = "shelf"
    LOAN = "loan"
    MARK = "mark"
    BAG = "bag"
    EMPTY = "empty"
    HAND_OVER = "hand-over"
    SEARCH = "search"


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that is wrong: ``what`` is a message key, ``facts`` fill it, ``where`` names the place plainly."""

    kind: FindingKind
    what: str
    where: str
    facts: Mapping[str, object] = field(default_factory=dict)

    def in_words(self, terms: Terms | None = None, language: str | None = None) -> str:
        """Return the sentence a person reads."""
        return put(self.what, terms, self.facts, language)


@dataclass(frozen=True, slots=True)
class Proof:
    """What was looked at, and what was found wrong; nothing found means that the store is sound."""

    findings: tuple[Finding, ...]
    stations: int
    acts: int
    lines: int
    containers: int
    head: str

    @property
    def sound(self) -> bool:
        """Tell whether nothing was found wrong."""
        return not self.findings


def prove(desk: Desk) -> Proof:
    """Prove the store as it stands at one moment; of a damaged file nothing else is looked at.

    A file too damaged to be opened raises StoreFault ``damaged``.
    """
    with desk.reading() as reading:
        session = reading.session
        broken = tuple(_of_the_file(session))
        if broken:
            return Proof(broken, stations=0, acts=0, lines=0, containers=0, head="")
        walked = walk_chains(session)
        checks = (
            (_of_an_entry(one, desk.terms) for one in walked.wrong),
            (_of_a_row(one, desk.terms) for one in wrong_rows(session)),
            (_of_a_balance(one) for one in wrong_balances(session)),
            (_of_a_ware(one) for one in wrong_wares(session)),
            _of_standings(session),
            _of_references(session),
            _of_photos(session, desk),
            _of_discards(session),
            _of_results(session, desk),
            (_of_a_shelf(one, FindingKind.SHELF, desk.terms) for one in wrong_shelves(session)),
            (_of_a_shelf(one, FindingKind.LOAN, desk.terms) for one in wrong_loans(session)),
            _of_marks(session),
            _of_bags(session),
            _of_emptied(session),
            _of_hand_overs(session),
            _of_the_search(session),
        )
        return Proof(
            findings=tuple(finding for check in checks for finding in islice(check, MOST_FINDINGS)),
            stations=session.execute(select(func.count()).select_from(Station)).scalar_one(),
            acts=walked.acts,
            lines=walked.lines,
            containers=session.execute(select(func.count()).select_from(Container)).scalar_one(),
            head=short_head(store_head(session)),
        )


def _of_the_file(session: Session) -> Iterator[Finding]:
    for said in damage(session):
        yield Finding(FindingKind.FILE, N_("The file is damaged: {said}"), "file", {"said": said})


_ENTRY_IN_WORDS = {
    "changed": N_("Act {running} at {station} ({deed}, {person}: {said}) was changed after it was written."),
    "missing": N_("Act {running} at {station} is missing from the journal."),
    "broken": N_("Act {running} at {station} ({deed}, {person}: {said}) does not follow from the act before it."),
    "head": N_("The chain of {station} does not end in its act {running}, as the station has it."),
}


def _of_an_entry(one: WrongEntry, terms: Terms) -> Finding:
    facts = {
        "station": one.station,
        "running": one.running,
        "deed": put(DEED_IN_WORDS.get(one.deed, one.deed), terms),
        "person": one.person,
        "said": one.said,
        "act": one.act_id,
    }
    return Finding(FindingKind.CHAIN, _ENTRY_IN_WORDS[one.why], f"{one.station} {one.running}", facts)


_ROW_IN_WORDS = {
    "differs": N_("A row ({kind} {row_id}) is not what the journal says of it: {columns}."),
    "untold": N_("A row ({kind} {row_id}) is unknown to the journal."),
    "gone": N_("A row ({kind} {row_id}) is known to the journal and is not there."),
}


def _of_a_row(one: WrongRow, terms: Terms) -> Finding:
    kind = put(KIND_IN_WORDS.get(one.kind, one.kind), terms)
    facts = {"kind": kind, "row_id": one.row_id, "columns": ", ".join(one.columns)}
    return Finding(FindingKind.ROW, _ROW_IN_WORDS[one.why], f"{one.kind} {one.row_id}", facts)


def _of_a_balance(one: WrongTotal) -> Finding:
    return Finding(
        FindingKind.TOTAL,
        N_("The balance of {container} {number} ({material}) keeps {kept} as {column}; its rows sum to {summed}."),
        f"container {one.of}",
        {"number": one.of, "material": one.by, "column": one.column, "kept": one.kept, "summed": one.summed},
    )


def _of_a_ware(one: WrongTotal) -> Finding:
    return Finding(
        FindingKind.TOTAL,
        N_("The total of {ware} in {deposit} {number} keeps {kept} {column}; its groups sum to {summed}."),
        f"deposit {one.of}",
        {"number": one.of, "ware": one.by, "column": one.column, "kept": one.kept, "summed": one.summed},
    )


_STANDINGS = {str(standing): words for standing, words in STANDING_IN_WORDS.items()}


def _of_standings(session: Session) -> Iterator[Finding]:
    for one in wrong_standings(session):
        yield Finding(
            FindingKind.STANDING,
            N_("{Container} {number} is kept as “{kept}”; its steps lead to “{folded}”."),
            f"container {one.number}",
            {
                "number": one.number,
                "code": one.code,
                "kept": put(_STANDINGS.get(one.kept, one.kept)),
                "folded": put(_STANDINGS[one.folded]),
            },
        )


_PHOTO_IN_WORDS = {
    PhotoState.GONE: N_("The file of the photograph {file} is gone from the folder of the photographs."),
    PhotoState.CHANGED: N_("The file of the photograph {file} is not what was taken in."),
}


def _of_photos(session: Session, desk: Desk) -> Iterator[Finding]:
    for file_name, state in wrong_photos(session, desk):
        yield Finding(FindingKind.PHOTO, _PHOTO_IN_WORDS[state], f"photo {file_name}", {"file": file_name})


def _of_references(session: Session) -> Iterator[Finding]:
    for one in dangling(session):
        yield Finding(
            FindingKind.REFERENCE,
            N_("A row of {table} ({row_id}) points at a row of {parent} that is not there."),
            f"{one.table} {one.row_id}",
            {"table": one.table, "row_id": one.row_id, "parent": one.parent},
        )


_DISCARD_IN_WORDS = {
    "gone": N_("Discard list {list} names sherds of {container} {number} that are not there."),
    "differs": N_("Discard list {list} names sherds of {container} {number} that are not as they were listed."),
    "unsigned": N_("Sherds of {container} {number} count as discarded, and no signed list names them."),
}


def _of_discards(session: Session) -> Iterator[Finding]:
    for one in wrong_discards(session):
        facts = {"list": one.list_number, "number": one.container}
        yield Finding(FindingKind.DISCARD, _DISCARD_IN_WORDS[one.why], f"container {one.container}", facts)


_MARKED: dict[str, Callable[[int], CountOf]] = {
    "kept": lambda n: CountOf("{n} sherd bears a mark or slip", "{n} sherds bear a mark or slip", n),
    "checked": lambda n: CountOf("{n} mark", "{n} marks", n),
}
_MARKS_IN_WORDS = {
    "kept": N_("{Container} {number}: {marked}, and {kept} kept."),
    "checked": N_("{Container} {number}: {marked} of one text checked, and {kept} written."),
}


def _of_marks(session: Session) -> Iterator[Finding]:
    for one in wrong_marks(session, SORTED):
        facts = {"number": one.container, "marked": _MARKED[one.why](one.marked), "kept": one.kept}
        yield Finding(FindingKind.MARK, _MARKS_IN_WORDS[one.why], f"container {one.container}", facts)


_PACKED = (Standing.BAGGED, Standing.AWAY)


def _of_bags(session: Session) -> Iterator[Finding]:
    counted = [key for key, route in routes().items() if route.counted]
    for one in wrong_bags(session, _PACKED, sorted_here(), counted):
        text = N_("The bags of {container} {number} hold {bagged}, and {kept} kept.")
        facts = {"number": one.container, "bagged": CountOf("{n} piece", "{n} pieces", one.bagged), "kept": one.kept}
        yield Finding(FindingKind.BAG, text, f"container {one.container}", facts)


def _of_emptied(session: Session) -> Iterator[Finding]:
    for one in empty_beside_sorted(session, sorted_here()):
        text = N_("{Container} {number} counts as empty after washing, and {sorted} and {explained}.")
        facts = {
            "number": one.container,
            "sorted": CountOf("{n} sherd is sorted", "{n} sherds are sorted", one.sorted),
            "explained": CountOf("{n} explained", "{n} explained", one.explained),
        }
        yield Finding(FindingKind.EMPTY, text, f"container {one.container}", facts)


def _of_the_search(session: Session) -> Iterator[Finding]:
    for one in wrong_texts(session):
        if one.kind:
            text = N_("A row ({kind} {row_id}) is not searched by the words it says. Make the search anew.")
            yield Finding(
                FindingKind.SEARCH, text, f"{one.kind} {one.row_id}", {"kind": one.kind, "row_id": one.row_id}
            )
        else:
            yield Finding(FindingKind.SEARCH, N_("The search holds other words than the rows. Make it anew."), "search")


_HAND_OVER_IN_WORDS = {
    "lines": N_("List {list} of what stays open in {season} was signed for {signed_for} and has {there}."),
    "signed": N_("List {list} of what stays open in {season} was signed by one person alone."),
}


def _of_hand_overs(session: Session) -> Iterator[Finding]:
    for one in wrong_hand_overs(session):
        facts = {
            "list": one.number,
            "season": one.season,
            "signed_for": CountOf("{n} line", "{n} lines", one.signed_for),
            "there": one.there,
        }
        yield Finding(FindingKind.HAND_OVER, _HAND_OVER_IN_WORDS[one.why], f"{one.season} {one.number}", facts)


_RESULT_IN_WORDS = {
    PhotoState.GONE: N_("The file of the result {file} is gone from the folder of the photographs."),
    PhotoState.CHANGED: N_("The file of the result {file} is not what was taken in."),
}


def _of_results(session: Session, desk: Desk) -> Iterator[Finding]:
    for file_name, state in wrong_results(session, desk):
        yield Finding(FindingKind.RESULT, _RESULT_IN_WORDS[state], f"result {file_name}", {"file": file_name})


_SHELF_IN_WORDS = {
    "lies": N_("The {kind} {name} is not kept where it was laid last."),
    "both": N_("The {kind} {name} is kept in a box and at a place at once."),
    "gone": N_("The {kind} {name} is kept in something that was given up."),
    "circle": N_("The {kind} {name} lies within itself."),
    "out twice": N_("The {kind} {name} is written as taken out twice."),
    "lent twice": N_("The {kind} {name} holds something that another one holds too."),
    "returns": N_("The {kind} {name} keeps other pieces as back or used up than its returns sum to."),
    "closed": N_("The {kind} {name} is written as done and is not, or the other way round."),
}


def _of_a_shelf(one: WrongShelf, finding: FindingKind, terms: Terms) -> Finding:
    kind = put(KIND_IN_WORDS[one.kind], terms)
    return Finding(finding, _SHELF_IN_WORDS[one.why], f"{one.kind} {one.name}", {"kind": kind, "name": one.name})
