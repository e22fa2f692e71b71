"""A piece is found by its code or its name, with its container; joins stand in the dossiers of both sides."""

from __future__ import annotations

from findsdesk.desk.desk import Desk
from findsdesk.desk.dossiers import DepositDossier, Dossier, find
from findsdesk.desk.finding import container_of
from findsdesk.desk.joins import join_pieces
from findsdesk.domain.codes import Kind, make_code
from findsdesk.ui.dossier_words import found_in_words
from findsdesk.ui.words_around import WordsAround
from tests.desk.at_the_table import refused
from tests.desk.test_joins_and_vessels import put_pieces


def test_a_scanned_piece_is_found_with_its_container(desk: Desk) -> None:
    piece, other = put_pieces(desk, 131)
    join_pieces(desk, piece.id, other.id)
    for said in (piece.code, piece.code.lower(), "131.1", "2026/131.1"):
        found = find(desk, said)
        assert isinstance(found, Dossier)
        assert found.piece is not None
        assert (found.number, found.piece.piece.name, found.piece.joins[0].left.name) == ("131", "131.1", "131.1")
    assert find(desk, "131").piece is None  # type: ignore[union-attr]
    with desk.reading() as reading:
        assert container_of(reading.session, desk, piece.code).number == "131"


def test_a_piece_that_is_not_there(desk: Desk) -> None:
    put_pieces(desk, 131)
    for said, code in (
        ("131.7", "unknown_piece"),
        ("999.1", "unknown_number"),
        (make_code("TQ", Kind.PIECE, 99), "unknown_code"),
    ):
        with refused(desk, code):
            find(desk, said)


def test_joins_show_in_both_containers_and_both_deposits(desk: Desk) -> None:
    (one, same), (other, _) = put_pieces(desk, 131), put_pieces(desk, 87, deposit="2019")
    join_pieces(desk, one.id, other.id)
    join_pieces(desk, one.id, same.id)
    for said in ("131", "87", "2017", "2019"):
        found = find(desk, said)
        assert isinstance(found, Dossier | DepositDossier)
        assert [{join.left.name, join.right.name} for join in found.joins] == [{"131.1", "87.1"}], said


def test_the_dossier_says_what_a_piece_is_and_what_it_joins(desk: Desk) -> None:
    piece, _ = put_pieces(desk, 131)
    other, _ = put_pieces(desk, 87, deposit="2019")
    join_pieces(desk, piece.id, other.id, certain=False)
    found = found_in_words(find(desk, "131.1"), WordsAround.of(desk))
    assert found.dossier is not None
    sections = {section.title: section.text for section in (*found.dossier.asked, *found.dossier.sections)}
    assert sections[f"Piece 131.1, {piece.code}"] == "QRS rim"
    assert sections["It joins"] == "87.1, context 2019 (not certain)"
    assert sections["Joins with others"] == "131.1, context 2017 + 87.1, context 2019 (not certain)"
