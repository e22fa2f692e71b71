"""Describing a piece: everything that is said of it, checked, in the excavation's own spelling."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any, TypedDict, Unpack

from sqlalchemy import func, select

from findsdesk.desk.decided import decide
from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.editing import ask, refuse_if_moved
from findsdesk.desk.finding_pieces import piece_of, piece_there
from findsdesk.desk.group_checks import check_group, several_named, words_named
from findsdesk.desk.group_rows import GroupFacts, GroupOf, columns_of, count_in, is_diagnostic
from findsdesk.desk.listed_discards import need_off_lists
from findsdesk.desk.on_the_table import need_on_table
from findsdesk.desk.piece_rows import COLOURS, MEASURED, PieceRow, piece_name, piece_row
from findsdesk.desk.word_lists import WordLists, words_of
from findsdesk.domain.balance import Decision
from findsdesk.domain.inclusions import LISTS, read_inclusions
from findsdesk.domain.munsell import read_munsell
from findsdesk.domain.pieces import DiameterMethod, Measures, check_measures, check_years, over_a_whole
from findsdesk.domain.unknown_words import unknown_word
from findsdesk.store.models import Container, Form, Piece, Vessel, Ware


class PieceSaid(TypedDict, total=False):
    """What may be said of a piece: a field left out stays, None or '' empties it.

    ``ware`` and ``form`` are codes; words may be keys or names; colours are Munsell notations; inclusions are written
    like ``quartz, common, fine; grog, 10 %``; years are astronomical (0 is 1 BCE).
    """

    ware: str
    form: str
    part: str
    surface: str
    decoration: str
    condition: str
    pieces: int
    tenths: int | None
    decision: Decision
    reason: str
    rim_permille: int | None
    base_permille: int | None
    rim_diameter_mm: int | None
    base_diameter_mm: int | None
    diameter_method: str
    diameter_uncertainty_mm: int | None
    base_method: str
    base_uncertainty_mm: int | None
    chord_tenths_mm: int | None
    sagitta_tenths_mm: int | None
    height_mm: int | None
    wall_tenths_mm: int | None
    colour_surface: str
    colour_inside: str
    colour_core: str
    colour_slip: str
    firing: str
    inclusions: str
    earliest: int | None
    latest: int | None
    dated_by: str
    parallels: str
    conservation: str
    drawing: str
    drawing_wanted: bool
    photo_wanted: bool
    note: str


OF_A_GROUP = (
    "part",
    "surface",
    "decoration",
    "condition",
    "pieces",
    "tenths",
    "decision",
    "reason",
    "rim_permille",
    "base_permille",
    "note",
)
COUNTED = ("ware_id", "pieces", "tenths", "decision")
"""What moves the ledger: changed only while the container lies on the table."""
DECIDES = frozenset({"ware", "form", "part", "decoration", "condition", "decision", "reason"})
"""What the retention policy looks at."""
SHARES = {"tenths": "grams", "rim_permille": "rim", "base_permille": "base"}


def change_piece(desk: Desk, piece_id: int, *, seen: int, sure: bool = False, **said: Unpack[PieceSaid]) -> PieceRow:
    """Change what is said of a piece of the version ``seen``. Opposite: the change back.

    Refusals: ``piece_gone``, ``changed_meanwhile``, ``on_discard_list``, those of ``check_group``, of ``decide``, of
    ``check_measures``, of reading colours and inclusions, ``range_reversed``; and of the route, where the ledger moves
    in a container that is off the table. Questions: ``rim_over_whole``, ``base_over_whole``.
    """
    with desk.deed("change_piece") as deed:
        row = piece_there(deed.session, piece_id)
        return _changed(deed, row, seen, said, sure=sure)


def describe_piece(desk: Desk, piece: str, *, sure: bool = False, **said: Unpack[PieceSaid]) -> PieceRow:
    """Change what is said of the piece of a code or name, as it stands now.

    Refusals: those of finding it and of ``change_piece``.
    """
    with desk.deed("change_piece") as deed:
        row = piece_of(deed.session, desk, piece)
        return _changed(deed, row, row.version, said, sure=sure)


def _changed(deed: Deed, row: Piece, seen: int, said: PieceSaid, *, sure: bool) -> PieceRow:
    container = deed.session.get_one(Container, row.container_id)
    values = _checked(deed, container, row, said)
    refuse_if_moved(deed.session, row, seen, values)
    moved = {name: value for name, value in values.items() if value != getattr(row, name)}
    counted = any(name in moved for name in COUNTED)
    if counted:
        _need_movable(deed, container, row)
        count_in(deed, container, row, -1)
    for name, value in moved.items():
        setattr(row, name, value)
    if counted:
        count_in(deed, container, row, 1)
    # What is shared and not measured follows from the others.
    told = ", ".join(_called(name) for name in moved if name != "shared")
    deed.said = f"{piece_name(container, row)}: {told}" if told else piece_name(container, row)
    ask_whole(deed, row.vessel_id, sure=sure)
    return piece_row(deed, row)


_CALLED = {
    "tenths": "grams",
    "rim_permille": "rim %",
    "base_permille": "base %",
    "rim_diameter_mm": "rim diameter",
    "base_diameter_mm": "base diameter",
    "diameter_uncertainty_mm": "how sure the diameter is",
    "diameter_method": "how the diameter was found",
    "base_uncertainty_mm": "how sure that of the base is",
    "base_method": "how that of the base was found",
    "chord_tenths_mm": "chord",
    "sagitta_tenths_mm": "height of the arc",
    "wall_tenths_mm": "wall",
    "height_mm": "height",
    "earliest": "from the year",
    "latest": "to the year",
    "colour_surface": "colour outside",
}


def _called(column: str) -> str:
    """Return what a person calls a column of a piece."""
    return _CALLED.get(column, column.removesuffix("_id").replace("_", " "))


def _need_movable(deed: Deed, container: Container, row: Piece) -> None:
    need_off_lists(deed.session, row)
    need_on_table(deed, container)


def ask_whole(deed: Deed, vessel_id: int | None, *, sure: bool) -> None:
    """Ask where the pieces of a vessel have more than a whole rim or base between them."""
    if vessel_id is None:
        return
    deed.session.flush()
    vessel = deed.session.get_one(Vessel, vessel_id)
    rim, base = deed.session.execute(
        select(func.sum(Piece.rim_permille), func.sum(Piece.base_permille)).where(Piece.vessel_id == vessel_id)
    ).one()
    for name, permille in (("rim", rim), ("base", base)):
        ask(deed, over_a_whole(name, int(permille or 0), {"vessel": vessel.number}), sure)


def _checked(deed: Deed, container: Container, row: Piece, said: PieceSaid) -> dict[str, Any]:
    """Return what is to be written, by the names of the columns."""
    values = _as_of_a_group(deed, container, row, said)
    for name in (*MEASURED, "earliest", "latest", "drawing_wanted", "photo_wanted"):
        if name in said:
            values[name] = said[name]  # type: ignore[literal-required]
    for name, read in _READ.items():
        if name in said:
            values[name] = read(str(said[name] or ""), words_of(deed.desk))  # type: ignore[literal-required]
    if "shared" not in values:
        own = {word for name, word in SHARES.items() if name in said}
        values["shared"] = " ".join(word for word in row.shared.split() if word not in own)
    now = {name: values.get(name, getattr(row, name)) for name in (*MEASURED, "earliest", "latest")}
    check_measures(Measures(**{name: now[name] for name in MEASURED}))
    check_years(now["earliest"], now["latest"])
    return values


def _as_of_a_group(deed: Deed, container: Container, row: Piece, said: PieceSaid) -> dict[str, Any]:
    """Return what a piece shares with groups, checked as theirs is."""
    ware = deed.session.get(Ware, row.ware_id) if row.ware_id is not None else None
    form = deed.session.get(Form, row.form_id) if row.form_id is not None else None
    before = {name: getattr(row, name) for name in OF_A_GROUP} | {
        "ware": ware.code if ware else "",
        "form": form.code if form else "",
        "decision": Decision(row.decision),
        "rule": row.rule,
        "proposed": row.proposed,
    }
    mine: dict[str, Any] = {name: said[name] for name in before if name in said}  # type: ignore[literal-required]
    if not mine:
        return {}
    decided = mine.get("decision", before["decision"]) == before["decision"]
    stays = {} if decided else {"reason": "", "rule": "", "proposed": ""}
    lists = words_of(deed.desk)
    facts, of = _checked_facts(deed, row, GroupFacts(**(before | stays | mine)), lists)
    if not mine.keys().isdisjoint(DECIDES):
        facts = decide(deed, container, facts, facts.decision, GroupFacts(**before))
    return columns_of(facts, of) | {"diagnostic": is_diagnostic(facts, lists)}


def _checked_facts(deed: Deed, row: Piece, said: GroupFacts, lists: WordLists) -> tuple[GroupFacts, GroupOf]:
    """Check what is said of a piece; one that a sample used up is described further with no sherd left."""
    used_up = row.pieces == said.pieces == 0
    facts, of = check_group(deed.session, replace(said, pieces=1) if used_up else said, lists)
    return replace(facts, pieces=said.pieces), of


def _munsell(text: str, _lists: WordLists) -> str:
    return str(read_munsell(text)) if text.strip() else ""


def _method(text: str, _lists: WordLists) -> str:
    try:
        return DiameterMethod(text.strip()).value if text.strip() else ""
    except ValueError:
        raise unknown_word("methods", text, DiameterMethod) from None


def _inclusions(text: str, lists: WordLists) -> list[dict[str, str]]:
    return [one.as_plain() for one in read_inclusions(text, {name: lists[name].in_use for name in LISTS})]


def _plain(text: str, _lists: WordLists) -> str:
    return text.strip()


_READ: dict[str, Callable[[str, WordLists], Any]] = {
    **dict.fromkeys(COLOURS, _munsell),
    **dict.fromkeys(("diameter_method", "base_method"), _method),
    "inclusions": _inclusions,
    "firing": lambda text, lists: several_named("firings", text, lists),
    "conservation": lambda text, lists: words_named("conservation_needs", text, lists),
    "dated_by": _plain,
    "parallels": _plain,
    "drawing": _plain,
}
