"""The pins: exact, hashed, without an address, and what `pyproject.toml` allows."""

import re
import tomllib
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from app.start.environment import PINS

ROOT = Path(__file__).resolve().parents[2]
_ENTRY = re.compile(
    r"^([\w.-]+)==([\w.]+)[^\n]*\\\n((?:    --hash=sha256:[0-9a-f]{64}.*\n?)+)", re.M
)


def _pinned(group: str) -> dict[str, str]:
    text = (PINS / f"{group}.txt").read_text(encoding="utf-8")
    return {name: version for name, version, _ in _ENTRY.findall(text)}


def _declared() -> list[Requirement]:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    lines = project["project"]["dependencies"] + project["dependency-groups"]["test"]
    return [Requirement(line) for line in lines]


@pytest.mark.parametrize("group", ["run", "test"])
def test_every_line_is_a_pin_with_hashes_and_no_address(group: str) -> None:
    text = (PINS / f"{group}.txt").read_text(encoding="utf-8")
    starts = [line for line in text.splitlines() if line and line[0] not in "# "]
    assert len(_pinned(group)) == len(starts) > 10
    assert "://" not in text
    assert "index" not in text


def test_no_package_is_pinned_twice() -> None:
    assert not _pinned("run").keys() & _pinned("test").keys()


@pytest.mark.parametrize("requirement", _declared(), ids=str)
@pytest.mark.parametrize("python", ["3.11", "3.12", "3.14"])
def test_a_pin_is_what_the_project_allows(requirement: Requirement, python: str) -> None:
    if requirement.marker and not requirement.marker.evaluate({"python_version": python}):
        return  # another line speaks for this Python
    version = {**_pinned("run"), **_pinned("test")}[canonicalize_name(requirement.name)]
    assert requirement.specifier.contains(version)
