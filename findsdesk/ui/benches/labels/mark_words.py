"""What the marks page says: its lines, how far a deposit has come, what each tick answers."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from findsdesk.desk.mark_lines import BETWEEN_LINES, DepositMarks, MarkLine
from findsdesk.desk.marking_table import MarksShown
from findsdesk.domain.marking import Tick
from findsdesk.ui.models.cells import Cell, TableRow
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, _, grouped, plural

BY_MISTAKE = N_("ticked by mistake")


def length_mm(line: MarkLine) -> int:
    """Return the longest line of a mark in whole millimetres, rounded up."""
    return -(-line.length_tenths // 10)


def in_common(lines: Sequence[MarkLine]) -> frozenset[str]:
    """Return what more than half of the marks say in a line of their own, such as the season's permit."""
    said = Counter(text for line in lines for text in line.lines)
    return frozenset(text for text, n in said.items() if n > 1 and 2 * n > len(lines))


def mark_row(line: MarkLine, common: frozenset[str] = frozenset()) -> TableRow:
    """Return a line of the marking list as it stands in the table; figures that are nothing stay empty.

    Of the mark only what is not ``common`` is said: it is drawn whole above.
    """
    tally = line.tally
    return TableRow(
        row_id=line.code,
        cells=(
            Cell(line.number, strong=True),
            Cell(line.deposit or "–"),
            Cell(BETWEEN_LINES.join(one for one in line.lines if one not in common) or line.text),
            Cell(_figure(tally.kept)),
            Cell(_figure(tally.left), strong=bool(tally.left)),
            Cell(_figure(tally.outdated), "ochre"),
            Cell(_figure(tally.written)),
            Cell(_figure(tally.slipped)),
            Cell(_checked(line), "ochre" if line.to_check else ""),
        ),
    )


def _figure(n: int) -> str:
    return grouped(n) if n else ""


def _checked(line: MarkLine) -> str:
    if line.to_check:
        facts = {"n": grouped(line.tally.checked), "of": grouped(line.tally.checked + line.to_check)}
        return _("{n} of {of}").format(**facts)
    return grouped(line.tally.checked) if line.tally.checked else ""


def deposit_in_words(number: str, of: DepositMarks | None, around: WordsAround) -> str:
    """Return a deposit as it is chosen: "2017: 31 of 45 marked"; its number alone where its lines were not read."""
    if of is None:
        return number or "–"
    facts = {"number": of.deposit or "–", "marked": grouped(of.marked), "wanted": grouped(of.wanted)}
    return around.say(N_("{number}: {marked} of {wanted} marked"), **facts)


def progress(of: Sequence[DepositMarks], around: WordsAround) -> str:
    """Return how far marking has come: to write, to ink again, in slip bags, to check."""
    left, again = sum(one.left for one in of), sum(one.outdated for one in of)
    slipped, to_check = sum(one.slipped for one in of), sum(one.to_check for one in of)
    parts = [plural("{n} to mark", "{n} to mark", left) if left else around.say(N_("every kept sherd is marked"))]
    if again:
        parts.append(plural("{n} to write again", "{n} to write again", again))
    if slipped:
        parts.append(plural("{n} with a slip", "{n} with a slip", slipped))
    if to_check:
        parts.append(plural("{n} for a second person to check", "{n} for a second person to check", to_check))
    return ", ".join(parts)


def part_in_words(shown: MarksShown, around: WordsAround) -> str:
    """Return what is left out where all lines are too many for one list."""
    if not shown.is_part:
        return ""
    facts = {"n": grouped(shown.containers), "of": grouped(shown.of)}
    return around.say(N_("The first {n} of {of} {containers} stand here: choose a {deposit} for others."), **facts)


def caption(line: MarkLine, lettering_tenths: int) -> str:
    """Return what is said of a mark's length: lettering, the smallest sherd that takes it, what takes no ink."""
    said = _(", {kept} kept, {length} mm at lettering {height} mm high: sherds from {smallest} mm.").format(
        kept=grouped(line.tally.kept),
        length=length_mm(line),
        height=f"{lettering_tenths / 10:g}",
        smallest=line.smallest_mm,
    )
    if line.tally.wrong and line.to_check:
        said = f"{said} {_('One was found wrong: a second person checks all.')}"
    if not line.no_ink:
        return said
    bad = plural(
        "{n} sherd here is painted, written on or flaking: no ink.",
        "{n} sherds here are painted, written on or flaking: no ink.",
        line.no_ink,
    )
    return f"{said} {bad}"


def ticked(
    kind: Tick, before: MarkLine, after: MarkLine, around: WordsAround, *, again: bool = False
) -> tuple[str, str]:
    """Return what the scan line says after a tick: head and rest."""
    now, then = after.tally, before.tally
    over = now.written - then.written
    heads = {
        Tick.WRITTEN: plural("{n} mark written", "{n} marks written", now.written - then.written),
        Tick.SLIP: plural("{n} sherd with a slip", "{n} sherds with a slip", now.slipped - then.slipped),
        Tick.CHECKED: plural("{n} mark checked", "{n} marks checked", now.checked - then.checked),
        Tick.WRONG: plural("{n} mark found wrong", "{n} marks found wrong", now.wrong - then.wrong),
    }
    rest = around.say(N_(": {container} {number}"), number=after.number)
    if again:
        heads[kind] = plural("{n} mark written again", "{n} marks written again", over)
    if again and now.outdated:
        rest += f", {plural('{n} to write again', '{n} to write again', now.outdated)}"
    elif now.left:
        rest += f", {plural('{n} left to mark', '{n} left to mark', now.left)}"
    elif after.to_check:
        rest += f", {plural('{n} to check', '{n} to check', after.to_check)}"
    return heads[kind], rest
