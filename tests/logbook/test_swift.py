"""The quick pass must agree with the closer look on every run: what one calls whole, the other does too."""

import random
import sqlite3
from pathlib import Path

import pytest

from runner.checklist.model import Outcome
from runner.core.entry import DeclaredUnable, Entry, Held, InputChanged, RunAbandoned
from runner.core.event import Channel, Cause
from runner.logbook.record import chains
from runner.logbook.still import held_still
from runner.logbook.store import FILE, Logbook
from runner.logbook.swift import Swift
from runner.logbook.synthetic import Airplane, Recipe, Story, write_history
from runner.logbook.verdict import look_closely
from runner.session.parts import load_parts
from tests.logbook.sample import STARTED_AT, answer, new_run, whole_run, write_run
