"""The scanner tried out: three codes with every sign, printed on a sheet; what was sent beside what arrived."""

from __future__ import annotations

from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from findsdesk.desk.cards import scanner_sheet
from findsdesk.domain.scanner_check import TEST_CODES, Arrival, CodeArrived, compare, nearest_code
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.bench import Bench
from findsdesk.ui.models.cells import Cell, Column, TableRow
from findsdesk.ui.models.short import ShortTable
from findsdesk.ui.paper_out import hand_over
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.ui.widgets.said_over import SaidOver
from findsdesk.ui.widgets.table_view import TableView
from findsdesk.words import N_, _, put


def arrival_in_words(scan: CodeArrived) -> str:
    """Return how a code arrived: "as printed", "other signs: Y came as Z …"."""
    wrong = ", ".join(put(N_("{was} came as {came}"), None, {"was": was, "came": came}) for was, came in scan.wrong)
    return put(scan.arrival.value, None, {"wrong": wrong})


def verdict_in_words(scans: dict[str, CodeArrived]) -> str:
    """Return what the test comes to, as soon as all three codes arrived; before that, how many are to come."""
    left = len(TEST_CODES) - len(scans)
    if left:
        return put(N_("Scan all three codes of the sheet, one after the other. To come: {left}."), None, {"left": left})
    if all(scan.good for scan in scans.values()):
        return put(N_("This scanner reads every code."))
    if any(scan.arrival is Arrival.OTHER_LETTERS for scan in scans.values()):
        return put(
            N_("Scanner and computer differ in keyboard layout. Set the scanner as its handbook says, and scan again.")
        )
    return put(N_("Set the scanner as its handbook says, and scan again."))


class ScannerPart(QWidget):
    """While it is shown, scans are compared and not looked up."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bench = bench
        self.scans: dict[str, CodeArrived] = {}
        self.model = ShortTable([Column(_("Sent")), Column(_("Arrived")), Column(_("How"), grows=True)])
        self.table = TableView(bench.theme, _("Codes of the test"))
        self.table.setModel(self.model)
        self.verdict = labels.plain()
        self.sheet = QPushButton(_("Print the test sheet …"))
        self.again = QPushButton(_("Begin again"))
        self.over = SaidOver(self.table)
        self.asked = self.over.asked
        self.sheet.clicked.connect(self._print)
        self.again.clicked.connect(self.begin_again)
        buttons = QWidget()
        flow = FlowLayout(bench.theme.px(10), bench.theme.px(6))
        buttons.setLayout(flow)
        flow.addWidget(self.sheet)
        flow.addWidget(self.again)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(bench.theme.px(10))
        layout.addWidget(self.verdict)
        layout.addWidget(self.over, 1)
        layout.addWidget(buttons)
        self.begin_again()

    def refresh(self) -> None:
        """Show what arrived so far."""
        self.model.show_rows([self._row(code) for code in TEST_CODES])
        self.table.fit_columns()
        self.verdict.setText(verdict_in_words(self.scans))

    def begin_again(self) -> None:
        """Forget what arrived."""
        self.scans = {}
        self.refresh()

    def take(self, text: str) -> Answer:
        """Compare a scan with the code that it most likely is."""
        open_codes = tuple(code for code in TEST_CODES if code not in self.scans) or TEST_CODES
        sent = text.upper() if text.upper() in TEST_CODES else nearest_code(text, open_codes)
        scan = compare(sent, text)
        self.scans[sent] = scan
        self.refresh()
        return Answer(Tone.DONE if scan.good else Tone.REFUSED, text, f": {arrival_in_words(scan)}")

    def _row(self, code: str) -> TableRow:
        scan = self.scans.get(code)
        if scan is None:
            return TableRow(code, (Cell(code), Cell("–", "muted"), Cell(_("not scanned yet"), "muted")))
        tone = "green" if scan.good else "madder"
        return TableRow(
            code, (Cell(code), Cell(scan.received, "", strong=True), Cell(arrival_in_words(scan), tone)), not scan.good
        )

    def _print(self) -> None:
        desk = self.bench.surroundings.desk

        def keep(pdf: bytes) -> None:
            hand_over(self.bench.surroundings, pdf, _("scanner-test"))

        self.bench.read(lambda: scanner_sheet(desk), keep, "sheet")
