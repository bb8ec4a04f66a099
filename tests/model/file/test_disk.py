"""Opening and saving on a real disk: whole or not at all, one backup, one sentence."""

from __future__ import annotations

import os
import resource
import stat
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from model.circuit import Circuit, Part
from model.file import FileError, dumps, load, save
from model.file.disk import BACKUP

ONE = Circuit({"p": Part("p", "stud", "X1")})
TWO = Circuit({"p": Part("p", "stud", "X2")})
NOBODY = 65534
ROOT = Path(__file__).resolve().parents[3]


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A file with the first circuit."""
    file = tmp_path / "fan.voltwalk"
    save(ONE, file)
    return file


@contextmanager
def without_rights() -> Iterator[None]:
    """Give up the rights of the super user, whom no permission stops."""
    if os.geteuid():
        yield
        return
    os.seteuid(NOBODY)
    try:
        yield
    finally:
        os.seteuid(0)


def sentence(path: Path) -> str:
    """Return the sentence with which a path is refused."""
    with pytest.raises(FileError) as caught:
        load(path)
    assert "\n" not in str(caught.value)
    return str(caught.value)


def others(path: Path) -> set[str]:
    """Return what lies beside the file."""
    return {p.name for p in path.parent.iterdir()} - {path.name}


def test_a_file_is_saved_and_opened(path: Path) -> None:
    assert load(path).circuit == ONE
    assert path.read_text(encoding="utf-8") == dumps(ONE)
    assert others(path) == set()


def test_saving_what_was_opened_leaves_every_byte(path: Path) -> None:
    before = path.read_bytes()
    save(load(path).circuit, path)
    assert path.read_bytes() == before
    assert others(path) == set(), "no backup for a file that did not change"


def test_one_backup_of_what_was_there_before(path: Path) -> None:
    save(TWO, path)
    assert load(path).circuit == TWO
    assert others(path) == {path.name + BACKUP}
    assert load(path.with_name(path.name + BACKUP)).circuit == ONE
    save(TWO, path)
    assert load(path.with_name(path.name + BACKUP)).circuit == ONE
    save(Circuit(), path)
    assert load(path.with_name(path.name + BACKUP)).circuit == TWO
    assert others(path) == {path.name + BACKUP}


def test_the_mode_stays_and_a_link_stays_a_link(path: Path, tmp_path: Path) -> None:
    path.chmod(0o640)
    link = tmp_path / "link.voltwalk"
    link.symlink_to(path)
    save(TWO, link)
    assert link.is_symlink()
    assert load(path).circuit == TWO
    assert stat.S_IMODE(path.stat().st_mode) == 0o640


def test_a_new_file_has_the_mode_of_any_other(tmp_path: Path) -> None:
    save(ONE, tmp_path / "a.voltwalk")
    (tmp_path / "b").touch()
    assert (tmp_path / "a.voltwalk").stat().st_mode == (tmp_path / "b").stat().st_mode


def test_a_missing_file_a_folder_and_a_pipe(tmp_path: Path) -> None:
    assert "does not exist; check the name" in sentence(tmp_path / "none.voltwalk")
    assert "is a folder; name a circuit file" in sentence(tmp_path)
    os.mkfifo(tmp_path / "pipe")
    assert "no regular file; choose" in sentence(tmp_path / "pipe")
    assert "no regular file; choose" in sentence(Path("/dev/zero"))
    assert "cannot be read" in sentence(tmp_path / "nul\0")
    assert "cannot be read" in sentence(tmp_path / ("x" * 300))


def test_no_permission_to_read(path: Path) -> None:
    path.chmod(0)
    _open_folders(path)
    with without_rights():
        assert "no permission); change its permissions" in sentence(path)


def _open_folders(path: Path) -> None:
    """Let others pass the folders above, so that only the file itself is shut."""
    for folder in path.parents:
        if folder.owner() == path.owner() and folder.name.startswith("pytest-"):
            folder.chmod(0o755)
    path.parent.chmod(0o755)


def test_no_permission_to_write(path: Path) -> None:
    path.chmod(0o444)
    _open_folders(path)
    with without_rights(), pytest.raises(FileError, match=r"may not be written.*; change"):
        save(TWO, path)
    assert load(path).circuit == ONE
    assert others(path) == set()


def test_a_folder_that_takes_no_new_file(path: Path) -> None:
    path.chmod(0o666)
    _open_folders(path)
    path.parent.chmod(0o555)
    with without_rights(), pytest.raises(FileError, match="may not be written"):
        save(TWO, path)
    path.parent.chmod(0o755)
    assert load(path).circuit == ONE
    assert others(path) == set()


def test_saving_to_a_folder_or_into_none(tmp_path: Path) -> None:
    with pytest.raises(FileError, match="is a folder"):
        save(ONE, tmp_path)
    with pytest.raises(FileError, match="the folder does not exist"):
        save(ONE, tmp_path / "none" / "a.voltwalk")


FULL = """
import resource, sys
from model.circuit import Circuit, Part
from model.file import FileError, save
resource.setrlimit(resource.RLIMIT_FSIZE, (2000, 2000))
try:
    save(Circuit({f"p{i}": Part(f"p{i}", "stud") for i in range(1000)}), sys.argv[1])
except FileError as error:
    sys.stdout.write(str(error))
"""


def test_a_disk_that_takes_no_more(path: Path) -> None:
    """A limit on the size of files stops the write half way, as a full disk does."""
    assert resource.RLIMIT_FSIZE is not None
    done = subprocess.run(
        [sys.executable, "-c", FULL, str(path)], capture_output=True, text=True, cwd=ROOT
    )
    assert "cannot be written" in done.stdout, done.stderr
    assert "unchanged, use another place" in done.stdout
    assert load(path).circuit == ONE
    assert others(path) == set()


KILLED = """
import os, sys
from model.circuit import Circuit, Part
from model.file import disk
disk._back_up = lambda target: os.kill(os.getpid(), 9)
disk.save(Circuit({"q": Part("q", "stud")}), sys.argv[1])
"""


def test_a_kill_before_the_last_step_leaves_the_old_file(path: Path) -> None:
    done = subprocess.run([sys.executable, "-c", KILLED, str(path)], cwd=ROOT)
    assert done.returncode == -9
    assert load(path).circuit == ONE


def test_a_later_version_is_not_written_over(path: Path) -> None:
    path.write_text('{"parts": [], "voltwalk" : 2}', encoding="utf-8")
    circuit = load(path).circuit
    with pytest.raises(FileError, match=r"later version 2.*; save under another name"):
        save(circuit, path)
    assert path.read_text(encoding="utf-8") == '{"parts": [], "voltwalk" : 2}'
    save(circuit, path.with_name("copy.voltwalk"))


def test_text_that_is_not_utf_8(path: Path) -> None:
    path.write_bytes(b'{"voltwalk": 1,\n"title": "K\xfchler"}')
    assert "line 2: this is not text in UTF-8; save" in sentence(path)
    path.write_bytes(dumps(ONE).encode("utf-16"))
    assert "not text in UTF-8" in sentence(path)
    path.write_bytes(dumps(ONE).encode("utf-8-sig"))
    assert load(path).circuit == ONE


def test_a_file_of_gigabytes(path: Path) -> None:
    with path.open("r+b") as file:
        file.truncate(5 * 2**30)
    assert "over 64 MB" in sentence(path)
