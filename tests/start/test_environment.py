"""When `.venv` counts as up to date, and when it is made anew or updated."""

import json
import tempfile
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.start import environment
from app.start.environment import Environment

BOTH = ("run", "test")


@pytest.fixture
def env(tmp_path: Path) -> Environment:
    """A checkout with two files of pins and a `.venv` that has a Python but no stamp."""
    made = Environment(tmp_path, tmp_path / "pins")
    made.pins.mkdir()
    for group in BOTH:
        environment.pins_of(group, made.pins).write_text(f"{group}==1\n")
    made.python.parent.mkdir(parents=True)
    made.python.touch()
    return made


def test_nothing_there_is_not_current(tmp_path: Path) -> None:
    env = Environment(tmp_path)
    assert not env.is_current(("run",))
    assert not env.can_be_updated()


def test_half_made_is_not_current(env: Environment) -> None:
    assert not env.is_current(("run",))
    assert not env.can_be_updated()


def test_stamped_is_current(env: Environment) -> None:
    env.write_stamp(BOTH)
    assert env.is_current(BOTH)
    assert env.is_current(("run",))


def test_other_pins_are_an_update_in_place(env: Environment) -> None:
    env.write_stamp(BOTH)
    environment.pins_of("run", env.pins).write_text("run==2\n")
    assert not env.is_current(("run",))
    assert env.is_current(("test",))
    assert env.can_be_updated()


def test_line_ends_of_another_system_are_the_same_pins(env: Environment) -> None:
    env.write_stamp(BOTH)
    environment.pins_of("run", env.pins).write_bytes(b"run==1\r\n")
    assert env.is_current(BOTH)


def test_the_tests_add_to_what_the_program_installed(env: Environment) -> None:
    env.write_stamp(("run",))
    assert not env.is_current(BOTH)
    assert env.can_be_updated()
    assert env.groups_to_install(BOTH) == BOTH


def test_the_program_keeps_what_the_tests_installed(env: Environment) -> None:
    env.write_stamp(BOTH)
    assert env.groups_to_install(("run",)) == BOTH


def test_another_python_means_made_anew(env: Environment, monkeypatch: pytest.MonkeyPatch) -> None:
    env.write_stamp(BOTH)
    monkeypatch.setattr(environment, "python_tag", lambda: "cpython-399-somewhere")
    assert not env.is_current(("run",))
    assert not env.can_be_updated()


def test_a_python_that_went_away_means_made_anew(env: Environment) -> None:
    env.write_stamp(BOTH)
    env.python.unlink()
    assert not env.is_current(("run",))
    assert not env.can_be_updated()


@given(st.one_of(st.text(), st.recursive(st.none() | st.integers(), st.lists).map(json.dumps)))
def test_any_damaged_stamp_is_no_stamp(text: str) -> None:
    with tempfile.TemporaryDirectory() as folder:
        env = Environment(Path(folder))
        env.python.parent.mkdir(parents=True)
        env.python.touch()
        env.write_stamp(("run",))
        (env.folder / "voltwalk-stamp.json").write_text(text, encoding="utf-8")
        assert not env.is_current(("run",))
