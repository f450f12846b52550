"""The quick pass must agree with the closer look on every run: what one calls whole, the other does too."""

import random
import sqlite3
from pathlib import Path

import pytest

from runner.core.answer_origin import AnswerOrigin, Reception
from runner.core.record.entry import (
    Cause,
    ConfirmationAsked,
    DeclaredUnable,
    Entry,
    Held,
    InputChanged,
    RunAbandoned,
)
from runner.language.catalogue import Outcome
from runner.logbook.invented.synthetic import InventedAirplane, Recipe, Story, write_history
from runner.logbook.proof.chain_verdict import look_closely
from runner.logbook.proof.swift import Swift
from runner.logbook.record.record import chains
from runner.logbook.record.run_store import FILE, Logbook
from runner.logbook.record.still import held_still
from runner.session.parts import load_parts
from tests.logbook.sample import STARTED_AT, answer, new_run, whole_run, write_run


def _compare(folder: Path) -> tuple[list[str], list[str]]:
    """(doubtful runs, runs with faults), by id."""
    with held_still(folder) as still:
        listed = chains(still, "run")
        with still.strict_text():
            numbers = set(Swift(still.connection).doubtful(1, max(chain.number for chain in listed)))
        faulty = [chain.id for chain in listed if look_closely(still, chain).faults]
    return [chain.id for chain in listed if chain.number in numbers], faulty


def test_ordinary_runs_are_proven_at_once(tmp_path: Path) -> None:
    """None of an invented history, none of a run with corrections, letters beyond ASCII and a clock."""
    parts = load_parts("merlow-reserve")
    airplane = InventedAirplane(parts.check.airplane, "QQ-Z01", parts.check_text, parts.airplane_text)
    with Logbook.open(tmp_path) as logbook:
        write_history(logbook, parts.check, airplane, Recipe(Story.COLD_MORNINGS, 3, runs=20))
    write_run(tmp_path)
    assert _compare(tmp_path) == ([], [])


def _odd_entries(dice: random.Random) -> list[Entry]:
    words = ["reserve", 'say "no"', "a\\b", "line\nbreak", "naïve \u202e", "", "\U0001f600", "tab\t"]
    entries: list[Entry] = list(whole_run())[: dice.randrange(3, 10)]
    for _ in range(dice.randrange(1, 8)):
        at: float = dice.choice([STARTED_AT, 1.5e300, 5, 1e-7, -0.0, STARTED_AT + dice.random()])
        item = dice.choice(words)
        choices: list[Entry] = [
            answer(at, item, dice.choice(words), dice.choice(list(Outcome))),
            answer(at, item, dice.choice(["24.6", "1e3", "-0", "nan"]), Outcome.PASS, "volts"),
            DeclaredUnable(at, item),
            InputChanged(at, dice.choice(words), Cause.ROOM_LOUD),
            ConfirmationAsked(
                at, item, None, AnswerOrigin(at, None, is_hasty=False, reception=Reception("", 0.5, "voice"))
            ),
            Held(at),
            RunAbandoned(at),
        ]
        entries.append(dice.choice(choices))
    return entries


def odd_logbook(folder: Path, dice: random.Random) -> None:
    """A few runs with every kind of odd word and number."""
    with Logbook.open(folder) as logbook:
        for number in range(6):
            with new_run(logbook, started_at=STARTED_AT + 60 * number) as handle:
                for entry in _odd_entries(dice):
                    handle.append(entry)
                    if isinstance(entry, RunAbandoned):
                        break


@pytest.mark.parametrize("seed", range(30))
def test_what_it_proves_has_no_fault(tmp_path: Path, seed: int) -> None:
    """Entries with every kind of odd word and number; then one random change of one cell."""
    dice = random.Random(seed)
    odd_logbook(tmp_path, dice)
    doubtful, faulty = _compare(tmp_path)
    assert set(faulty) <= set(doubtful)
    connection = sqlite3.connect(tmp_path / FILE)
    table, column = dice.choice(CELLS)
    changed = dice.choice(
        ["NULL", "'x'", "7", f"{column} || ' '", f"replace({column}, '2', '3')", "x'ff00fe'"]
    )
    with connection:
        connection.execute(
            f"UPDATE OR IGNORE {table} SET {column} = coalesce({changed}, {column}) "
            f"WHERE rowid_or_key(1)".replace("rowid_or_key(1)", f"abs(random()) % 4 = {seed % 4}")
        )
    connection.close()
    doubtful, faulty = _compare(tmp_path)
    assert set(faulty) <= set(doubtful)


CELLS = [
    *(("line", column) for column in ("text", "digest", "sequence")),
    *(("chain", column) for column in ("length", "digest", "id")),
    *(("run", column) for column in ("state", "ended_at", "pilot", "oat_celsius", "squawks", "registration")),
    *(
        ("answer", column)
        for column in ("item", "series", "answer", "value", "unit", "outcome", "at", "kind")
    ),
    ("snapshot", "text"),
]


@pytest.mark.parametrize(
    "text",
    ["{}.50", "{}.5e0", "0{}.5", "{}.5000000000000001"],
    ids=["trailing zero", "exponent", "leading zero", "more digits than there are"],
)
def test_a_number_that_json_writes_otherwise_is_looked_at_closely(tmp_path: Path, text: str) -> None:
    """Its hash is right, but this program would never have written it so; both looks refuse it."""
    run = write_run(tmp_path)
    from runner.logbook.record.chain import digest  # noqa: PLC0415 - only this test forges

    with Logbook.open(tmp_path) as logbook, logbook.writing() as connection:
        [chain] = chains(logbook, "run")
        row = connection.execute("SELECT max(sequence) FROM line WHERE chain = ?", (chain.number,)).fetchone()
        last, old = (
            row[0],
            connection.execute(
                "SELECT text FROM line WHERE chain = ? AND sequence = ?", (chain.number, row[0])
            ).fetchone()[0],
        )
        at = f"{STARTED_AT + 60}"
        new = old.replace(at, text.format(at.removesuffix(".0")))
        assert new != old
        connection.execute(
            "UPDATE line SET text = ?, digest = ? WHERE chain = ? AND sequence = ?",
            (new, digest(new), chain.number, last),
        )
        connection.execute("UPDATE chain SET digest = ? WHERE number = ?", (digest(new), chain.number))
    assert _compare(tmp_path) == ([run], [run])
