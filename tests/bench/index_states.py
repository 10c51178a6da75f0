"""The index's state machine for long: pytest tests/bench/index_states.py, some minutes."""

from __future__ import annotations

from hypothesis import settings

from tests.intake.test_index_states import IndexStates


class TestIndexStatesForLong(IndexStates.TestCase):
    """The same rules with more and longer stories."""

    settings = settings(IndexStates.TestCase.settings, max_examples=400, stateful_step_count=40)
