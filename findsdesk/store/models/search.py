"""What is found by its words: one text for each row that says something, from which the full-text index is made."""

from sqlalchemy.orm import Mapped, mapped_column

from findsdesk.store.models.base import Base, RowId


class SearchedText(Base):
    """The words of one row, kept by store/search_index.py alone and proved by ``prove``; no fact of its own."""

    __tablename__ = "searched_text"

    row_id: Mapped[int] = mapped_column(RowId, primary_key=True, autoincrement=False)
    """No two rows of a store have the same id, whatever their kind."""
    kind: Mapped[str]
    """The table of the row."""
    said: Mapped[str]
    """"=" and the kind, then each word once, with a blank between them."""
