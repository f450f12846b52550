"""What a terminal has lines for."""

from dataclasses import replace
from itertools import pairwise

import pytest

from runner.screen.full.room import GIVEN_UP, room_for
from tests.screen.sample import ASKING, READING, VIEWS


@pytest.mark.parametrize("name", VIEWS)
def test_the_smallest_terminal_that_is_drawn_for_has_room_for_every_state(name: str) -> None:
    """Sixty cells by twenty lines, whatever is shown; from 80 by 24 on nothing has to be given up for it."""
    assert not room_for(VIEWS[name], 60, 20).is_too_small
    assert "said" not in room_for(VIEWS[name], 60, 20).given_up
    assert not {"said", "heard", "words"} & room_for(VIEWS[name], 80, 24).given_up
    assert not room_for(VIEWS[name], 120, 34).given_up


def test_bands_go_one_after_another_as_lines_get_few() -> None:
    """Each smaller terminal gives up what the larger one gave up, and more; last it is too small."""
    rooms = [room_for(READING, 80, height) for height in range(30, 3, -1)]
    for larger, smaller in pairwise(rooms):
        assert larger.given_up <= smaller.given_up or smaller.is_too_small
    assert not rooms[0].given_up
    assert rooms[-1].is_too_small
    assert rooms[-1].given_up == set(GIVEN_UP)


def test_the_keys_have_the_screen_for_themselves() -> None:
    """Until any key."""
    room = room_for(replace(READING, shows_keys=True), 60, 20)
    assert not room.has_clocks
    assert not room.is_too_small


def test_clocks_are_not_drawn_where_they_would_hide_what_is_wrong() -> None:
    """The words that the terminal is too small need the room."""
    assert not room_for(READING, 40, 8).has_clocks
    assert room_for(ASKING, 80, 24).has_clocks
