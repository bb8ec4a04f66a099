"""What DEVELOPERS.md says is so; its two worked examples are carried out in a copy of the tree."""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests import markdown

ROOT = markdown.ROOT
PAGE = markdown.page("DEVELOPERS.md")
COPIED = ("app", "model", "checks", "tests", "assets", "pyproject.toml", "README.md")
RULES = ("-k", "list_of_rules")
LEFT_OUT = shutil.ignore_patterns("__pycache__", ".*")


@pytest.fixture
def copy(tmp_path: Path) -> Path:
    """Return a copy of the tree."""
    for name in COPIED:
        source, target = ROOT / name, tmp_path / name
        if source.is_dir():
            shutil.copytree(source, target, ignore=LEFT_OUT)
        else:
            shutil.copy(source, target)
    return tmp_path


def follow(block: str, tree: Path) -> None:
    """Do what a code block says: make the file its first line names, or add to a table in it."""
    heading, body = block.split("\n", 1)
    found = re.fullmatch(r"(?:#|<!--) ([\w/.]+)(?:, in (\w+))?(?: -->)?", heading)
    assert found, heading
    path, name = tree / found.group(1), found.group(2)
    if not name:
        assert not path.exists()
        path.write_text(body, encoding="utf-8")
        return
    text = path.read_text(encoding="utf-8")
    start = re.search(rf"^{name} = [({{]\n", text, re.MULTILINE)
    assert start, f"{name} in {path}"
    path.write_text(text[: start.end()] + body + text[start.end() :], encoding="utf-8")


def run(tree: Path, *words: str) -> subprocess.CompletedProcess[str]:
    """Run a module of the copy; it must succeed."""
    done = call(tree, *words)
    assert done.returncode == 0, done.stdout + done.stderr
    return done


def call(tree: Path, *words: str) -> subprocess.CompletedProcess[str]:
    """Run a module of the copy, whatever its exit code."""
    command = [sys.executable, "-m", *words]
    return subprocess.run(command, cwd=tree, capture_output=True, text=True, timeout=300)


def blocks(start: str, end: str) -> list[str]:
    """Return the code blocks of a section that name a file."""
    text = markdown.section(PAGE, start, end)
    return [*markdown.code_blocks(text, "python"), *markdown.code_blocks(text, "svg")]


def test_it_opens_with_one_command() -> None:
    assert PAGE.split("```console\n")[0].count("\n") < 6
    assert markdown.code_blocks(PAGE, "console") == ["python3 -m tests\n"]


def test_the_commands_listed_are_there() -> None:
    rows = markdown.table(PAGE, "command", "what it does")
    runner = (ROOT / "tests" / "tools" / "runner.py").read_text(encoding="utf-8")
    for row in rows:
        (command,) = markdown.words_in_code(row["command"])
        for option in re.findall(r"--[\w-]+", command):
            assert f'"{option}"' in runner
        module = re.search(r"-m ([\w.]+)", command)
        assert module
        path = ROOT / module.group(1).replace(".", "/")
        assert path.is_dir() or path.with_suffix(".py").is_file()


def test_every_file_it_names_is_there() -> None:
    here = ("app", "model", "checks", "tests", "assets")
    made = {"checks/rules/colour_missing.py", "assets/icons/buzzer.svg"}
    names = {
        n.rstrip(".") for n in re.findall(r"\b(?:app|model|checks|tests|assets)/[\w./*]+", PAGE)
    }
    assert len(names) > 30
    for name in names - made:
        if "NAME" in name:
            continue
        assert name.split("/")[0] in here
        assert any(ROOT.glob(name)), name


def test_a_part_in_five_steps(copy: Path) -> None:
    made = blocks("## Add a part in five steps", "## Add a rule in five steps")
    assert len(made) == 3
    for block in made:
        follow(block, copy)
    run(copy, "model.file.reference")
    assert "## buzzer" in (copy / "assets" / "format" / "kinds.md").read_text(encoding="utf-8")
    tests = ["tests/model/test_kinds_loads.py", "tests/model/test_kind_behaviour.py"]
    done = run(copy, "pytest", "-q", "-p", "no:cacheprovider", *tests, "-k", "buzzer or behaviour")
    assert int(re.findall(r"(\d+) passed", done.stdout)[0]) >= 4
    run(copy, "pytest", "-q", "-p", "no:cacheprovider", "tests/app/test_icons.py")


def test_a_rule_in_five_steps(copy: Path) -> None:
    (made,) = blocks("## Add a rule in five steps", "## Where does my test go?")
    follow(made, copy)
    meta = "tests/checks/test_rules_meta.py"
    done = run(copy, "pytest", "-q", "-p", "no:cacheprovider", meta, "-k", "colour-missing")
    assert int(re.findall(r"(\d+) passed", done.stdout)[0]) >= 7
    asked = call(copy, "pytest", "-q", "-p", "no:cacheprovider", "tests/test_readme.py", *RULES)
    assert asked.returncode == 1
    assert "colour-missing" in asked.stdout
