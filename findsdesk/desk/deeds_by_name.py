"""The deeds by the names under which a file of acts and the terminal know them."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from findsdesk.desk import (
    bagging,
    checking_in,
    correcting,
    counting,
    deposits,
    explaining,
    field_lists,
    moving,
    named_rows,
    printed_at_once,
    renumbering,
    setting_up,
    sherd_groups,
    sorting,
    stations,
    tags,
    taking_back,
    washing,
)

DEEDS: dict[str, Callable[..., Any]] = {
    # the set-up
    "open-season": setting_up.open_season,
    "add-squares": setting_up.add_squares,
    "add-person": setting_up.add_person,
    "add-ware": setting_up.add_ware,
    "add-period": setting_up.add_period,
    "set-numbers-aside": stations.set_numbers_aside,
    # deposits, and facts put right
    "open-deposit": deposits.open_deposit,
    "close-deposit": deposits.close_deposit,
    "change-deposit": deposits.change_deposit,
    "renumber-deposit": renumbering.renumber_deposit,
    "merge-deposits": renumbering.merge_deposits,
    "split-deposit": renumbering.split_deposit,
    "declare-mixed": renumbering.declare_mixed,
    "move-container": correcting.move_container,
    "correct-container": correcting.correct_container,
    "written-again": named_rows.written_again,
    # tags
    "issue-tags": tags.issue_tags,
    "void-tag": tags.void_tag,
    "return-unused": tags.return_unused,
    "report-missing": tags.report_missing,
    "untagged": tags.register_untagged,
    "attribute": tags.attribute,
    # field lists and check-in
    "import-list": field_lists.import_list,
    "list-container": field_lists.list_container,
    "answer-row": named_rows.answer_line,
    "drop-row": named_rows.drop_line,
    "check-in": checking_in.check_in,
    "close-delivery": checking_in.close_delivery,
    "answer-difference": checking_in.answer_difference,
    # the wash yard
    "look": washing.dip_and_look,
    "hold": washing.hold_back,
    "release": washing.release,
    "soak": washing.start_soak,
    "treat": washing.treat,
    "close-sample": washing.close_sample,
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
    # the sorting table
    "begin-sorting": sorting.begin_sorting,
    "count-at-table": sorting.count_at_sorting,
    "sort": sherd_groups.add_group,
    "change-row": named_rows.change_row,
    "remove-row": named_rows.remove_row,
    "take-back": taking_back.take_back_last,
    "explain": explaining.explain,
    "answer-explanation": named_rows.answer_explanation,
    "settle": sorting.settle,
    "reopen": sorting.reopen,
    # bags and paper
    "bag": bagging.bag,
    "bag-settled": bagging.bag_settled,
    "bag-labels-came-out": printed_at_once.bag_labels_came_out,
    "tags-came-out": printed_at_once.tags_came_out,
    "wash-tags-came-out": printed_at_once.wash_tags_came_out,
    "reprint-came-out": printed_at_once.reprint_came_out,
}
