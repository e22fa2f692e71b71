"""What undoes a deed: each deed names its opposite, or why it has none. Undo is always a new act."""

from __future__ import annotations

from dataclasses import dataclass

from findsdesk.words import N_


@dataclass(frozen=True, slots=True)
class Opposite:
    """The deed that undoes another, or the reason (a marked sentence) why nothing does."""

    deed: str | None
    why_not: str = ""


_ANSWERED = N_("A step is only answered by a later one; a step back goes back with a reason.")
_CORRECTED = N_("It is corrected by the same deed again; the old value stays in the journal.")
_PRINTED = N_("What was printed stays printed; a reprint says copy 2.")
_GIVEN = N_("A number given is never taken back; it is voided with a reason.")
_SAID = N_("What was answered stays; a later correction is a deed of its own.")
_NAMED = N_("Old numbers stay searchable; renumber or move again to correct it.")
_BEGUN = N_("An excavation, a season or a name in a list stays, since records hang on it.")
_SIGNED = N_("A word given on a discard list stays; until it is carried away its sherds are called back.")
_OBJECT = N_("An object keeps its number; what is said of it is corrected, its {container} put together with another.")
_MERGED = N_("What followed a merged code is corrected row by row; the journal names each of them.")
_TAKEN_OFF = N_("What was taken off is gone; write what is left of the sample and what came of it.")
_SEEN = N_("What was seen on that day was seen; a later stock-take or scan answers it.")

OPPOSITES: dict[str, Opposite] = {
    "new_excavation": Opposite(None, _BEGUN),
    "change_excavation": Opposite("change_excavation"),
    "open_season": Opposite(None, _BEGUN),
    "add_squares": Opposite(None, _BEGUN),
    "add_person": Opposite(None, _BEGUN),
    "add_ware": Opposite("remove_ware"),
    "remove_ware": Opposite("add_ware"),
    "add_form": Opposite("remove_form"),
    "change_form": Opposite("change_form"),
    "remove_form": Opposite("add_form"),
    "merge_wares": Opposite(None, _MERGED),
    "merge_forms": Opposite(None, _MERGED),
    "take_in_types": Opposite("take_in_types"),
    "add_period": Opposite(None, _BEGUN),
    "change_season": Opposite("change_season"),
    "change_square": Opposite("change_square"),
    "change_person": Opposite("change_person"),
    "change_ware": Opposite("change_ware"),
    "change_period": Opposite("change_period"),
    "add_word": Opposite("change_word"),
    "change_word": Opposite("change_word"),
    "set_numbers_aside": Opposite(None, _GIVEN),
    "open_deposit": Opposite("merge_deposits"),
    "close_deposit": Opposite("change_deposit"),
    "change_deposit": Opposite("change_deposit"),
    "renumber_deposit": Opposite("renumber_deposit"),
    "merge_deposits": Opposite("split_deposit"),
    "split_deposit": Opposite("merge_deposits"),
    "declare_mixed": Opposite("change_deposit"),
    "move_container": Opposite("move_container"),
    "correct_container": Opposite("correct_container"),
    "redo_done": Opposite(None, _PRINTED),
    "issue_tags": Opposite("void_tag"),
    "void_tag": Opposite("step_back"),
    "return_unused": Opposite("check_in"),
    "report_missing": Opposite("check_in"),
    "register_untagged": Opposite("attribute"),
    "attribute": Opposite(None, _NAMED),
    "take_in_list": Opposite(None, _CORRECTED),
    "list_container": Opposite("void_tag"),
    "answer_row": Opposite(None, _SAID),
    "drop_row": Opposite("list_container"),
    "check_in": Opposite("step_back"),
    "close_delivery": Opposite("check_in"),
    "answer_difference": Opposite("move_container"),
    "dip_and_look": Opposite(None, _ANSWERED),
    "hold_back": Opposite("release"),
    "release": Opposite("hold_back"),
    "start_soak": Opposite("step_back"),
    "treat": Opposite("step_back"),
    "stand_in_parts": Opposite("stand_in_parts"),
    "log_count": Opposite("count_again"),
    "count_again": Opposite("count_again"),
    "mark_dry": Opposite("step_back"),
    "close_sample": Opposite("step_back"),
    "step_back": Opposite(None, _ANSWERED),
    "hand_on": Opposite("come_back"),
    "come_back": Opposite("hand_on"),
    "take_out": Opposite("put_together"),
    "put_together": Opposite("take_out"),
    "swap_tags": Opposite("swap_tags"),
    "begin_sorting": Opposite("step_back"),
    "add_group": Opposite("remove_group"),
    "add_groups": Opposite("remove_group"),
    "change_group": Opposite("change_group"),
    "remove_group": Opposite("add_group"),
    "lift_pieces": Opposite("lay_back"),
    "lay_back": Opposite("lift_pieces"),
    "change_piece": Opposite("change_piece"),
    "join_pieces": Opposite("part_pieces"),
    "change_join": Opposite("change_join"),
    "part_pieces": Opposite("join_pieces"),
    "gather_vessel": Opposite("leave_vessel"),
    "leave_vessel": Opposite("gather_vessel"),
    "change_vessel": Opposite("change_vessel"),
    "register_object": Opposite(None, _OBJECT),
    "change_object": Opposite("change_object"),
    "know_of_objects": Opposite(None, _SAID),
    "add_photo": Opposite("take_off_photo"),
    "take_off_photo": Opposite("add_photo"),
    "change_photo": Opposite("change_photo"),
    "take_sample": Opposite(None, _TAKEN_OFF),
    "change_sample": Opposite("change_sample"),
    "explain": Opposite("answer_entry"),
    "answer_entry": Opposite("explain"),
    "count_at_sorting": Opposite("count_again"),
    "take_starting_policy": Opposite("change_rule"),
    "add_rule": Opposite("change_rule"),
    "change_rule": Opposite("change_rule"),
    "move_rule": Opposite("move_rule"),
    "draw_share": Opposite("change_group"),
    "read_container": Opposite("correct_reading"),
    "read_deposit": Opposite("correct_reading"),
    "correct_reading": Opposite("correct_reading"),
    "answer_look_again": Opposite(None, _SAID),
    "set_pin": Opposite("set_pin"),
    "settle": Opposite("reopen"),
    "reopen": Opposite("settle"),
    "make_list": Opposite("take_off"),
    "take_off": Opposite("make_list"),
    "sign_list": Opposite("call_back"),
    "call_back": Opposite("make_list"),
    "inspected": Opposite(None, _SIGNED),
    "carried_away": Opposite(None, _SIGNED),
    "annotate": Opposite(None, _SAID),
    "left_in_trench": Opposite("answer_left"),
    "answer_left": Opposite("left_in_trench"),
    "write_marks": Opposite("answer_mark"),
    "slip_bag": Opposite("answer_mark"),
    "check_marks": Opposite("answer_mark"),
    "answer_mark": Opposite("write_marks"),
    "bag": Opposite("reopen"),
    "came_out_well": Opposite(None, _PRINTED),
    "add_place": Opposite("give_up_place"),
    "change_place": Opposite("change_place"),
    "give_up_place": Opposite("add_place"),
    "add_box": Opposite("give_up_box"),
    "change_box": Opposite("change_box"),
    "give_up_box": Opposite("add_box"),
    "put_into_box": Opposite("take_out_of_box"),
    "pack_as_proposed": Opposite("take_out_of_box"),
    "take_out_of_box": Opposite("put_into_box"),
    "weigh_bag": Opposite("weigh_bag"),
    "take_away": Opposite("bring_back"),
    "bring_back": Opposite("take_away"),
    "move_things": Opposite("move_things"),
    "check_arrival": Opposite(None, _SEEN),
    "begin_stock_take": Opposite("close_stock_take"),
    "scan_stock": Opposite(None, _SEEN),
    "close_stock_take": Opposite(None, _SEEN),
}
