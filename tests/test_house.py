"""The rules of the house that no linter knows, read from the source itself."""

import ast
import itertools
import re
import string
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import NamedTuple

import pytest

from findsdesk.words import Terms

TOP = Path(__file__).resolve().parent.parent
LONGEST_FILE = 400
LONGEST_FUNCTION = 60
LONGEST_REFUSAL = 25
# A migration is written once and then frozen: splitting it would hide what it does.
MAY_BE_LONG = ("findsdesk/store/migrations/versions/",)
MAY_LOOK_AT_TABLES = ("findsdesk/store/models/", "findsdesk/store/every_table.py")
MAY_WAIT = ("findsdesk/ui/notices.py", "findsdesk/cli/")


class Source(NamedTuple):
    """One Python file of ours."""

    name: str
    text: str
    tree: ast.Module

    @property
    def shipped(self) -> bool:
        return self.name.startswith("findsdesk/")

    def nodes(self, *kinds: type[ast.AST]) -> Iterator[ast.AST]:
        return (node for node in ast.walk(self.tree) if isinstance(node, kinds))

    def calls(self, *names: str) -> Iterator[ast.Call]:
        """Yield each call of a function or method with one of these names."""
        for node in ast.walk(self.tree):
            if isinstance(node, ast.Call) and called(node) in names:
                yield node

    def at(self, node: ast.AST, what: str = "") -> str:
        return f"{self.name}:{getattr(node, 'lineno', 0)} {what}".rstrip()


def called(call: ast.Call) -> str:
    """Return the name a call goes by, without what stands before its last dot."""
    return getattr(call.func, "attr", getattr(call.func, "id", ""))


def literal(node: ast.AST | None) -> str | None:
    """Return a text written out in the source, or None for anything put together when the program runs."""
    return node.value if isinstance(node, ast.Constant) and isinstance(node.value, str) else None


def marked(node: ast.AST | None) -> str | None:
    """Return the text of ``N_("...")``."""
    return literal(node.args[0]) if isinstance(node, ast.Call) and called(node) == "N_" and node.args else None


def read_sources() -> list[Source]:
    files = [TOP / "bootstrap.py", *sorted((TOP / "findsdesk").rglob("*.py")), *sorted((TOP / "tests").rglob("*.py"))]
    sources = []
    for file in files:
        text = file.read_text("utf-8")
        sources.append(Source(file.relative_to(TOP).as_posix(), text, ast.parse(text)))
    return sources


SOURCES = read_sources()
SHIPPED = [source for source in SOURCES if source.shipped]


# --- size and shape -----------------------------------------------------------------------------------------------


def long_files(source: Source) -> Iterator[str]:
    lines = source.text.count("\n")
    if lines > LONGEST_FILE and not source.name.startswith(MAY_BE_LONG):
        yield f"{source.name} has {lines} lines; {LONGEST_FILE} at most"


def long_functions(source: Source) -> Iterator[str]:
    if source.name.startswith((*MAY_BE_LONG, "tests/")):
        return
    for node in source.nodes(ast.FunctionDef, ast.AsyncFunctionDef):
        assert isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)
        length = (node.end_lineno or node.lineno) - node.lineno + 1
        if length > LONGEST_FUNCTION:
            yield source.at(node, f"{node.name} has {length} lines; {LONGEST_FUNCTION} at most")


def swallowed_errors(source: Source) -> Iterator[str]:
    for node in source.nodes(ast.ExceptHandler):
        assert isinstance(node, ast.ExceptHandler)
        caught = getattr(node.type, "id", "")
        if node.type is None:
            yield source.at(node, "a bare except")
        elif caught in ("Exception", "BaseException") and source.name.startswith("findsdesk/ui/benches/"):
            yield source.at(node, "a bench catches everything: that is for the hook in ui")


def unfinished(source: Source) -> Iterator[str]:
    for number, line in enumerate(source.text.splitlines(), 1):
        if source.shipped and re.search(r"\b(TODO|FIXME|XXX|raise NotImplementedError)\b", line):
            yield f"{source.name}:{number} {line.strip()}"


def undocumented_in_ui(source: Source) -> Iterator[str]:
    """Find our own public methods in ui without a docstring (ruff cannot tell them from those Qt names)."""
    if not source.name.startswith("findsdesk/ui/"):
        return
    for owner in source.nodes(ast.ClassDef):
        assert isinstance(owner, ast.ClassDef)
        for node in owner.body:
            is_ours = isinstance(node, ast.FunctionDef) and re.fullmatch(r"[a-z][a-z0-9]*(_[a-z0-9]+)+", node.name)
            if is_ours and isinstance(node, ast.FunctionDef) and ast.get_docstring(node) is None:
                yield source.at(node, f"{owner.name}.{node.name} has no docstring")


def tables_of_whoever_is_loaded(source: Source) -> Iterator[str]:
    """Find looks into the metadata or the registry, which know only the tables that are loaded so far."""
    if source.name.startswith(MAY_LOOK_AT_TABLES):
        return
    for node in source.nodes(ast.Attribute):
        assert isinstance(node, ast.Attribute)
        if node.attr in ("metadata", "registry") and getattr(node.value, "id", "") == "Base":
            yield source.at(node, f"Base.{node.attr}: ask store/every_table.py")


# --- the window ---------------------------------------------------------------------------------------------------


def waiting_dialogs(source: Source) -> Iterator[str]:
    if source.name.startswith(MAY_WAIT):
        return
    for call in source.calls("exec", "exec_"):
        receiver = getattr(call.func, "value", None)
        name = getattr(receiver, "id", getattr(receiver, "attr", ""))
        if name not in ("QApplication", "application"):
            yield source.at(call, "exec waits for an answer; ask through ui/notices.py")


def reentered_loops(source: Source) -> Iterator[str]:
    for call in source.calls("processEvents"):
        yield source.at(call, "processEvents lets anything run in the middle of anything")


def spin_boxes(source: Source) -> Iterator[str]:
    for node in source.nodes(ast.Name, ast.Attribute, ast.alias):
        named = getattr(node, "id", getattr(node, "attr", getattr(node, "name", "")))
        if named in ("QSpinBox", "QDoubleSpinBox"):
            yield source.at(node, f"{named} turns 1.5 into 15 in some locales; use the one number field")


# --- the domain's clock -------------------------------------------------------------------------------------------


def clocks_in_the_domain(source: Source) -> Iterator[str]:
    if source.name.startswith("findsdesk/domain/"):
        for call in source.calls("now", "today", "utcnow", "fromtimestamp"):
            yield source.at(call, f"{called(call)}() asks a clock; take the moment as an argument")


# --- words --------------------------------------------------------------------------------------------------------


def texts_the_translator_misses(source: Source) -> Iterator[str]:
    if source.name == "findsdesk/words.py":
        return
    for call in source.calls("_", "N_", "plural", "CountOf"):
        texts = call.args[:2] if called(call) in ("plural", "CountOf") else call.args[:1]
        if not texts or any(literal(text) is None for text in texts):
            yield source.at(call, f"{called(call)}() needs a text written out here")
    for call in source.calls("put", "words"):
        if call.args and literal(call.args[0]) is not None:
            yield source.at(call, f'{called(call)}("...") is not seen by the extractor; write N_("...") inside')


def unclear_refusals(source: Source) -> Iterator[str]:
    """Find refusals that are no marked text, too long, or name a fact they are not given."""
    for call in source.calls("Refusal", "Question"):
        sentence = call.args[1] if len(call.args) > 1 else None
        if sentence is None or isinstance(sentence, ast.Name | ast.Attribute):
            continue
        text = marked(sentence)
        if text is None:
            yield source.at(call, 'the sentence of a refusal is N_("...")')
            continue
        if len(text.split()) > LONGEST_REFUSAL:
            yield source.at(call, f"{len(text.split())} words; {LONGEST_REFUSAL} at most")
        given = {keyword.arg for keyword in call.keywords}
        asked = {field.split(".")[0].split("[")[0] for _text, field, *_rest in string.Formatter().parse(text) if field}
        if None not in given and asked - given - set(Terms().as_facts()):
            yield source.at(call, f"facts not given: {sorted(asked - given - set(Terms().as_facts()))}")


MANY = re.compile(
    r"\{(?P<count>[a-z_]+)(?::[^}]*)?\}"
    r"(?: (?!(?:of|in|into|inside|from|and|has|keeps|lies|names|decided|holds)\b)[a-z]+){0,2}"
    r" (?:pieces|sherds|rows|bags|boxes|lines|entries|things|days|marks|labels|tags|slips|acts|parts|\{containers\})"
    r"(?![a-z])"
)
"""A number and the plural of a thing we count, with at most two words between that say which: "{n} kept pieces"."""
BOUNDS = ("most", "limit")
"""Facts that are the bound of something and never 1."""
NEVER_OF_ONE = (
    # Shown only where there are more: than one place takes, than one list shows, or than a person sees at once.
    "Did {who} write all {n} marks and slips of",
    "The first {n} of {of} {containers} stand here",
    "{n} rows are too many for paper.",
    "{rows} rows are too many for one paste.",
    "{pieces:,} pieces in {container} {number}: that is far more than usual.",
    "{said} pieces cannot be right: one {container} holds {most:,} at most.",
    "playing the season: {done} of {of} acts",
    "{done} of {rows} rows",
    "{n} labels are too many for one file",
    "{page} mm and {labels} labels",
    # Refused as no number from 1 on, or because they are several.
    "{pieces} pieces cannot be left. Write 1 to {most}",
    "{key} is {pieces} sherds recorded together.",
    # Said of two or more, for one stands beside it.
    "{n} {containers} are dry",
    "the paste of {said} rows",
)


def plurals_of_one(source: Source) -> Iterator[str]:
    """Find marked texts that would say "1 pieces": a number and a plural outside ``plural`` and ``CountOf``.

    A text that stands beside the one for a single thing (``how_many``, a choice by the number) is right.
    """
    paired = {part for node in ast.walk(source.tree) for part in _beside_the_text_for_one(node)}
    for call in source.calls("_", "N_"):
        text = literal(call.args[0]) if call.args else None
        if text is None or call in paired or any(part in text for part in NEVER_OF_ONE):
            continue
        for found in MANY.finditer(text):
            if found["count"] not in BOUNDS:
                yield source.at(call, f'"{found[0]}" says "1 …s" of one; use plural or CountOf')


def _beside_the_text_for_one(node: ast.AST) -> Iterator[ast.AST]:
    """Yield texts right after a text for one: the second of two arguments or items, or the other choice of an if."""
    parts = {
        ast.IfExp: lambda: [getattr(node, "body", None), getattr(node, "orelse", None)],
        ast.Call: lambda: getattr(node, "args", []),
        ast.Tuple: lambda: getattr(node, "elts", []),
    }.get(type(node), list)()
    for before, part in itertools.pairwise(parts):
        one, many = _text_within(before), _text_within(part)
        if one is not None and many is not None and re.search(r"\{n\} |[Oo]ne \{", one[1]) and "{n} " in many[1]:
            yield many[0]


def _text_within(node: ast.AST | None) -> tuple[ast.Call, str] | None:
    """Return the marked text of ``N_("…")``, or of ``say(N_("…"), …)``."""
    if isinstance(node, ast.Call) and called(node) not in ("_", "N_") and node.args:
        node = node.args[0]
    text = literal(node.args[0]) if isinstance(node, ast.Call) and called(node) in ("_", "N_") and node.args else None
    return (node, text) if isinstance(node, ast.Call) and text is not None else None


Rule = Callable[[Source], Iterator[str]]

RULES: list[tuple[Rule, list[Source]]] = [
    (long_files, SOURCES),
    (long_functions, SOURCES),
    (swallowed_errors, SOURCES),
    (unfinished, SHIPPED),
    (undocumented_in_ui, SHIPPED),
    (tables_of_whoever_is_loaded, SOURCES),
    (waiting_dialogs, SHIPPED),
    (reentered_loops, SHIPPED),
    (spin_boxes, SHIPPED),
    (clocks_in_the_domain, SHIPPED),
    (texts_the_translator_misses, SHIPPED),
    (unclear_refusals, SHIPPED),
    (plurals_of_one, SHIPPED),
]


@pytest.mark.parametrize(("rule", "sources"), RULES, ids=[rule.__name__ for rule, _sources in RULES])
def test_the_source_keeps_the_rule(rule: Rule, sources: list[Source]) -> None:
    breaches = [breach for source in sources for breach in rule(source)]
    assert not breaches, "\n".join(["", *breaches])


BREACHES: dict[Rule, str] = {
    long_files: "x = 1\n" * (LONGEST_FILE + 1),
    long_functions: "def f():\n" + "    x = 1\n" * LONGEST_FUNCTION,
    swallowed_errors: "try:\n    pass\nexcept:\n    pass\n",
    unfinished: "x = 1  # TO" + "DO\n",
    undocumented_in_ui: "class Page:\n    def show_standing(self): ...\n",
    tables_of_whoever_is_loaded: "tables = Base.metadata.tables\n",
    waiting_dialogs: "dialog.exec()\n",
    reentered_loops: "application.processEvents()\n",
    spin_boxes: "from PySide6.QtWidgets import QSpinBox\n",
    clocks_in_the_domain: "datetime.now(UTC)\n",
    texts_the_translator_misses: 'put("Washed")\n',
    plurals_of_one: 'say(N_("{n} kept pieces"))\n',
    unclear_refusals: 'Refusal("code", N_("{what} is missing"))\n',
}


@pytest.mark.parametrize("rule", [rule for rule, _sources in RULES], ids=lambda rule: rule.__name__)
def test_the_rule_sees_a_breach(rule: Rule) -> None:
    text = BREACHES[rule]
    place = "findsdesk/domain/x.py" if rule is clocks_in_the_domain else "findsdesk/ui/benches/x.py"
    assert len(list(rule(Source(place, text, ast.parse(text))))) == 1
