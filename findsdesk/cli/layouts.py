"""``findsdesk layouts``: what stands on each kind of label; one as text, changed from a file, or as it ships again."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from findsdesk.cli.calls import DONE, add_json, add_moment, add_store
from findsdesk.cli.saying import say, say_json, say_table
from findsdesk.cli.seat import reading_seat, writing_seat
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_, _, put

if TYPE_CHECKING:
    from findsdesk.desk.label_layouts import LabelKind

EXAMPLE = (
    "findsdesk layouts quay                             (which there are, and which are the excavation's own)",
    "findsdesk layouts quay show bag > bag.toml         (as text; the fields it may name with --json)",
    "findsdesk layouts quay set bag bag.toml --by mika",
    "findsdesk layouts quay as-shipped bag --by mika",
)
_WHAT = ("list", "show", "set", "as-shipped")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    add_store(parser)
    parser.add_argument("what", nargs="?", default="list", choices=_WHAT, metavar="WHAT", help=", ".join(_WHAT))
    parser.add_argument("kind", nargs="?", default="", metavar="KIND", help=_("the kind of label"))
    parser.add_argument("file", nargs="?", type=Path, metavar="FILE", help=_("set: the layout as TOML"))
    add_moment(parser)
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """List, show or change."""
    {"list": _list, "show": _show}.get(call.what, _change)(call)
    return DONE


def _kind(call: argparse.Namespace) -> LabelKind:
    from findsdesk.desk.label_layouts import LabelKind

    known = [str(one) for one in LabelKind]
    if call.kind not in known:
        text = N_("“{kind}” is no kind of label. The kinds: {known}.")
        raise Refusal("unknown_label_kind", text, kind=call.kind, known=", ".join(known))
    return LabelKind(call.kind)


def _list(call: argparse.Namespace) -> None:
    from findsdesk.desk.label_layouts import KIND_IN_WORDS, label_layouts

    with reading_seat(call) as desk:
        layouts = label_layouts(desk)
    if call.json:
        say_json([{"kind": kind, "own": one.own, "version": one.version} for kind, one in layouts.items()])
        return
    heads = [put(one) for one in (N_("Kind"), N_("Label"), N_("Layout"))]
    rows = ((kind, put(KIND_IN_WORDS[kind]), _("own") if one.own else _("as shipped")) for kind, one in layouts.items())
    say_table(heads, rows)


def _show(call: argparse.Namespace) -> None:
    from findsdesk.desk.label_layouts import field_titles, label_layouts, layout_as_text

    kind = _kind(call)
    with reading_seat(call) as desk:
        text = layout_as_text(label_layouts(desk)[kind].layout)
        fields = field_titles(kind, desk.terms)
    if call.json:
        say_json({"kind": kind, "layout": text, "fields": fields})
    else:
        print(text, end="")


def _change(call: argparse.Namespace) -> None:
    from findsdesk.desk.label_layouts import KIND_IN_WORDS, change_label_layout_as_text

    kind, text = _kind(call), ""
    if call.what == "set":
        text = _read(call.file)
        if not text.strip():
            raise Refusal("layout_empty", N_("{file} is empty. To take the layout that ships, say “as-shipped”."),
                          file=str(call.file))  # fmt: skip
    with writing_seat(call) as desk:
        change_label_layout_as_text(desk, kind, layout=text)
    if call.json:
        say_json({"kind": kind, "own": bool(text)})
    else:
        say(N_("{label}: the layout is written and holds for what is printed from now on."), None,
            label=put(KIND_IN_WORDS[kind]))  # fmt: skip


def _read(file: Path | None) -> str:
    try:
        if file is not None:
            return file.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as fault:
        text = N_("{file} cannot be read as text. Name a file that “layouts show” wrote.")
        raise Refusal("layout_unreadable", text, file=str(file)) from fault
    raise Refusal("layout_unreadable", N_("Name the file of the layout: findsdesk layouts STORE set KIND FILE."))
