"""What is found by its words: one text for each row that says something, from which the full-text index is made."""

from sqlalchemy.orm import Mapped, mapped_column

from findsdesk.store.models.base import Base, RowId


class SearchedText(Base):
    """The words of one row, kept by store/search_index.py alone and proved by ``prove``; no fact of its own."""

    __tablename__ = "searched_text"

    place: Mapped[int] = mapped_column(RowId, primary_key=True, autoincrement=False)
    """The number of the row's kind above, its id below (``search_index.place_of``): rows of a kind stand together."""
    said: Mapped[str]
    """Each word once, with a blank between them."""
