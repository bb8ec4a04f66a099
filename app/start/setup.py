"""Makes `.venv` or brings it up to date, with a progress line and one sentence on failure."""

import importlib.util
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from app.start import failures, system
from app.start.environment import Environment, pins_of
from app.start.errors import StartError
from app.start.progress import Progress

# Settings for pip that would install somewhere else than in `.venv`.
_ELSEWHERE = ("PIP_USER", "PIP_TARGET", "PIP_PREFIX", "PIP_ROOT", "PYTHONHOME", "PYTHONPATH")
_TOO_LITTLE = 50_000_000  # bytes; fewer than pip alone takes
_PIN = re.compile(r"^[\w.-]+==", re.MULTILINE)
# Each package is named once in what pip writes; "Processing" tells the path of a local file.
_PACKAGE = re.compile(
    r"(?:Collecting|Ignoring|Requirement already satisfied:|Processing(?: \S*[/\\])?) ?"
    r"([A-Za-z]\w*(?:-[A-Za-z]\w*)*)"
)
_PIP_OPTIONS = (
    "--require-hashes",
    "--only-binary=:all:",  # a source package would need a compiler
    "--no-deps",  # the pins are complete
    "--no-input",
    "--disable-pip-version-check",
    "--no-warn-script-location",
    "--progress-bar=off",
    "--retries=2",
)


def ensure(env: Environment, groups: tuple[str, ...], progress: Progress) -> None:
    """Make `groups` of packages available in `env`, doing nothing when they are.

    Raises
    ------
    StartError
        When the environment cannot be made, with what to do.
    """
    if env.is_current(groups):
        return
    with _writing(env), _alone(env):
        if not env.is_current(groups):  # another start may have done it meanwhile
            _bring_up_to_date(env, env.groups_to_install(groups), progress)


def _bring_up_to_date(env: Environment, groups: tuple[str, ...], progress: Progress) -> None:
    if not env.can_be_updated():
        _require_venv(progress)
        _make(env, progress)
    _install(env, groups, progress)
    env.write_stamp(groups)
    progress.say("ready")


def _require_venv(progress: Progress) -> None:
    """Make sure that Python can make environments; Debian has that in a package of its own."""
    if all(importlib.util.find_spec(name) for name in ("venv", "ensurepip")):
        return
    family = system.this_family()
    if family is None or not system.may_install():
        raise StartError(failures.no_venv(family))
    system.install([failures.venv_package()], family, progress)


def _make(env: Environment, progress: Progress) -> None:
    version = "{}.{}.{}".format(*sys.version_info[:3])
    if env.folder.exists() or env.folder.is_symlink():
        progress.say("clearing a .venv that is unfinished or made for another Python")
        _clear(env.folder)
    progress.say(f"making .venv with Python {version} (once; fetches about 150 MB)")
    words = [sys.executable, "-m", "venv", str(env.folder)]
    done = subprocess.run(words, env=_environ(), capture_output=True, text=True, check=False)
    if done.returncode:
        raise StartError(_reason(env, done.stdout + done.stderr))


def _clear(folder: Path) -> None:
    if folder.is_dir() and not folder.is_symlink():
        shutil.rmtree(folder)
    else:
        folder.unlink()


def _install(env: Environment, groups: tuple[str, ...], progress: Progress) -> None:
    files = [pins_of(group, env.pins) for group in groups]
    total = sum(len(_PIN.findall(path.read_text(encoding="utf-8"))) for path in files)
    words = [str(env.python), "-m", "pip", "install", *_PIP_OPTIONS]
    words += [word for path in files for word in ("-r", str(path))]
    with subprocess.Popen(
        words,
        env=_environ(),
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        errors="replace",
    ) as pip:
        assert pip.stdout is not None
        output = list(_followed(pip.stdout, total, progress))
    if pip.returncode:
        raise StartError(_reason(env, "".join(output)))


def _reason(env: Environment, output: str) -> str:
    """Explain `output`; on a full disk venv fails without a word on why."""
    full = shutil.disk_usage(env.root).free < _TOO_LITTLE
    return failures.explain("No space left on device" if full else output)


def _followed(lines: Iterator[str], total: int, progress: Progress) -> Iterator[str]:
    """Yield what pip writes while showing how far it is."""
    seen = 0
    for line in lines:
        package = _PACKAGE.match(line)
        if package:
            seen += 1
            progress.step(min(seen, total), total, f"fetching {package.group(1)}")
        elif line.startswith("Installing collected packages"):
            progress.say("unpacking, about half a minute")
        yield line


def _environ() -> dict[str, str]:
    return {key: value for key, value in os.environ.items() if key not in _ELSEWHERE}


@contextmanager
def _writing(env: Environment) -> Iterator[None]:
    """Turn an error of the file system into a sentence on the folder."""
    try:
        yield
    except OSError as error:
        reason = failures.explain(str(error))
        raise StartError(f"{reason} (folder: {env.root})") from error


@contextmanager
def _alone(env: Environment) -> Iterator[None]:
    """Let one start at a time work on the environment; a second one waits for the first.

    Windows has no lock of this kind in the standard library, so there the second is not held.
    """
    try:
        import fcntl
    except ImportError:
        yield
        return
    with (env.root / ".venv.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        yield
