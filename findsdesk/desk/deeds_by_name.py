"""The deeds by the names under which a file of acts and the terminal know them."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from findsdesk.desk import (
    checking_in,
    correcting,
    counting,
    deposits,
    moving,
    renumbering,
    setting_up,
    tags,
    washing,
)

DEEDS: dict[str, Callable[..., Any]] = {
    "open-season": setting_up.open_season,
    "add-squares": setting_up.add_squares,
    "add-person": setting_up.add_person,
    "add-ware": setting_up.add_ware,
    "add-period": setting_up.add_period,
    "open-deposit": deposits.open_deposit,
    "close-deposit": deposits.close_deposit,
    "change-deposit": deposits.change_deposit,
    "renumber-deposit": renumbering.renumber_deposit,
    "merge-deposits": renumbering.merge_deposits,
    "split-deposit": renumbering.split_deposit,
    "declare-mixed": renumbering.declare_mixed,
    "move-container": correcting.move_container,
    "correct-container": correcting.correct_container,
    "issue-tags": tags.issue_tags,
    "void-tag": tags.void_tag,
    "return-unused": tags.return_unused,
    "report-missing": tags.report_missing,
    "untagged": tags.register_untagged,
    "attribute": tags.attribute,
    "check-in": checking_in.check_in,
    "close-delivery": checking_in.close_delivery,
    "answer-difference": checking_in.answer_difference,
    "look": washing.dip_and_look,
    "hold": washing.hold_back,
    "release": washing.release,
    "soak": washing.start_soak,
    "treat": washing.treat,
    "parts": washing.stand_in_parts,
    "dry": washing.mark_dry,
    "step-back": washing.step_back,
    "hand-on": washing.hand_on,
    "come-back": washing.come_back,
    "count": counting.log_count,
    "count-again": counting.count_again,
    "take-out": moving.take_out,
    "put-together": moving.put_together,
    "swap-tags": moving.swap_tags,
}
