"""Figures in words, on paper, in files and as a picture."""

import csv
from fractions import Fraction
from io import BytesIO
from pathlib import Path

import pypdfium2
import pytest
from PIL import Image, ImageChops
from python_calamine import CalamineWorkbook

from findsdesk.desk.comparing import compare_deposits
from findsdesk.desk.desk import Desk
from findsdesk.desk.figure_papers import comparison_sheet, figures_sheet, write_figures
from findsdesk.desk.figure_scopes import Of, scope_of
from findsdesk.desk.figure_words import METHOD_OF, FigureLine, figure_lines, value_of
from findsdesk.desk.objects import register_object
from findsdesk.desk.profile_drawing import ON_PAPER, Look, placed_plot, profile_plot
from findsdesk.desk.register_columns import wording
from findsdesk.desk.sherd_figures import EVERY_FIGURE, SherdFigures, figures_of
from findsdesk.desk.sherd_groups import add_group
from findsdesk.domain.date_profiles import WeighedBy
from findsdesk.domain.figures import Figure, Method, Value
from findsdesk.domain.mean_dates import MEAN_CERAMIC_DATE
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.sherd_weight import MEAN_SHERD_WEIGHT
from findsdesk.domain.vessel_equivalents import COMPLETENESS, RIM_EVE
from tests.desk.at_the_table import dry_container


@pytest.fixture
def yard(desk: Desk) -> Desk:
    """Return the yard with sorted sherds in two contexts, two of them late in a sealed one."""
    code = dry_container(desk, 131, 132)
    add_group(desk, code, ware="QRS", part="rim", pieces=40, tenths=8345, rim_permille=2500)
    add_group(desk, code, ware="MBU", part="body", pieces=20, tenths=4000)
    add_group(desk, code, ware="CSJ", part="body", pieces=3)
    add_group(desk, code, ware="GGL", part="body", pieces=2)
    add_group(desk, code, ware="", part="body", pieces=1, tenths=10)
    other = dry_container(desk, 7, 40, deposit="2003")
    add_group(desk, other, ware="CSJ", part="body", pieces=40, tenths=800)
    return desk


def of_131(desk: Desk) -> SherdFigures:
    return figures_of(desk, scope_of(desk, Of.CONTAINER, "131"))


def lines(desk: Desk) -> dict[str, FigureLine]:
    return {line.key: line for line in figure_lines(of_131(desk), wording(desk))}


def text_of(pdf: bytes) -> str:
    document = pypdfium2.PdfDocument(pdf)
    return "\n".join(page.get_textpage().get_text_bounded() for page in document)


@pytest.mark.parametrize(("value", "said"), [(0.0019, "0.0019"), (0.01217, "0.012"), (0.05, "0.05"), (0.154, "0.15")])
def test_a_small_share_is_never_said_as_nothing(value: float, said: str) -> None:
    assert value_of(Figure(value, COMPLETENESS)) == said


@pytest.mark.parametrize(
    ("value", "method", "said"),
    [
        (1.345, RIM_EVE, "1.35"),
        (Fraction(1345, 1000), RIM_EVE, "1.35"),
        (2.435, RIM_EVE, "2.44"),
        (0.125, COMPLETENESS, "0.13"),
        (Fraction(1, 8), COMPLETENESS, "0.13"),
        (Fraction(2, 3), COMPLETENESS, "0.67"),
        (20.25, MEAN_SHERD_WEIGHT, "20.3"),
        (1234.05, MEAN_SHERD_WEIGHT, "1,234.1"),
        (Fraction(501, 2), MEAN_CERAMIC_DATE, "251"),
        (Fraction(503, 2), MEAN_CERAMIC_DATE, "252"),
    ],
)
def test_a_half_goes_up_in_every_figure(value: Value, method: Method, said: str) -> None:
    """OWN: one rule, the one people are taught for writing figures down; binary halves went either way before."""
    assert value_of(Figure(value, method)) == said


def test_a_figure_says_its_unit_its_formula_and_what_that_rests_on(yard: Desk) -> None:
    said = lines(yard)
    assert (said["grams"].whole, said["grams"].note) == ("1,235.5 g", "without 5 sherds of which no weight was written")
    assert said["mean_weight"].whole == "20.3 g a sherd"
    assert said["rim_eve"].whole == "2.50 vessel equivalents"
    assert said["brokenness"].whole == "26.40 sherds a vessel equivalent"
    assert "Orton, Tyers and Vince 1993" in said["rim_eve"].formula
    assert set(METHOD_OF) == {*EVERY_FIGURE, "terminus", "mean"}
    assert said["brokenness"].formula.endswith("(Orton 1985; Orton, Tyers and Vince 1993)")


def test_dates_say_what_gives_them_and_what_is_left_out(yard: Desk) -> None:
    said = lines(yard)
    assert (said["terminus"].value, said["terminus"].note) == (
        "330",
        "given by 3 of CSJ; with what looks late (2 of GGL) it would be 900",
    )
    assert said["mean"].note.startswith("without 1 sherd of unknown date: 1 without a ware;")
    assert (said["undated"].whole, said["undated"].note) == ("1 sherd", "1 without a ware")
    assert (said["late"].whole, said["late"].note) == ("2 sherds", "2 of GGL")
    assert said["late"].formula.startswith("in a sealed context")


def test_a_coin_gives_the_terminus_and_is_named_with_its_number(yard: Desk) -> None:
    register_object(yard, "131", what="coin", material="metal", earliest=335, latest=340)
    figures = figures_of(yard, scope_of(yard, Of.DEPOSIT, "2017"))
    said = {line.key: line for line in figure_lines(figures, wording(yard))}
    assert said["terminus"].value == "335"
    assert said["terminus"].note.startswith("given by coin (object 1)")


def test_the_sheet_holds_plot_figures_and_wares(yard: Desk) -> None:
    made = figures_sheet(yard, of_131(yard))
    text = text_of(made.pdf)
    for words in ("Figures of the pottery", "Bucket 131", "Mean sherd weight", "330", "Quay Red Slip", "180–320"):
        assert words in text
    for words in ("Simpson diversity", "Shannon diversity", "Pielou evenness", "nat"):
        assert words in text
    for words in ("Sherds 40; Weight", "Sherds 1; Weight 1.0 g", "Fewest vessels 1; Most vessels 1"):
        assert words in " ".join(text.split()), "what is counted is said once, of one as of many"
    images = [one for one in pypdfium2.PdfDocument(made.pdf)[0].get_objects() if one.type == 3]
    assert len(images) == 1


@pytest.mark.parametrize("by", WeighedBy)
def test_the_plot_on_paper_is_the_picture_of_the_screen(yard: Desk, by: WeighedBy) -> None:
    figures = figures_of(yard, scope_of(yard, Of.CONTAINER, "131"), by=by)
    screen = Image.open(BytesIO(placed_plot(figures.scope, figures.dates, wording(yard), ON_PAPER).png)).convert("RGB")
    page = pypdfium2.PdfDocument(figures_sheet(yard, figures).pdf)[0]
    [printed] = (one for one in page.get_objects() if isinstance(one, pypdfium2.PdfImage))
    paper = printed.get_bitmap().to_pil().convert("RGB")
    assert paper.size == screen.size
    apart = ImageChops.difference(paper, screen).convert("L").histogram()
    assert sum(apart[8:]) == 0


def test_the_spreadsheet_holds_three_sheets_and_the_csv_one(yard: Desk, tmp_path: Path) -> None:
    figures = of_131(yard)
    assert write_figures(yard, figures, tmp_path / "f.xlsx") == 5
    book = CalamineWorkbook.from_path(str(tmp_path / "f.xlsx"))
    assert book.sheet_names == ["Figures", "By ware and form", "Date profile"]
    rows = book.get_sheet_by_name("By ware and form").to_python()
    wares = {row[0]: dict(zip(rows[0], row, strict=True)) for row in rows[1:]}
    assert (wares["QRS"]["Sherds"], wares["QRS"]["From"], wares["QRS"]["Rim EVE"]) == (40, 180, 2.5)
    profile = book.get_sheet_by_name("Date profile").to_python()[1:]
    assert sum(float(row[2]) for row in profile) == pytest.approx(65)
    assert write_figures(yard, figures, tmp_path / "f.csv") == 5
    with (tmp_path / "f.csv").open(encoding="utf-8-sig", newline="") as stream:
        assert len(list(csv.reader(stream))) == 6
    with pytest.raises(Refusal) as refused:
        write_figures(yard, figures, tmp_path / "f.txt")
    assert refused.value.code == "unknown_ending"


def test_the_plot_says_what_it_is_of(yard: Desk) -> None:
    figures = of_131(yard)
    text = text_of(profile_plot(figures.scope, figures.dates, wording(yard), "pdf"))
    for words in ("Bucket 131, spans of 50 years", "TPQ 330", "looks late", "sherds"):
        assert words in text
    empty = figures_of(yard, scope_of(yard, Of.DEPOSIT, "2019"))
    assert "Nothing here has a date yet" in text_of(profile_plot(empty.scope, empty.dates, wording(yard), "pdf"))


@pytest.mark.parametrize(
    ("by", "said"), [(WeighedBy.EVE, "No share of a rim was read"), (WeighedBy.GRAMS, "No weight was written here")]
)
def test_a_profile_that_adds_up_to_nothing_says_what_is_missing(yard: Desk, by: WeighedBy, said: str) -> None:
    code = dry_container(yard, 132, 4)
    add_group(yard, code, ware="CSJ", part="body", pieces=4)
    figures = figures_of(yard, scope_of(yard, Of.CONTAINER, code), by=by)
    assert said in text_of(profile_plot(figures.scope, figures.dates, wording(yard), "pdf"))


def test_the_comparison_on_paper(yard: Desk) -> None:
    text = text_of(comparison_sheet(yard, compare_deposits(yard)).pdf)
    for words in ("Contexts compared by their wares", "2003", "2017", "CSJ 40"):
        assert words in text


def test_in_the_sun_the_profile_is_drawn_in_the_ink_alone(yard: Desk) -> None:
    figures, say = of_131(yard), wording(yard)
    colours = {}
    for strong in (False, True):
        png = profile_plot(figures.scope, figures.dates, say, "png", Look(ink="#000000", strong=strong))
        picture = Image.open(BytesIO(png)).convert("RGB")
        red, _green, blue = picture.split()
        # Okabe and Ito's blue has no red at all; greys have as much of each.
        colours[strong] = any(ImageChops.subtract(blue, red).histogram()[60:])
    assert colours == {False: True, True: False}


def test_what_rests_on_few_of_the_rims_says_so_beside_the_figure_and_on_paper(yard: Desk) -> None:
    assert lines(yard)["rim_eve"].note == "40 of 40 rims read"
    add_group(yard, "131", ware="QRS", part="rim", pieces=26, tenths=100)
    assert lines(yard)["rim_eve"].note == "40 of 66 rims read"
    add_group(yard, "131", ware="QRS", part="rim", pieces=55, tenths=100)
    few = "only 40 of 121 rims read: too few to speak for the others; read more of them first"
    said = lines(yard)
    for key in ("rim_eve", "brokenness", "complete_of_fewest", "complete_of_most"):
        assert said[key].note == few, key
    assert "only 40 of 121 rims" in " ".join(text_of(figures_sheet(yard, of_131(yard)).pdf).split())


def test_the_sheet_says_sources_and_no_doubts_of_ours_about_them(yard: Desk) -> None:
    for line in figure_lines(of_131(yard), wording(yard)):
        assert "memory" not in line.told(wording(yard)), line.key
        assert "metadata" not in line.told(wording(yard)), line.key
    assert lines(yard)["by_rims"].formula == "rims, joining ones counted as one (common practice)"


def test_no_number_and_no_unit_is_broken_over_two_lines_of_the_sheet(yard: Desk) -> None:
    add_group(yard, "131", ware="MBU", part="body", pieces=20, tenths=1_234_567)
    text = text_of(figures_sheet(yard, of_131(yard)).pdf)
    assert "124,692.2" in text
    assert "equivalents" in text
