"""A school's shared records in PostgreSQL, over all airplanes: a shelf that grows by `eyesout sync`."""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager, nullcontext
from typing import TYPE_CHECKING, Any, Final, Self

from runner.errors import RecordError, UsageError
from runner.logbook.record.clip_file import proven_clip
from runner.logbook.record.record import snapshot_text
from runner.logbook.school.address import SCHEMES, masked

if TYPE_CHECKING:
    from sqlalchemy import Connection, Engine

_TURN: Final = 0x45594F54
"""Advisory lock: laptops write one after the other, so that they never wait for each other crosswise."""


class RowRefusedError(RecordError):
    """The server works, but takes or gives this row not: the others may go on."""


def _no_address() -> UsageError:
    return UsageError("not an address of a PostgreSQL database; write postgresql://USER@HOST/DATABASE")


class School:
    """The shared records at an address. It is a Shelf, and has the Attachments of its records."""

    def __init__(self, engine: "Engine") -> None:
        self._engine = engine
        self._still: Connection | None = None

    @classmethod
    def open(cls, url: str) -> Self:
        """Connect, making the tables when there are none; RecordError when the server does not answer."""
        try:
            from sqlalchemy import create_engine  # noqa: PLC0415 - an optional extra
            from sqlalchemy.engine import make_url  # noqa: PLC0415
            from sqlalchemy.exc import ArgumentError  # noqa: PLC0415

            from runner.logbook.school.shared_table import METADATA  # noqa: PLC0415
        except ImportError:
            raise UsageError('a shared logbook needs more libraries: pip install "eyesout[school]"') from None
        if not url.startswith(SCHEMES):
            raise _no_address()
        try:
            address = make_url(url).set(drivername="postgresql+psycopg")
        except (ArgumentError, ValueError):
            raise _no_address() from None
        if "@" in (address.host or ""):
            raise UsageError("the address has several @; write one that belongs to a password as %40")
        engine = create_engine(address, connect_args={"application_name": "eyesout", "connect_timeout": 10})
        school = cls(engine)
        with school.writing() as connection:
            METADATA.create_all(connection)
        return school

    @property
    def place(self) -> str:
        """The server's address without its password."""
        return masked(self._engine.url.render_as_string(hide_password=True).replace("+psycopg", ""))

    @contextmanager
    def transaction(self) -> Iterator["Connection"]:
        """All or nothing, committed when it ends; RecordError when the server refuses or goes away."""
        from sqlalchemy.exc import DataError, DBAPIError, IntegrityError  # noqa: PLC0415 - an optional extra

        try:
            with self._engine.begin() as connection:
                yield connection
        except DBAPIError as error:
            first = self._without_password(str(error.orig).strip().partition("\n")[0])
            if isinstance(error, (DataError, IntegrityError)):
                raise RowRefusedError(f"{self.place}: {first}") from None
            raise RecordError(f"{self.place}: {first}; nothing is lost, try again") from None

    def _without_password(self, words: str) -> str:
        password = self._engine.url.password
        return masked(words.replace(str(password), "***") if password else words)

    @contextmanager
    def held_still(self) -> Iterator[None]:
        """Every query meanwhile sees the records in one and the same state."""
        from sqlalchemy import text  # noqa: PLC0415 - an optional extra

        with self.transaction() as connection:
            connection.execute(text("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY"))
            self._still = connection
            try:
                yield
            finally:
                self._still = None

    @contextmanager
    def writing(self) -> Iterator["Connection"]:
        """A transaction that no other laptop writes beside."""
        from sqlalchemy import text  # noqa: PLC0415 - an optional extra

        with self.transaction() as connection:
            connection.execute(text("SELECT pg_advisory_xact_lock(:key)"), {"key": _TURN})
            yield connection

    def rows(self, query: str, parameters: Sequence[object] = ()) -> list[tuple[Any, ...]]:
        """All rows of a query with `?` for each parameter."""
        with nullcontext(self._still) if self._still is not None else self.transaction() as connection:
            found = connection.exec_driver_sql(query.replace("%", "%%").replace("?", "%s"), tuple(parameters))
            return [tuple(row) for row in found]

    def text(self, sha256: str) -> str:
        """A check or airplane file's text; RecordError when it is missing or changed."""
        return snapshot_text(self, sha256)

    def clip(self, name: str) -> bytes:
        """A note's sound; RecordError when it is missing or changed."""
        rows = self.rows("SELECT content FROM clip WHERE name = ?", (name,))
        if not rows:
            raise RecordError(f"clip {name[:12]} is missing from {self.place}")
        return proven_clip(name, bytes(rows[0][0]), self.place)

    def close(self) -> None:
        """Let go of the server."""
        self._engine.dispose()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()
