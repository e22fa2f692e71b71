"""The data that ships: every route, caution and word list can be used as it stands."""

from __future__ import annotations

import pytest

from findsdesk.desk.shipped import cautions, cautions_at, material_named, route_of, routes, vocabulary
from findsdesk.domain.balance import Decision
from findsdesk.domain.cautions import At
from findsdesk.domain.natural_order import folded
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.routes import Hold, Standing, StepKind, Treatment, allowed
from findsdesk.words import plural, put

LISTS = ["parts", "decisions", "keep_reasons", "discard_reasons", "waiting_reasons", "hold_reasons", "void_reasons",
         "reprint_reasons", "step_back_reasons", "deposit_kinds", "securities", "materials"]  # fmt: skip


def test_the_materials_of_the_yard() -> None:
    assert list(routes()) == [
        "pottery", "bone", "glass", "tile_brick", "metal", "slag", "plaster", "worked_stone", "shell", "beads",
        "charcoal", "soil_sample", "human_bone", "unfired_clay", "organics",
    ]  # fmt: skip


@pytest.mark.parametrize("key", list(routes()))
def test_every_route_hangs_together(key: str) -> None:
    route = route_of(key)
    assert route.key == key
    assert set(route.cautions) <= set(cautions())
    assert route.cautions
    assert not (route.soak and not route.wash)
    assert route.sorted_here <= route.counted
    if route.treatment in (Treatment.CLOSED, Treatment.STOP):
        assert not any((route.soak, route.wash, route.dry_brush, route.counted))
    if route.treatment is Treatment.WET:
        assert route.crate == ""
    else:
        assert route.crate
    assert plural(route.pieces_one, route.pieces_many, 1).startswith("1 ")
    assert plural(route.pieces_one, route.pieces_many, 7).startswith("7 ")


@pytest.mark.parametrize("key", [key for key, route in routes().items() if not route.soak])
def test_the_tub_is_refused_with_a_way_out(key: str) -> None:
    with pytest.raises(Refusal) as caught:
        allowed(route_of(key), Standing.ARRIVED, None, StepKind.SOAKING, looked_at=True, facts={"number": "131"})
    if route_of(key).treatment is Treatment.STOP:
        assert caught.value.code == "stop_route"
        return
    assert caught.value.code == "never_soaked"
    assert "131" in caught.value.in_words()
    assert len(caught.value.in_words().split()) <= 25


def test_bone_metal_clay_organics_plaster_and_samples_are_never_soaked() -> None:
    """Law 3 of the design, after the handling guidance listed in docs/sources.md, "Routes by material"."""
    for key in (
        "bone",
        "metal",
        "unfired_clay",
        "organics",
        "plaster",
        "charcoal",
        "soil_sample",
        "human_bone",
        "glass",
    ):
        assert not route_of(key).soak
    assert route_of("glass").wash
    assert route_of("glass").treatment is Treatment.GENTLE
    assert route_of("bone").treatment is Treatment.SPECIALIST
    assert route_of("human_bone").treatment is Treatment.STOP
    assert route_of("pottery").soak


@pytest.mark.parametrize(
    ("text", "key"),
    [
        ("pottery", "pottery"),
        (" Pottery ", "pottery"),
        ("POT", "pottery"),
        ("Sherds", "pottery"),
        ("Céramique", None),
        ("bone", "bone"),
        ("Animal bone", "bone"),
        ("human bone", "human_bone"),
        ("human_bone", "human_bone"),
        ("soil  sample", "soil_sample"),
        ("Fe", "metal"),
        ("fired daub", "tile_brick"),
        ("tile and brick", "tile_brick"),
        ("worked stone", "worked_stone"),
        ("", None),
        ("moon rock", None),
    ],
)
def test_a_material_is_known_by_what_people_write(text: str, key: str | None) -> None:
    assert material_named(text) == key


def test_no_word_stands_for_two_materials() -> None:
    seen: dict[str, str] = {}
    for key, route in routes().items():
        for word in (key, route.name, *route.aliases):
            assert seen.setdefault(folded(word), key) == key, word
    for term in vocabulary("materials"):
        assert term.group in routes()
        assert seen.get(folded(term.name), term.group) == term.group, term.name


def test_an_unknown_material_is_refused_with_those_known() -> None:
    with pytest.raises(Refusal) as caught:
        route_of("moon_rock")
    assert caught.value.code == "unknown_material"
    assert "pottery" in caught.value.in_words()


@pytest.mark.parametrize("name", LISTS)
def test_word_lists(name: str) -> None:
    terms = vocabulary(name)
    assert len({term.key for term in terms}) == len(terms) >= 3
    assert all(term.name == put(term.name) for term in terms)


def test_word_lists_and_the_program_know_the_same_keys() -> None:
    assert {term.key for term in vocabulary("decisions")} == set(Decision)
    assert {term.key for term in vocabulary("hold_reasons")} == set(Hold)
    assert {term.key for term in vocabulary("securities")} == {"sealed", "unsealed", "mixed"}
    assert len(vocabulary("reprint_reasons")) == 3
    assert {term.key for term in vocabulary("parts") if term.diagnostic} >= {"rim", "base", "handle", "decorated_body"}
    assert not any(term.diagnostic for term in vocabulary("parts") if term.key in ("body", "neck", "shoulder"))


def test_every_danger_of_the_yard_has_its_caution() -> None:
    assert set(cautions()) >= {"lifting", "dust", "sharp_edges", "solvents", "mould", "human_remains", "ordnance",
                               "sun_and_heat", "standing_water", "soft_brush", "asbestos"}  # fmt: skip
    for caution in cautions().values():
        assert caution.at
        assert caution.lead.endswith(".")
        assert put(caution.text) == caution.text
        assert caution.source


def test_cautions_stand_where_the_work_is() -> None:
    assert "solvents" in [caution.key for caution in cautions_at(At.MARK)]
    soaking = [caution.key for caution in cautions_at(At.SOAK, "pottery")]
    assert "lifting" in soaking
    assert "look_first" in soaking
    assert "human_remains" in [caution.key for caution in cautions_at(At.CHECK_IN, "human_bone")]
    sorting = cautions_at(At.SORT, "pottery")
    assert "sharp_finds" in [caution.key for caution in sorting]
    assert not any("water" in caution.lead + caution.text for caution in sorting), "at the sorting table all is dry"
    assert "human_remains" not in [caution.key for caution in cautions_at(At.CHECK_IN, "pottery")]
    assert "sun_and_heat" in [caution.key for caution in cautions_at(At.ALWAYS, "pottery")]
