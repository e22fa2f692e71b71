"""Counts, weights and the diagnostic share; elements that parts of a vessel carry. All values are our own."""

from fractions import Fraction

import pytest

from findsdesk.desk.shipped import vocabulary
from findsdesk.domain.counts_as import CountsAs
from findsdesk.domain.figures import UNIT_IN_WORDS, Unit
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.sherd_counts import diagnostic_share, grams, sherds
from findsdesk.domain.vessel_elements import Carriers, as_it_ships, carriers
from findsdesk.domain.vessels import FEWEST_VESSELS, Element


def test_counts_weights_and_shares() -> None:
    assert (sherds(132).value, sherds(132).unit) == (132, Unit.SHERDS)
    assert (grams(23320).value, grams(23320).unit) == (2332, Unit.GRAMS)
    assert (diagnostic_share(17, 132).value, diagnostic_share(17, 132).unit) == (Fraction(1700, 132), Unit.PERCENT)
    with pytest.raises(Refusal) as refused:
        diagnostic_share(0, 0)
    assert refused.value.code == "no_sherds"
    assert set(UNIT_IN_WORDS) == set(Unit)


def test_every_element_that_vessels_are_counted_by_is_carried_by_some_shipped_part() -> None:
    """What the formula names under the pointer is counted: no element stands there that no sherd ever carries."""
    carried = {element for term in vocabulary("parts") for element in Carriers().elements_of(term.key, None, None)}
    assert carried == set(Element)
    assert all(element.value in FEWEST_VESSELS.formula for element in Element)
    assert "handle" not in FEWEST_VESSELS.formula


@pytest.mark.parametrize(
    ("part", "rim", "base", "carried"),
    [
        ("rim", None, None, {Element.RIM}),
        ("rim_handle", 80, None, {Element.RIM}),
        ("foot", None, 500, {Element.BASE}),
        ("profile", None, None, {Element.RIM, Element.BASE}),
        ("lid", None, None, set()),
        ("lid", 120, None, {Element.RIM}),
        ("body", 0, 0, set()),
    ],
)
def test_what_a_part_carries(part: str, rim: int | None, base: int | None, carried: set[Element]) -> None:
    assert Carriers().elements_of(part, rim, base) == carried


def test_what_an_excavation_says_of_a_part_goes_before_how_it_ships() -> None:
    said = {"edge": "rim", "stand": "base", "cup": "both", "strap": "handle", "foot": "neither", "rim": ""}
    ours = carriers(said)
    assert ours.rims == {"rim", "rim_handle", "profile", "complete", "edge", "cup"}
    assert ours.bases == {"base", "profile", "complete", "stand", "cup"}
    assert ours.elements_of("cup", None, None) == {Element.RIM, Element.BASE}
    assert ours.elements_of("strap", 120, None) == {Element.RIM}
    assert carriers({}) == Carriers()


def test_what_ships_says_what_it_counts_as_where_it_is_the_same_for_all_of_its_sherds() -> None:
    meant = {term.key: as_it_ships(term.key) for term in vocabulary("parts")}
    assert carriers(meant) == Carriers()
    assert {part for part, counts_as in meant.items() if counts_as is CountsAs.NOT_SAID} == {
        "lid", "lamp", "spout", "other",
    }  # fmt: skip
    assert as_it_ships("lug") is CountsAs.NOT_SAID
