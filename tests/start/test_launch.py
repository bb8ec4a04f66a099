"""The way into the Python of `.venv`, tried on a small checkout with a package made here.

Nothing is fetched: pip is pointed at a folder, or at a port of this machine where nobody listens.
"""

import base64
import hashlib
import os
import shutil
import subprocess
import sys
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from app.start import launch
from app.start.errors import StartError

ROOT = Path(__file__).resolve().parents[2]
BASE_PYTHON = getattr(sys, "_base_executable", sys.executable)
CLI = """
import sys
import voltwalk_probe
def run():
    print(sys.prefix, voltwalk_probe.ANSWER, *sys.argv[1:])
    sys.exit(7)
"""


@dataclass(frozen=True)
class Checkout:
    """A copy of the start-up code whose only pin is a package in the folder `wheels`."""

    root: Path
    wheels: Path

    def pin(self, digest: str) -> None:
        """Pin the package with `digest`."""
        text = f"voltwalk-probe==1.0 \\\n    --hash=sha256:{digest}\n"
        (self.root / "app/start/pins/run.txt").write_text(text)

    def start(self, *words: str, network: bool = True) -> subprocess.CompletedProcess[str]:
        """Run `python3 -m app` with the Python below any environment."""
        env = {k: v for k, v in os.environ.items() if not k.startswith(("PIP_", "PYTHON"))}
        env["PIP_CONFIG_FILE"] = os.devnull
        if network:
            env |= {"PIP_NO_INDEX": "1", "PIP_FIND_LINKS": str(self.wheels)}
        else:
            env |= {"PIP_INDEX_URL": "http://127.0.0.1:9/none", "PIP_NO_CACHE_DIR": "1"}
        return subprocess.run(
            [BASE_PYTHON, "-m", "app", *words],
            cwd=self.root, env=env, capture_output=True, text=True, stdin=subprocess.DEVNULL,
        )  # fmt: skip


def _wheel(folder: Path) -> Path:
    """Write the smallest package that pip accepts."""
    info = "voltwalk_probe-1.0.dist-info"
    files = {
        "voltwalk_probe.py": "ANSWER = 42\n",
        f"{info}/METADATA": "Metadata-Version: 2.1\nName: voltwalk-probe\nVersion: 1.0\n",
        f"{info}/WHEEL": "Wheel-Version: 1.0\nRoot-Is-Purelib: true\nTag: py3-none-any\n",
    }
    record = "".join(f"{name},{_record(text)},{len(text)}\n" for name, text in files.items())
    path = folder / "voltwalk_probe-1.0-py3-none-any.whl"
    with zipfile.ZipFile(path, "w") as wheel:
        for name, text in {**files, f"{info}/RECORD": record + f"{info}/RECORD,,\n"}.items():
            wheel.writestr(name, text)
    return path


def _record(text: str) -> str:
    digest = hashlib.sha256(text.encode()).digest()
    return "sha256=" + base64.urlsafe_b64encode(digest).rstrip(b"=").decode()


@pytest.fixture(scope="module")
def checkout(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Checkout]:
    """A checkout that nothing was started in yet."""
    root, wheels = tmp_path_factory.mktemp("checkout"), tmp_path_factory.mktemp("wheels")
    shutil.copytree(ROOT / "app/start", root / "app/start")
    for name in ("app/__init__.py", "app/__main__.py", "pyproject.toml"):
        shutil.copy(ROOT / name, root / name)
    (root / "app/cli.py").write_text(CLI)
    made = Checkout(root, wheels)
    made.pin(hashlib.sha256(_wheel(wheels).read_bytes()).hexdigest())
    yield made
    shutil.rmtree(root)


@pytest.fixture(scope="module")
def first(checkout: Checkout) -> subprocess.CompletedProcess[str]:
    """The first start."""
    return checkout.start("one", "two words")


def test_the_first_start_makes_the_environment_and_passes_all_on(
    checkout: Checkout, first: subprocess.CompletedProcess[str]
) -> None:
    assert first.returncode == 7, first.stderr
    assert first.stdout.strip() == f"{checkout.root / '.venv'} 42 one two words"
    assert "making .venv" in first.stderr
    assert "1 of 1: fetching voltwalk_probe" in first.stderr


@pytest.mark.usefixtures("first")
def test_the_second_start_needs_no_network_and_says_nothing(checkout: Checkout) -> None:
    again = checkout.start("x", network=False)
    assert (again.returncode, again.stderr) == (7, "")


@pytest.mark.usefixtures("first")
def test_a_half_made_environment_is_made_anew(checkout: Checkout) -> None:
    (checkout.root / ".venv/voltwalk-stamp.json").unlink()
    left = checkout.root / ".venv/left-by-a-killed-run"
    left.touch()
    again = checkout.start()
    assert again.returncode == 7, again.stderr
    assert "unfinished" in again.stderr
    assert not left.exists()


@pytest.mark.usefixtures("first")
def test_changed_pins_without_a_network(checkout: Checkout) -> None:
    pins = checkout.root / "app/start/pins/run.txt"
    before = pins.read_text()
    pins.write_text(before.replace("==1.0", "==1.1"))
    refused = checkout.start(network=False)
    pins.write_text(before)
    assert refused.returncode == 4
    assert refused.stderr.splitlines()[-1].startswith("voltwalk: There is no connection")
    assert checkout.start(network=False).returncode == 7  # nothing was lost


@pytest.mark.usefixtures("first")
def test_a_package_that_is_not_the_pinned_one_is_refused(checkout: Checkout) -> None:
    pins = checkout.root / "app/start/pins/run.txt"
    before = pins.read_text()
    checkout.pin("0" * 64)
    (checkout.root / ".venv/voltwalk-stamp.json").unlink()
    refused = checkout.start()
    pins.write_text(before)
    assert refused.returncode == 4
    assert "not the one that was pinned" in refused.stderr


def test_installed_by_pip_there_is_nothing_to_prepare(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(launch, "_prepare", lambda *_: pytest.fail("prepared"))
    launch.enter("run", root=tmp_path)


def test_a_failed_start_is_one_sentence_and_exit_code_4(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def fail(*_: object) -> None:
        raise StartError("No such luck. Try again.")

    (tmp_path / "pyproject.toml").touch()
    monkeypatch.setattr(launch, "_prepare", fail)
    with pytest.raises(SystemExit) as stop:
        launch.enter("run", root=tmp_path)
    assert stop.value.code == 4
    assert capsys.readouterr().err == "voltwalk: No such luck. Try again.\n"


def test_foreign_packages_are_not_put_before_the_pinned_ones(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PYTHONPATH", os.pathsep.join([str(tmp_path), "/opt/elsewhere"]))
    assert launch._environ(tmp_path.resolve())["PYTHONPATH"] == str(tmp_path)
    monkeypatch.setenv("PYTHONPATH", "/opt/elsewhere")
    assert "PYTHONPATH" not in launch._environ(tmp_path)
