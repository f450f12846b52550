"""Where records stand to be read: this computer's logbook or a school's shared one, behind one port."""

from collections.abc import Sequence
from typing import Any, Protocol


class Shelf(Protocol):
    """Answers queries over the tables of `database.py`; the SQL is what SQLite and PostgreSQL share."""

    @property
    def place(self) -> str:
        """The file or the server's address, for messages; never with a password."""
        ...

    def rows(self, query: str, parameters: Sequence[object] = ()) -> list[tuple[Any, ...]]:
        """All rows of a query with `?` for each parameter; RecordError when the shelf cannot answer."""
        ...
