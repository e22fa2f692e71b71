"""Figures of sorted pottery: of a container, its deposit, its square, the season; their dates; the rows behind each.

The container is Oren's of the invented yard; its figures are worked out by hand here (OWN values).
"""

from fractions import Fraction
from math import log

import pytest
from sqlalchemy import update

from findsdesk.desk.deposit_facts import deposit_facts
from findsdesk.desk.deposits import change_deposit, close_deposit
from findsdesk.desk.desk import Desk
from findsdesk.desk.figure_scopes import Of, scope_of
from findsdesk.desk.figure_words import FigureLine, figure_lines, types_in_words
from findsdesk.desk.joins import join_pieces
from findsdesk.desk.objects import Leaves, register_object
from findsdesk.desk.pieces import lift_pieces
from findsdesk.desk.proving import prove
from findsdesk.desk.register_columns import fields_of, wording
from findsdesk.desk.registers import Register
from findsdesk.desk.renumbering import merge_deposits, split_deposit
from findsdesk.desk.rows_behind import Behind, rows_behind
from findsdesk.desk.sherd_figures import FIGURE_IN_WORDS, SherdFigures, figures_of
from findsdesk.desk.sherd_groups import add_group
from findsdesk.desk.sorting_table import table_of
from findsdesk.desk.type_series import add_form
from findsdesk.desk.vessels import gather_vessel
from findsdesk.desk.whole_figures import OF_WARES
from findsdesk.domain.date_profiles import WeighedBy
from findsdesk.domain.date_ranges import DateRange
from findsdesk.domain.refusals import Refusal
from findsdesk.store.models import Deposit, Ware
from tests.desk.at_the_table import dry_container, refused
from tests.yard import last_said


@pytest.fixture
def yard(desk: Desk) -> Desk:
    """Return the yard with bucket 131 of context 2017 on the table, all of its 132 sherds in groups."""
    code = dry_container(desk, 131, 132)
    add_group(desk, code, ware="QRS", part="rim", pieces=11, tenths=3400, rim_permille=850)
    add_group(desk, code, ware="QRS", part="body", pieces=54, tenths=9500)
    add_group(desk, code, ware="TGY", part="handle", pieces=2, tenths=400)
    add_group(desk, code, ware="MBU", part="base", pieces=4, tenths=900, base_permille=400)
    add_group(desk, code, ware="MBU", part="body", pieces=55, tenths=9000)
    add_group(desk, code, ware="CSJ", part="body", pieces=3)
    add_group(desk, code, ware="GGL", part="body", pieces=2)
    add_group(desk, code, ware="", part="body", pieces=1, tenths=120)
    return desk


def of(desk: Desk, kind: Of, which: str = "", **how: object) -> SherdFigures:
    return figures_of(desk, scope_of(desk, kind, which), **how)  # type: ignore[arg-type]


def test_the_figures_of_a_container(yard: Desk) -> None:
    figures = of(yard, Of.CONTAINER, "131")
    said = {one.key: one.figure and one.figure.value for one in figures.figures if one.key in FIGURE_IN_WORDS}
    assert said == {
        "sherds": 132,
        "grams": Fraction(23320, 10),
        "mean_weight": Fraction(23320, 1270),
        "diagnostic": Fraction(100 * 17, 132),
        "rim_eve": Fraction(85, 100),
        "base_eve": Fraction(4, 10),
        "by_rims": 11,
        "fewest": 11 + 1 + 4 + 1 + 1 + 1,
        "most": 132,
        "brokenness": Fraction(132 * 100, 85),
        "complete_of_fewest": Fraction(85, 1900),
        "complete_of_most": Fraction(85, 13200),
    }
    assert figures.sums.not_weighed == 5


def test_the_diversity_of_the_wares_is_told_with_what_it_rests_on(desk: Desk) -> None:
    """Three wares and two sherds of none (OWN); the formulas are held against published counts in tests/outside."""
    code = dry_container(desk, 131, 20)
    for form, ware, pieces in (("", "QRS", 2), ("", "TGY", 8), ("", "MBU", 5), ("", "", 2)):
        add_group(desk, code, ware=ware, form=form, part="body", pieces=pieces)
    for kind, which in ((Of.CONTAINER, "131"), (Of.DEPOSIT, "2017"), (Of.SQUARE, "A1"), (Of.EXCAVATION, "")):
        figures = of(desk, kind, which)
        found = [float(figure) for key in OF_WARES if (figure := figures.named(key))]
        # 1 − (2·1 + 8·7 + 5·4) ÷ (15·14), −Σ p ln p, and that ÷ ln 3: OWN.
        shannon = -sum(pieces / 15 * log(pieces / 15) for pieces in (2, 8, 5))
        assert found == pytest.approx([1 - 78 / 210, shannon, shannon / log(3)])
    assert rows_behind(desk, figures.scope, Behind("shannon")).pieces == 15
    (line,) = [one for one in figure_lines(figures, wording(desk)) if one.key == "shannon"]
    assert (line.value, line.unit) == ("0.97", "nat")
    assert "natural logarithm" in line.formula
    assert "Xu 2011" in line.formula
    assert line.note == "of 3 wares, without 2 sherds of which none is said"
    assert not any(one.key in OF_WARES for one in figures.types[0].figures)


def test_where_there_is_no_diversity_it_is_said_why(desk: Desk) -> None:
    code = dry_container(desk, 131, 20)
    add_group(desk, code, ware="", part="body", pieces=3)
    figures = of(desk, Of.CONTAINER, "131")
    why = {one.key: one.why_not.code for one in figures.figures if one.key in OF_WARES and one.why_not}
    assert why == dict.fromkeys(OF_WARES, "too_few_pieces")
    add_group(desk, code, ware="QRS", part="body", pieces=3)
    lines = {one.key: one for one in figure_lines(of(desk, Of.CONTAINER, "131"), wording(desk))}
    assert [lines[key].value for key in OF_WARES] == ["0.00", "0.00", "–"]
    assert lines["evenness"].note.startswith("All sherds of a known ware are of the same one")


def density(desk: Desk, number: str) -> FigureLine:
    (line,) = [one for one in figure_lines(of(desk, Of.DEPOSIT, number), wording(desk)) if one.key == "density"]
    return line


def test_the_density_of_a_deposit_is_told_where_its_soil_is_written(yard: Desk) -> None:
    """22 sherds in a square of 1 × 1 m, 0.2 m deep, are 110 a cubic metre (PUBLISHED, talkstats.com, thread 664)."""
    add_group(yard, dry_container(yard, 140, 22, deposit="2019"), ware="QRS", part="body", pieces=22)
    # Who never measures soil sees nothing of it.
    assert not [one for one in of(yard, Of.DEPOSIT, "2019").figures if one.key == "density"]
    changed = change_deposit(yard, "2019", soil="1 x 1 x 0.2")
    assert (changed.soil, last_said(yard)) == ("1 × 1 × 0.2 m", "2019: soil")
    line = density(yard, "2019")
    assert (line.value, line.unit, line.note) == (
        "110.00",
        "pieces a cubic metre",
        "0.11 a litre; soil dug: 1 × 1 × 0.2 m",
    )
    assert "thread 664" in line.formula
    assert rows_behind(yard, scope_of(yard, Of.DEPOSIT, "2019"), Behind("density")).pieces == 22
    assert not [one for one in of(yard, Of.SQUARE, "A1").figures if one.key == "density"]
    # What is merged into it brings its soil along, and without that there is no density.
    merge_deposits(yard, "2017", into="2019", reason="one layer", sure=True)
    assert "2017 is not written" in density(yard, "2019").note


def test_soil_is_written_when_a_deposit_closes_and_again_after_it_was_split(yard: Desk) -> None:
    with refused(yard, "no_soil"):
        close_deposit(yard, "2017", soil="a lot")
    with refused(yard, "no_soil"):
        change_deposit(yard, "2017", soil="a lot")
    assert close_deposit(yard, "2017", soil="40 x 12", sure=True).soil == "40 × 12 l"
    # 132 sherds in 0.48 m³ (OWN).
    assert (density(yard, "2017").value, density(yard, "2017").note) == ("275.00", "0.28 a litre; soil dug: 40 × 12 l")
    fields = {one.key: one for one in fields_of(Register.DEPOSITS, for_file=True)}
    facts = deposit_facts(yard, "2017")
    assert [fields[key].value(facts, wording(yard)) for key in ("soil", "soil_litres")] == ["40 × 12 l", 480]
    other = dry_container(yard, 141, 5)
    split_deposit(yard, "2017", containers=[other], to="2044", reason="a pit", sure=True)
    assert [deposit_facts(yard, number).soil for number in ("2017", "2044")] == ["", ""]
    assert prove(yard).sound


def test_the_figures_by_ware_add_up_to_the_whole(yard: Desk) -> None:
    figures = of(yard, Of.CONTAINER, "131")
    assert [(one.ware, one.sums.pieces) for one in figures.types] == [
        ("CSJ", 3),
        ("GGL", 2),
        ("MBU", 59),
        ("QRS", 65),
        ("TGY", 2),
        ("", 1),
    ]
    for key in ("by_rims", "fewest", "most"):
        parts = [one.named(key) for one in figures.types]
        whole = figures.named(key)
        assert whole is not None
        assert sum(int(part.value) for part in parts if part) == whole.value
    weightless = next(one for one in figures.types if one.ware == "GGL")
    assert {one.key: one.why_not.code for one in weightless.figures if one.why_not} == {
        "grams": "not_weighed",
        "mean_weight": "not_weighed",
        "rim_eve": "no_share_read",
        "base_eve": "no_share_read",
        "brokenness": "no_equivalents",
        "complete_of_fewest": "no_share_read",
        "complete_of_most": "no_share_read",
    }


def test_green_glaze_in_a_sealed_context_looks_late_and_gives_no_terminus(yard: Desk) -> None:
    dates = of(yard, Of.CONTAINER, "131").dates
    assert dates.terminus
    assert dates.mean
    assert (dates.terminus.year.value, [(one.said, one.pieces) for one in dates.given_by]) == (330, [("CSJ", 3)])
    assert dates.mean.year.value == Fraction(65 * 250 + 59 * 225 + 2 * 425 + 3 * 515, 129)
    assert [(one.said, one.pieces, one.end_of_bulk) for one in dates.late] == [("GGL", 2, 400)]
    assert dates.terminus_with_late
    assert dates.mean_with_late
    assert dates.terminus_with_late.year.value == 900
    assert dates.mean_with_late.year.value == Fraction(65 * 250 + 59 * 225 + 2 * 425 + 3 * 515 + 2 * 1075, 131)
    assert [(one.said, one.pieces) for one in dates.undated] == [("", 1)]


def test_what_looks_late_in_two_contexts_is_told_with_its_context(yard: Desk) -> None:
    other = dry_container(yard, 132, 104, deposit="2003")
    add_group(yard, other, ware="QRS", part="body", pieces=100)
    add_group(yard, other, ware="GGL", part="body", pieces=4)
    late = of(yard, Of.SEASON).dates.late
    assert types_in_words(late, wording(yard)) == "4 of GGL (context 2003), 2 of GGL (context 2017)"
    assert types_in_words(of(yard, Of.DEPOSIT, "2017").dates.late, wording(yard)) == "2 of GGL"


def test_the_profile_holds_all_that_is_dated_and_marks_what_looks_late(yard: Desk) -> None:
    dates = of(yard, Of.CONTAINER, "131").dates
    assert sum(bar.share for bar in dates.bars) == pytest.approx(131)
    assert sum(bar.late for bar in dates.bars) == pytest.approx(2)
    assert (dates.bars[0].begin, dates.bars[-1].until) == (50, 1250)
    assert dates.profile
    assert dates.profile.undated.value == 1
    by_rim = of(yard, Of.CONTAINER, "131", by=WeighedBy.EVE, years=100).dates
    assert sum(bar.share for bar in by_rim.bars) == pytest.approx(0.85)
    with pytest.raises(Refusal) as refused:
        of(yard, Of.CONTAINER, "131", years=0)
    assert refused.value.code == "bin_years"


def test_an_unsealed_context_shows_nothing_as_late(yard: Desk) -> None:
    with yard.deed("put_deposit") as deed:
        deed.session.execute(update(Deposit).where(Deposit.number == "2017").values(security="mixed"))
    dates = of(yard, Of.DEPOSIT, "2017").dates
    assert (dates.late, dates.terminus_with_late, dates.mean_with_late) == ((), None, None)
    assert dates.terminus
    assert dates.terminus.year.value == 900


def test_a_container_is_judged_by_its_whole_context(yard: Desk) -> None:
    other = dry_container(yard, 132, 300)
    add_group(yard, other, ware="GGL", part="body", pieces=300)
    assert of(yard, Of.CONTAINER, "131").dates.late == ()
    assert [one.pieces for one in of(yard, Of.DEPOSIT, "2017").dates.given_by] == [302]


@pytest.mark.parametrize(
    ("kind", "which"), [(Of.DEPOSIT, "2017"), (Of.SQUARE, "a1"), (Of.SEASON, ""), (Of.EXCAVATION, "")]
)
def test_wider_things_add_up_their_containers(yard: Desk, kind: Of, which: str) -> None:
    other = dry_container(yard, 132, 10)
    add_group(yard, other, ware="QRS", part="rim", pieces=10, tenths=1000)
    elsewhere = dry_container(yard, 133, 7, deposit="2003")
    add_group(yard, elsewhere, ware="GGL", part="rim", pieces=7)
    figures = of(yard, kind, which)
    assert figures.sums.pieces == (142 if kind in (Of.DEPOSIT, Of.SQUARE) else 149)
    assert [one.pieces for one in figures.dates.late] == [2]


def test_a_lifted_rim_keeps_every_sum_and_brings_its_own_years(yard: Desk) -> None:
    before = of(yard, Of.CONTAINER, "131")
    table = rows_behind(yard, scope_of(yard, Of.CONTAINER, "131"), Behind("rim_eve"))
    group = table.rows[0]
    lift_pieces(yard, group.id, seen=1, how_many=3)
    after = of(yard, Of.CONTAINER, "131")
    assert after.sums.pieces == before.sums.pieces
    assert after.sums.tenths == before.sums.tenths
    assert [one.figure and one.figure.value for one in after.figures] == [
        one.figure and one.figure.value for one in before.figures
    ]
    behind = rows_behind(yard, scope_of(yard, Of.CONTAINER, "131"), Behind("by_rims"))
    assert [(row.kind, row.pieces) for row in behind.rows] == [("group", 8), *[("piece", 1)] * 3]


@pytest.mark.parametrize(
    ("behind", "pieces", "total"),
    [
        (Behind("sherds"), 132, 8),
        (Behind("grams"), 127, 6),
        (Behind("not_weighed"), 5, 2),
        (Behind("diagnostic"), 17, 3),
        (Behind("rim_eve"), 11, 1),
        (Behind("base_eve"), 4, 1),
        (Behind("by_rims"), 11, 1),
        (Behind("fewest"), 15, 2),
        (Behind("most", ware="QRS"), 65, 2),
        (Behind("rim_eve", ware="MBU"), 0, 0),
        (Behind("sherds", ware=""), 1, 1),
        (Behind("undated"), 1, 1),
        (Behind("late"), 2, 1),
        (Behind("terminus"), 3, 1),
        (Behind("mean"), 129, 6),
        (Behind("bar", begin=900, until=950), 2, 1),
        (Behind("bar", begin=300, until=350), 129, 6),
    ],
)
def test_every_figure_opens_to_its_rows(yard: Desk, behind: Behind, pieces: int, total: int) -> None:
    for kind, which in ((Of.CONTAINER, "131"), (Of.DEPOSIT, "2017"), (Of.EXCAVATION, "")):
        found = rows_behind(yard, scope_of(yard, kind, which), behind)
        assert (found.pieces, found.total, len(found.rows)) == (pieces, total, total)


def test_rows_behind_come_in_windows_and_say_what_they_are(yard: Desk) -> None:
    scope = scope_of(yard, Of.CONTAINER, "131")
    window = rows_behind(yard, scope, Behind("sherds"), first=2, how_many=2)
    assert (window.total, [row.place for row in window.rows]) == (8, [3, 4])
    row = window.rows[0]
    assert (row.container, row.deposit, row.ware, row.part, row.years) == (
        "131",
        "2017",
        "TGY",
        "handle",
        DateRange(250, 600),
    )
    with pytest.raises(Refusal) as refused:
        rows_behind(yard, scope, Behind("age"))
    assert refused.value.code == "unknown_figure"


def test_a_merged_ware_counts_under_the_code_it_went_into(yard: Desk) -> None:
    with yard.deed("put_ware") as deed:
        into = deed.session.query(Ware).filter_by(code="MBU").one().id
        deed.session.execute(update(Ware).where(Ware.code == "TGY").values(merged_into_id=into))
    figures = of(yard, Of.CONTAINER, "131")
    assert [(one.ware, one.sums.pieces) for one in figures.types if one.ware in ("MBU", "TGY")] == [("MBU", 61)]
    assert rows_behind(yard, figures.scope, Behind("sherds", ware="MBU")).pieces == 61


def test_nothing_sorted_says_what_is_missing(desk: Desk) -> None:
    figures = of(desk, Of.DEPOSIT, "2019")
    assert figures.sums.pieces == 0
    assert (figures.dates.bars, figures.dates.terminus, figures.dates.mean) == ((), None, None)
    assert {one.key for one in figures.figures if one.why_not} == {
        "mean_weight",
        "diagnostic",
        "rim_eve",
        "base_eve",
        "brokenness",
        "complete_of_fewest",
        "complete_of_most",
        *OF_WARES,
    }


def lifted(desk: Desk, code: str) -> int:
    """Lift one rim of the first row of a container; returns the piece's id."""
    row = table_of(desk, code).groups[0]
    return lift_pieces(desk, row.id, seen=row.version).pieces[0].id


def vessels_of(desk: Desk, which: str) -> tuple[object, ...]:
    figures = of(desk, Of.CONTAINER, which)
    return tuple(figure.value for key in ("by_rims", "fewest", "most") if (figure := figures.named(key)))


def test_two_sherds_that_join_a_third_of_another_container_are_one_vessel(yard: Desk) -> None:
    other = dry_container(yard, 132, 10)
    add_group(yard, other, ware="QRS", part="rim", pieces=10)
    one, two, third = lifted(yard, "131"), lifted(yard, "131"), lifted(yard, "132")
    assert vessels_of(yard, "131") == (11, 19, 132)
    join_pieces(yard, one, third)
    assert vessels_of(yard, "131") == (11, 19, 132)
    join_pieces(yard, third, two)
    assert vessels_of(yard, "131") == (10, 18, 131)


def test_the_vessels_of_a_form_are_counted_like_those_of_a_ware(yard: Desk) -> None:
    """OWN: 6 rims and 2 bases of a bowl, two of the rims one vessel; 3 rims of the ware are of no form."""
    add_form(yard, code="QRS1", ware="QRS")
    code = dry_container(yard, 132, 11)
    rims = add_group(yard, code, ware="QRS", form="QRS1", part="rim", pieces=6, tenths=600, rim_permille=480)
    add_group(yard, code, ware="QRS", form="QRS1", part="base", pieces=2, tenths=200)
    add_group(yard, code, ware="QRS", part="rim", pieces=3, tenths=300)
    gather_vessel(yard, [one.id for one in lift_pieces(yard, rims.id, seen=rims.version, how_many=2).pieces])
    ware, form = of(yard, Of.CONTAINER, "132").types
    told = {
        one.form: {key: figure.value for key in FIGURE_IN_WORDS if (figure := one.named(key))} for one in (ware, form)
    }
    assert [told[""][key] for key in ("by_rims", "fewest", "most")] == [8, 8, 10]
    assert [told["QRS1"][key] for key in ("by_rims", "fewest", "most")] == [5, 5, 7]
    assert told["QRS1"]["complete_of_fewest"] == Fraction(48, 500)
    assert {one.key for one in form.figures} == set(FIGURE_IN_WORDS)


def test_a_join_in_doubt_is_one_pot_for_the_fewest_and_two_for_the_most(yard: Desk) -> None:
    join_pieces(yard, lifted(yard, "131"), lifted(yard, "131"), certain=False)
    assert vessels_of(yard, "131") == (11, 18, 132)


def test_a_coin_of_which_only_the_first_year_is_known_gives_the_terminus(yard: Desk) -> None:
    with yard.deed("put_security") as deed:
        deed.session.execute(update(Deposit).where(Deposit.number == "2017").values(security="mixed"))
    register_object(yard, "131", what="coin", material="bronze", earliest=1000, leaves=Leaves.NOT_COUNTED)
    for kind, which in ((Of.CONTAINER, "131"), (Of.DEPOSIT, "2017"), (Of.EXCAVATION, "")):
        dates = of(yard, kind, which).dates
        assert dates.terminus
        assert (dates.terminus.year.value, [one.said for one in dates.given_by]) == (1000, ["coin"])
        (row,) = rows_behind(yard, scope_of(yard, kind, which), Behind("terminus")).rows
        assert (row.kind, row.years, row.open_ended) == ("object", DateRange(1000, 1000), True)


def test_what_may_be_later_than_its_first_year_ends_no_bulk_and_may_look_late(yard: Desk) -> None:
    before = of(yard, Of.DEPOSIT, "2017").dates.late[0].end_of_bulk
    for _turn in range(3):
        register_object(yard, "131", what="coin", material="bronze", earliest=-100, leaves=Leaves.NOT_COUNTED)
    register_object(yard, "131", what="token", material="bronze", earliest=1000, leaves=Leaves.NOT_COUNTED)
    late = of(yard, Of.DEPOSIT, "2017").dates.late
    assert [(one.said, one.end_of_bulk) for one in late] == [("GGL", before), ("token", before)]
