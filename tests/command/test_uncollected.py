"""Work without Python's search for cycles."""

import gc

import pytest

from runner.command.uncollected import uncollected


def _fail() -> None:
    assert not gc.isenabled()
    raise ValueError("odd")


def test_the_search_is_off_meanwhile_and_on_again_after() -> None:
    """Also where the work ends in an error."""
    with uncollected():
        assert not gc.isenabled()
    assert gc.isenabled()
    with pytest.raises(ValueError, match="odd"), uncollected():
        _fail()
    assert gc.isenabled()
