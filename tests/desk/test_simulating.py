"""Asking the store what another policy would have kept of the season."""

from findsdesk.desk.changing_pieces import change_piece
from findsdesk.desk.desk import Desk
from findsdesk.desk.figure_scopes import Of, scope_of
from findsdesk.desk.pieces import lift_pieces
from findsdesk.desk.retention import add_rule
from findsdesk.desk.samples import take_sample
from findsdesk.desk.sherd_figures import figures_of
from findsdesk.desk.sherd_groups import add_group
from findsdesk.desk.simulating import notes_of, simulate
from findsdesk.desk.trying_rules import Tried, try_rule
from findsdesk.desk.type_series import add_form
from findsdesk.domain.balance import Decision
from findsdesk.domain.figures import Value
from findsdesk.domain.mean_dates import MeanDate
from findsdesk.domain.retention import Policy
from findsdesk.domain.terminus import TerminusPostQuem
from findsdesk.words import put
from tests.desk.at_the_table import dry_container, refused
from tests.yard import acts, earlier_season


def test_the_season_is_asked_under_the_policy_in_force_or_another(desk: Desk) -> None:
    code = dry_container(desk, 131, 60)
    add_group(desk, code, ware="QRS", part="rim", pieces=10, tenths=1000)
    add_group(desk, code, ware="MBU", part="body", pieces=45, tenths=9000)
    add_group(desk, code, ware="MBU", part="body", pieces=5, decision=Decision.DISCARD, reason="modern")
    add_rule(desk, "Body", decision=Decision.DISCARD, reason="modern", parts=["body"], one_in=10)
    before = acts(desk)
    told = simulate(desk)
    assert acts(desk) == before
    assert (told.sorted.pieces, told.as_decided.pieces, told.by_policy.pieces) == (60, 55, 15)
    assert (told.by_policy.boxes, told.unweighed) == (1, 5)
    assert [(one.rule, one.pieces, one.kept) for one in told.rules] == [("Body", 50, 5), ("", 10, 10)]
    assert simulate(desk, Policy()).by_policy.pieces == 60


def test_its_dates_are_those_of_the_figures_of_the_season(desk: Desk) -> None:
    add_form(desk, code="QRS1", ware="QRS", earliest=180, latest=220)
    code = dry_container(desk, 131, 60)
    rims = add_group(desk, code, ware="QRS", form="QRS1", part="rim", pieces=20)
    add_group(desk, code, ware="CSJ", part="body", pieces=30)
    add_group(desk, code, ware="GGL", part="body", pieces=2)
    add_group(desk, code, ware="", part="body", pieces=8)
    [piece] = lift_pieces(desk, rims.id, seen=rims.version).pieces
    change_piece(desk, piece.id, seen=piece.version, earliest=190, latest=200, dated_by="its stamp")
    add_rule(desk, "Body", decision=Decision.DISCARD, reason="modern", parts=["body"], wares=["CSJ"])
    told = simulate(desk)
    dates = figures_of(desk, scope_of(desk, Of.SEASON)).dates
    assert (year_of(told.sorted.mean_date), year_of(told.sorted.terminus)) == (year_of(dates.mean), 330)
    assert year_of(dates.terminus) == 330
    assert (told.sorted.late, told.sorted.undated) == (2, 8)
    said = [text.format(deposit="context", **facts) for text, facts in notes_of(told)]
    assert said[0] == "Not weighed and in no kilo: 60 pieces."
    assert said[2] == "Looking late in a sealed context and in no date: 2 pieces."
    # PUBLISHED formulas (Cochran 1977, Yamane), worked by hand: 384.16 ÷ (1 + 384.16 ÷ 60) and 60 ÷ 1.15.
    assert "60 sherds to 5 %, 52 drawn by lot are enough (Cochran 1977; 53 by Yamane" in said[3]
    assert year_of(told.by_policy.terminus) == 190


def year_of(dated: MeanDate | TerminusPostQuem | None) -> Value:
    assert dated
    return dated.year.value


def test_an_earlier_season_is_asked_apart(desk: Desk) -> None:
    earlier_season(desk)
    code = dry_container(desk, 131, 60)
    add_group(desk, code, ware="QRS", part="rim", pieces=10)
    assert simulate(desk, season="2024").sorted.pieces == 0
    assert simulate(desk).sorted.pieces == 10
    with refused(desk, "unknown_season"):
        simulate(desk, season="1999")


def test_tile_and_shell_are_no_sherds_of_the_policy(desk: Desk) -> None:
    code, tile = dry_container(desk, 131, 60), dry_container(desk, 132, 20, material="tile_brick")
    add_group(desk, code, ware="QRS", part="rim", pieces=10)
    add_group(desk, tile, ware="", part="body", pieces=20)
    assert simulate(desk).sorted.pieces == 10


def test_a_rule_is_tried_before_it_is_written(desk: Desk) -> None:
    code = dry_container(desk, 131, 60)
    add_group(desk, code, ware="QRS", part="rim", pieces=10)
    add_group(desk, code, ware="MBU", part="body", pieces=50)
    add_rule(desk, "Body", decision=Decision.DISCARD, reason="modern", parts=["body"])
    before = acts(desk)

    def tried(**changes: object) -> Tried:
        said: dict[str, object] = {
            "instead_of": None,
            "name": "New",
            "decision": Decision.DISCARD,
            "reason": "modern",
            "lists": {"parts": ["rim"]},
            "diagnostic": None,
            "one_in": None,
            "at_least": None,
        }
        return try_rule(desk, **(said | changes))  # type: ignore[arg-type]

    def kept(**changes: object) -> int:
        return tried(**changes).kept.by_policy.pieces

    assert simulate(desk).by_policy.pieces == 10
    assert kept() == 0
    assert kept(in_force=False) == 10
    assert kept(instead_of="Body", name="Body", lists={"parts": ["body"]}, one_in=10) == 15
    assert kept(decision=Decision.KEEP, reason="", lists={"wares": ["mbu"]}, place=1) == 60
    assert tried(lists={"parts": ["body"], "wares": ["mbu"]}).behind == "Body"
    assert tried(lists={"parts": ["body"], "wares": ["mbu"]}, place=1).behind == ""
    assert tried().behind == ""
    assert acts(desk) == before
    with refused(desk, "unknown_part"):
        kept(lists={"parts": ["toe"]})


def test_a_piece_that_was_used_up_is_no_sherd_to_keep(desk: Desk) -> None:
    code = dry_container(desk, 131, 10)
    row = add_group(desk, code, ware="QRS", part="rim", pieces=1, tenths=300)
    lift_pieces(desk, row.id, seen=row.version)
    take_sample(desk, "131.1", what_for="thin section", taken_tenths=300, pieces_used=1)
    assert simulate(desk).sorted.pieces == 0


def test_what_was_decided_against_the_rules_is_said_beside_what_they_would_keep(desk: Desk) -> None:
    code = dry_container(desk, 131, 60)
    add_rule(desk, "Body", decision=Decision.DISCARD, reason="modern", parts=["body"])
    add_group(desk, code, ware="QRS", part="body", pieces=10)
    assert "against" not in " ".join(text for text, _facts in notes_of(simulate(desk)))
    add_group(desk, code, ware="QRS", part="body", pieces=4, decision=Decision.KEEP, reason="slag inside")
    row = add_group(desk, code, ware="MBU", part="body", pieces=3, decision=Decision.HOLD)
    lift_pieces(desk, row.id, seen=row.version)
    told = simulate(desk)
    assert (told.against, told.unexplained, told.as_decided.pieces) == (7, 3, 7)
    said = [put(text, desk.terms, facts) for text, facts in notes_of(told)]
    assert "Decided against a rule: 7 pieces, without a reason yet: 3." in said
