"""The register of pieces: every sherd recorded on its own, over all containers and seasons."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace

from sqlalchemy import String, and_, cast, false, func, literal_column, or_, select

from findsdesk.desk.container_register import of_container, says
from findsdesk.desk.desk import Reading
from findsdesk.desk.filters_of_finds import by_container, by_origin, by_type, of_type_called, out_of
from findsdesk.desk.piece_rows import PieceRow, piece_rows
from findsdesk.desk.register_windows import Condition, Key, Source
from findsdesk.desk.vessels import vessel_numbered
from findsdesk.desk.word_lists import SHIPPED, words_of
from findsdesk.domain.natural_order import folded
from findsdesk.domain.refusals import Refusal
from findsdesk.store.models import Container, Form, Piece, Season, Ware, Word
from findsdesk.words import N_

WANTS = {"drawing": Piece.drawing_wanted, "photo": Piece.photo_wanted}
"""What a piece may still want."""


def of_containers(word: str) -> Condition:
    """Return the condition that a piece's container or deposit holds a folded word."""
    return out_of(Piece.container_id, of_container(word))


def _holds_word(word: str) -> Condition:
    return or_(
        says(Piece.search_text, word),
        of_type_called(Piece.ware_id, Ware, word),
        of_type_called(Piece.form_id, Form, word),
        _of_parts_called(word),
        _named(word),
        _of_a_season(word),
        of_containers(word),
    )


def _of_parts_called(word: str) -> Condition:
    """Return the condition that the part of the vessel holds a folded word in its name, shipped or the excavation's."""
    said = _without_signs(word)
    shipped = [term.key for term in SHIPPED["parts"].every if said in folded(term.name)]
    own = select(Word.key).where(Word.list == "parts", Word.name.ilike(word, escape="/"))
    return or_(Piece.part.in_(shipped), Piece.part.in_(own))


def _named(word: str) -> Condition:
    """Return the condition that a piece is called by a word, or its name begins so: 90.4, and 90.41 too."""
    container, dot, number = _without_signs(word).rpartition(".")
    if not (dot and container and (number.isdecimal() or not number)):
        return false()
    return and_(
        Piece.container_id.in_(select(Container.id).where(func.lower(Container.number) == container)),
        cast(Piece.number, String).like(f"{number}%"),
    )


def _of_a_season(word: str) -> Condition:
    """Return the condition that a piece is of a season, and called as is said behind it: 2024/, 2024/87, 2024/87.3.

    Without a point the number of the container may go on, with one the number of the piece.
    """
    season, stroke, name = _without_signs(word).rpartition("/")
    if not (stroke and season):
        return false()
    of_season = select(Container.id).join(Season).where(func.lower(Season.name) == season)
    container, dot, number = name.rpartition(".")
    if not dot:
        begins = Container.number_folded.like(f"{_escaped(name)}%", escape="/")
        return Piece.container_id.in_(of_season.where(begins))
    if not (number.isdecimal() or not number):
        return false()
    return and_(
        Piece.container_id.in_(of_season.where(Container.number_folded == container)),
        cast(Piece.number, String).like(f"{number}%"),
    )


def _escaped(text: str) -> str:
    """Return a text as a pattern of LIKE that means just this text."""
    return re.sub(r"([/%_])", r"/\1", text)


def _without_signs(word: str) -> str:
    """Return the word that a pattern of LIKE was made of."""
    return re.sub(r"/(.)", r"\1", word[1:-1])


def _of_vessels(reading: Reading, values: Sequence[str]) -> Condition:
    numbers = [int(value) for value in values if value.strip().isdecimal()]
    ids = [vessel_numbered(reading.session, number).id for number in numbers]
    return Piece.vessel_id.in_(ids) if ids else false()


def _wants(_reading: Reading, values: Sequence[str]) -> Condition:
    unknown = [value for value in values if value not in WANTS]
    if unknown:
        raise Refusal(
            "unknown_want",
            N_("A piece may want a drawing or a photo, not “{said}”."),
            said=", ".join(unknown),
        )
    return or_(*(WANTS[value] for value in values))


def _rows(reading: Reading, keys: Sequence[Key]) -> Mapping[Key, PieceRow]:
    return {row.id: row for row in piece_rows(reading.session, keys, words_of(reading.desk))}


PIECES = Source(
    key=Piece.id,
    sorts={"code": (Piece.code,), "lifted": (Piece.lifted_at,)},
    filters={
        **by_container(Piece.container_id),
        **by_origin(Piece.container_id),
        **by_type(Piece.ware_id, Piece.form_id, Piece.part),
        "vessel": _of_vessels,
        "wants": _wants,
    },
    holds_word=_holds_word,
    rows=_rows,
)
DRAWINGS = replace(PIECES, sorts={"drawing": (Piece.drawing,)}, only=Piece.drawing > literal_column("''"))
"""The pieces of which there is a drawing, by the name of it."""
