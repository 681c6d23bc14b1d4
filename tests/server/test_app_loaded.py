"""What is loaded for good is not searched for garbage again; what comes after it is."""

import gc
import sys
import types
import weakref
from collections.abc import Iterator

import pytest

from easelside.housekeeping.loaded import Loaded


@pytest.fixture(autouse=True)
def thawed() -> Iterator[None]:
    yield
    gc.unfreeze()


class Ring:
    def __init__(self) -> None:
        self.itself = self


def test_libraries_are_passed_over_and_garbage_made_later_is_found() -> None:
    tracked = len(gc.get_objects())
    Loaded().keep()
    assert len(gc.get_objects()) < tracked / 100 and gc.get_freeze_count() > tracked / 2
    left = weakref.ref(Ring())
    gc.collect()
    assert left() is None


def test_what_is_garbage_already_is_not_kept() -> None:
    left = weakref.ref(Ring())
    Loaded().keep()
    assert left() is None


def test_it_is_done_again_only_where_something_more_was_loaded(monkeypatch: pytest.MonkeyPatch) -> None:
    loaded = Loaded()
    loaded.keep()
    kept, later = gc.get_freeze_count(), [Ring() for _ in range(100)]
    loaded.keep()
    assert gc.get_freeze_count() <= kept
    monkeypatch.setitem(sys.modules, "a_library_of_its_own", types.ModuleType("a_library_of_its_own"))
    loaded.keep()
    assert gc.get_freeze_count() > kept
    assert len(later) == 100
