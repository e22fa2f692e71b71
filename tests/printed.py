"""What the tests of paper share: the invented excavation's labels, and a ruler laid on a finished page."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, date, datetime

import numpy
import pypdfium2

from findsdesk.paper.label_kinds import (
    BagLabel,
    BoxLabel,
    Label,
    LabelKind,
    LoanLabel,
    PieceLabel,
    PlaceLabel,
    SlipLabel,
    TagLabel,
    WashTag,
)
from findsdesk.paper.stocks import LabelStock
from findsdesk.words import Terms

DAY = date(2026, 7, 14)


MOMENT = datetime(2026, 7, 14, 17, 32, 48, tzinfo=UTC)
TERMS = Terms(deposit="context", container="bucket")


def bag(serial: int = 306, **changes: object) -> BagLabel:
    given: dict[str, object] = {
        "code": f"TQB{serial:06d}X",
        "deposit": "2017",
        "container": str(serial % 1000),
        "mark_lines": ("VE-26-014", f"2017-{serial % 1000}"),
        "site": "TQ",
        "season": "2026",
        "permit": "VE-26-014",
        "square": "B2",
        "collected_on": DAY,
        "material": "pottery",
        "what": "diagnostics",
        "pieces": 38,
        "tenths": 6642,
    }
    return BagLabel(**(given | changes))  # type: ignore[arg-type]


def tag(serial: int = 131, **changes: object) -> TagLabel:
    given: dict[str, object] = {
        "code": f"TQT{serial:06d}X",
        "container": str(serial),
        "site": "TQ",
        "season": "2026",
        "permit": "VE-26-014",
    }
    return TagLabel(**(given | changes))  # type: ignore[arg-type]


def wash_tag(serial: int = 131, **changes: object) -> WashTag:
    given: dict[str, object] = {
        "code": f"TQT{serial:06d}X",
        "deposit": "2017",
        "container": str(serial),
        "pieces": 132,
        "tray": "14",
        "washed_on": DAY,
        "site": "TQ",
        "season": "2026",
        "square": "B2",
        "material": "pottery",
    }
    return WashTag(**(given | changes))  # type: ignore[arg-type]


MAKERS: dict[str, Callable[..., Label]] = {"bag": bag, "tag": tag, "wash tag": wash_tag}

ALL_KINDS: dict[LabelKind, Label] = {
    LabelKind.BAG: bag(),
    LabelKind.SLIP: SlipLabel(**{name: getattr(bag(), name) for name in BagLabel.__dataclass_fields__}),
    LabelKind.TAG: tag(),
    LabelKind.WASH: wash_tag(),
    LabelKind.PIECE: PieceLabel(
        "TQP000012X", "7", "2017", "131", ("2017-131", "7"), "QRS rim, dish", "B2", "TQ", "2026", "VE-26-014"
    ),
    LabelKind.BOX: BoxLabel(
        "TQX000031X",
        "31",
        "TQ",
        "2026",
        "VE-26-014",
        "pottery, diagnostics",
        tuple(f"{2017 + n}: {120 + n}, {130 + n}, {140 + n} (4)" for n in range(22)),
        96_400,
        "heavy: two lift it",
    ),
    LabelKind.PLACE: PlaceLabel("TQS000004X", "R2-S3", ("yard store", "rack 2", "shelf 3")),
    LabelKind.LOAN: LoanLabel("TQL000002X", "Glass workshop", "drawing and analysis", DAY, date(2026, 8, 30), 22),
}


def symbols_on(stock: LabelStock, kind: str) -> int:
    """Return how many symbols a label has where bars fit: a tag on a card has one more on its counterfoil."""
    return 3 if kind == "tag" and stock.kind in ("tags", "cut") and stock.label_height >= 6000 else 2


@dataclass(frozen=True)
class Box:
    """A piece of text on a page, in millimetres from its left and top edge."""

    text: str
    left: float
    top: float
    right: float
    bottom: float


class Sheet:
    """A page of a finished PDF, measured."""

    def __init__(self, pdf: bytes, page: int = 1) -> None:
        self._document = pypdfium2.PdfDocument(pdf)
        self._page = self._document[page - 1]
        self.width = self._page.get_width() * 25.4 / 72
        self.height = self._page.get_height() * 25.4 / 72

    def dark(self, dpi: int = 300) -> numpy.ndarray:
        """Return True for every dark dot, row by row from the top left."""
        return numpy.asarray(self._page.render(scale=dpi / 72, grayscale=True).to_pil()) < 128

    def text(self) -> str:
        return str(self._page.get_textpage().get_text_bounded())

    def boxes(self) -> list[Box]:
        """Return each run of text with the box around its ink."""
        found, words = [], self._page.get_textpage()
        for number in range(words.count_rects()):
            left, bottom, right, top = words.get_rect(number)
            mm = 25.4 / 72
            text = words.get_text_bounded(left, bottom, right, top)
            found.append(Box(text, left * mm, self.height - top * mm, right * mm, self.height - bottom * mm))
        return found


def overlapping(boxes: list[Box], tolerance: float = 0.15) -> list[tuple[str, str]]:
    """Return the pairs of texts whose ink boxes lie over each other by more than ``tolerance`` mm."""
    pairs = []
    for place, one in enumerate(boxes):
        for other in boxes[place + 1 :]:
            across = min(one.right, other.right) - max(one.left, other.left)
            down = min(one.bottom, other.bottom) - max(one.top, other.top)
            if across > tolerance and down > tolerance:
                pairs.append((one.text, other.text))
    return pairs
