"""The tables of a shared logbook in PostgreSQL: those of `database.py`, and the clips.

Texts that are compared or sorted have the collation "C", so that both databases order ids alike.
"""

from sqlalchemy import (
    BigInteger,
    Column,
    Float,
    ForeignKey,
    Identity,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    String,
    Table,
    Text,
)

from runner.language.catalogue import Outcome

METADATA = MetaData()


def _name(column: str, *, primary_key: bool = False, unique: bool = False) -> Column[str]:
    return Column(column, String(collation="C"), primary_key=primary_key, unique=unique, nullable=False)


SNAPSHOT = Table(
    "snapshot", METADATA, _name("sha256", primary_key=True), Column("text", Text, nullable=False)
)

CLIP = Table(
    "clip", METADATA, _name("name", primary_key=True), Column("content", LargeBinary, nullable=False)
)

CHAIN = Table(
    "chain",
    METADATA,
    Column("number", BigInteger, Identity(), primary_key=True),
    _name("id", unique=True),
    _name("kind"),
    Column("length", BigInteger, nullable=False),
    _name("digest"),
)

LINE = Table(
    "line",
    METADATA,
    Column("chain", BigInteger, ForeignKey("chain.number"), primary_key=True),
    Column("sequence", BigInteger, primary_key=True),
    Column("text", Text, nullable=False),
    _name("digest"),
)

RUN = Table(
    "run",
    METADATA,
    Column("number", BigInteger, ForeignKey("chain.number"), primary_key=True),
    _name("id", unique=True),
    Column("started_at", Float(53), nullable=False),
    Column("ended_at", Float(53)),
    _name("state"),
    _name("check_name"),
    _name("airplane"),
    _name("registration"),
    Column("pilot", Text, nullable=False),
    Column("oat_celsius", Float(53)),
    Column("cautions", Integer, nullable=False),
    Column("squawks", Integer, nullable=False),
    Column("is_invented", Integer, nullable=False),
)

ANSWER = Table(
    "answer",
    METADATA,
    Column("run", BigInteger, ForeignKey("run.number"), primary_key=True),
    _name("item", primary_key=True),
    _name("series"),
    _name("registration"),
    _name("kind"),
    Column("answer", Text, nullable=False),
    Column("value", Float(53)),
    _name("unit"),
    _name("outcome"),
    Column("at", Float(53), nullable=False),
    Column("response_seconds", Float(53)),
    Column("is_hasty", Integer, nullable=False),
)

Index("run_by_time", RUN.c.started_at)
Index("run_by_registration", RUN.c.registration, RUN.c.started_at)
Index("run_by_airplane", RUN.c.airplane, RUN.c.registration)
Index("run_unfinished", RUN.c.started_at, postgresql_where=RUN.c.state == "open")
Index(
    "answer_by_series",
    ANSWER.c.registration,
    ANSWER.c.series,
    ANSWER.c.at,
    postgresql_where=ANSWER.c.value.is_not(None),
)
_IS_SQUAWK = ANSWER.c.outcome == Outcome.SQUAWK.value
Index("answer_squawk", ANSWER.c.registration, ANSWER.c.at, postgresql_where=_IS_SQUAWK)
