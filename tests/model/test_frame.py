"""What a frame keeps: facts once, results while their records are the very same objects."""

from __future__ import annotations

from model.frame import Frame


def counting(made: list[int]) -> int:
    """Return how often it has been asked for."""
    made.append(1)
    return len(made)


def test_a_fact_is_found_out_once() -> None:
    frame, made = Frame(), list[int]()
    assert [frame.fact("a", lambda: counting(made)) for _ in range(3)] == [1, 1, 1]
    assert frame.fact("b", lambda: counting(made)) == 2


def test_a_result_holds_while_its_records_are_the_same_objects() -> None:
    frame, made = Frame(), list[int]()
    one, other, alike = [1], [2], [1]

    def ask(*records: object) -> int:
        return frame.kept("sum", "k", records, lambda: counting(made))

    assert [ask(one, other), ask(one, other)] == [1, 1]
    assert ask(alike, other) == 2  # equal, but another object
    assert ask(alike) == 3  # fewer records
    assert ask(alike, other) == 4
    assert frame.kept("sum", "another key", (alike, other), lambda: counting(made)) == 5
