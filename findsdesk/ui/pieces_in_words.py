"""Pieces in words: what one is, how it measures, what it joins; for the bench, the dossier and the lists."""

from __future__ import annotations

from findsdesk.desk.dossier_pieces import PieceInHand
from findsdesk.desk.joins import JoinedPiece, JoinRow
from findsdesk.desk.piece_rows import PieceRow
from findsdesk.domain.pieces import METHOD_IN_WORDS, DiameterMethod
from findsdesk.domain.years import year_in_words
from findsdesk.ui.widgets.dossier_facts import Section
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_


def what_it_is(piece: PieceRow, around: WordsAround) -> str:
    """Return "QRS rim, bowl QRS1, burnt"."""
    head = " ".join(part for part in (piece.ware, around.listed("parts", piece.part)) if part)
    of_the_surface = (around.listed("surfaces", piece.surface), around.listed("decorations", piece.decoration))
    parts = (head, piece.form, *of_the_surface, around.listed("conditions", piece.condition))
    return ", ".join(part for part in parts if part)


def measured(piece: PieceRow, around: WordsAround) -> str:
    """Return "180 ± 15 mm, 11 % of the rim, from chord and height of the arc", '' where nothing was measured."""
    parts = []
    if piece.rim_diameter_mm is not None:
        parts.append(f"{_unsure(piece.rim_diameter_mm, piece.diameter_uncertainty_mm)} mm")
    if piece.rim_permille is not None:
        parts.append(around.say(N_("{percent} % of the rim"), percent=f"{piece.rim_permille / 10:g}"))
    parts += _found_by(piece.diameter_method, around)
    if piece.base_diameter_mm is not None:
        base = _unsure(piece.base_diameter_mm, piece.base_uncertainty_mm)
        parts.append(around.say(N_("base {diameter} mm"), diameter=base))
    if piece.base_permille is not None:
        parts.append(around.say(N_("{percent} % of the base"), percent=f"{piece.base_permille / 10:g}"))
    parts += _found_by(piece.base_method, around)
    return ", ".join(parts)


def _unsure(diameter: int, uncertainty: int | None) -> str:
    return str(diameter) if uncertainty is None else f"{diameter} ± {uncertainty}"


def _found_by(method: str, around: WordsAround) -> tuple[str, ...]:
    return (around.say(METHOD_IN_WORDS[DiameterMethod(method)]),) if method else ()


def years_of(piece: PieceRow) -> str:
    """Return its years as they are written, '' where it is not dated."""
    if piece.earliest is None and piece.latest is None:
        return ""
    years = ("" if year is None else year_in_words(year) for year in (piece.earliest, piece.latest))
    return "–".join(years)


def from_where(side: JoinedPiece, around: WordsAround) -> str:
    """Return "87.1, context 2019, season 2024" of one side of a join; the season where it is not this one's."""
    parts = [side.name]
    if side.deposit:
        parts.append(around.say(N_("{deposit} {number}"), number=side.deposit))
    if side.season and side.season != str(around.today().year):
        parts.append(around.say(N_("season {season}"), season=side.season))
    return ", ".join(parts)


def piece_sections(in_hand: PieceInHand, around: WordsAround) -> tuple[Section, ...]:
    """Return what a dossier says of the piece in hand."""
    piece, say = in_hand.piece, around.say
    said = "\n".join(part for part in (what_it_is(piece, around), measured(piece, around)) if part)
    facts = (
        (say(N_("Grams")), "" if piece.tenths is None else f"{piece.tenths / 10:g}"),
        (say(N_("Years")), years_of(piece)),
        (say(N_("Drawing")), piece.drawing or (say(N_("wanted")) if piece.drawing_wanted else "")),
        (say(N_("Photographs")), str(piece.photos) if piece.photos else ""),
        (say(N_("Vessel")), "" if piece.vessel is None else str(piece.vessel)),
    )
    title = say(N_("Piece {name}, {code}"), name=piece.name, code=piece.code)
    shown = Section(title, said, tuple(row for row in facts if row[1]))
    if not in_hand.joins:
        return (shown,)
    joins = (_with_doubt(from_where(join.other_than(piece.id), around), join, around) for join in in_hand.joins)
    return shown, Section(say(N_("It joins")), "\n".join(joins))


def join_sections(joins: tuple[JoinRow, ...], around: WordsAround) -> tuple[Section, ...]:
    """Return what a dossier says of joins that lead out of what is in hand."""
    if not joins:
        return ()
    lines = (
        _with_doubt(f"{from_where(join.left, around)} + {from_where(join.right, around)}", join, around)
        for join in joins
    )
    return (Section(around.say(N_("Joins with others")), "\n".join(lines)),)


def _with_doubt(said: str, join: JoinRow, around: WordsAround) -> str:
    return said if join.certain else around.say(N_("{said} (not certain)"), said=said)
