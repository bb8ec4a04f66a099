"""Files on the disk: read whole or not at all, written so that nothing is ever lost."""

from __future__ import annotations

import contextlib
import os
import re
import secrets
import shutil
import stat
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from model.circuit import Circuit
from model.file.errors import FileError
from model.file.reading import VERSION, Loaded, loads
from model.file.tree import MAX_BYTES
from model.file.writing import dumps

BACKUP = "~"
"""What the name of the one backup has at its end."""
_VERSION = re.compile(rb'"voltwalk"\s*:\s*(\d{1,9})')
AnyPath = str | os.PathLike[str]


def load(path: AnyPath) -> Loaded:
    """Read a circuit file.

    Raises
    ------
    FileError
        The file is missing, may not be read, is no file, or is no circuit; see `loads`.
    """
    place = Path(path)
    data = _bytes_of(place)
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise FileError(
            f"{place.name}, line {line}: this is not text in UTF-8; save the file as UTF-8 or take "
            "the backup."
        ) from error
    return loads(text, place.name)


def _bytes_of(path: Path) -> bytes:
    """Return what is in a regular file of a size that can be a circuit."""
    with _one_sentence(path, "read"):
        mode = path.stat().st_mode
        if stat.S_ISDIR(mode):
            raise IsADirectoryError
        if not stat.S_ISREG(mode):  # a pipe would wait for its other end
            raise FileError(f"{path.name}: this is no regular file; choose a circuit file.")
        with path.open("rb") as file:
            data = file.read(MAX_BYTES + 1)
    if len(data) > MAX_BYTES:
        raise FileError(
            f"{path.name}: the file is over {MAX_BYTES >> 20} MB, too large for a circuit; "
            "split it into several circuits."
        )
    return data


def save(circuit: Circuit, path: AnyPath) -> None:
    """Write a circuit file whole, or leave the old one as it is.

    The old content becomes the backup ``NAME.voltwalk~``; nothing is written when it would be
    the same. The file keeps its mode, and a symbolic link stays one.

    Raises
    ------
    FileError
        The place cannot be written, or holds a file of a later version.
    """
    place = Path(path)
    with _one_sentence(place, "written"):
        data = dumps(circuit).encode("utf-8")
        target = Path(os.path.realpath(place))
        old = _old_bytes(target)
        if old == data:
            return
        _refuse_later(place, old or b"")
        _replace(target, data, old is not None)


def _old_bytes(target: Path) -> bytes | None:
    """Return what the file has now, None where there is none.

    Raises
    ------
    OSError
        It may not be written: replacing it would get round the protection a person chose.
    """
    try:
        with target.open("r+b") as file:
            return file.read(MAX_BYTES + 1)
    except FileNotFoundError:
        return None


def _refuse_later(path: Path, old: bytes) -> None:
    """Raise when the file there is of a later version, which this program would impoverish."""
    found = _VERSION.search(old)
    if found and int(found[1]) > VERSION:
        raise FileError(
            f"{path.name}: the file there has the later version {int(found[1])} of the format; "
            "save under another name."
        )


def _replace(target: Path, data: bytes, exists: bool) -> None:
    """Write beside the target, then put the new file in its place in one step."""
    fresh = target.with_name(f".{target.name}.{secrets.token_hex(4)}.part")
    try:
        _write(fresh, data)
        if exists:
            shutil.copymode(target, fresh)
            _back_up(target)
        fresh.replace(target)
    finally:
        with contextlib.suppress(OSError):
            fresh.unlink(missing_ok=True)
    _sync_folder(target.parent)


def _write(path: Path, data: bytes) -> None:
    """Write a new file and wait until the disk has it."""
    with path.open("xb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())


def _back_up(target: Path) -> None:
    """Make the old file the backup, while it also stays where it is."""
    backup = target.with_name(target.name + BACKUP)
    spare = target.with_name(f".{target.name}.{secrets.token_hex(4)}.old")
    try:
        try:
            os.link(target, spare)
        except OSError:  # a file system without links
            shutil.copy2(target, spare)
        spare.replace(backup)
    finally:
        with contextlib.suppress(OSError):
            spare.unlink(missing_ok=True)


def _sync_folder(folder: Path) -> None:
    """Make the new name last through a power cut, where the system can."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


@contextmanager
def _one_sentence(path: Path, what: str) -> Iterator[None]:
    """Turn what the system says into one sentence."""
    try:
        yield
    except FileNotFoundError as error:
        missing = "the folder" if what == "written" else "the file"
        raise FileError(f"{path}: {missing} does not exist; check the name.") from error
    except IsADirectoryError as error:
        raise FileError(f"{path}: this is a folder; name a circuit file in it.") from error
    except PermissionError as error:
        raise FileError(
            f"{path}: the file may not be {what} (no permission); change its permissions or use "
            "another place."
        ) from error
    except (OSError, ValueError) as error:
        if isinstance(error, FileError):
            raise
        reason = getattr(error, "strerror", None) or str(error)
        raise FileError(
            f"{path}: the file cannot be {what} ({reason}); "
            + ("what was there is unchanged, use another place." if what == "written" else _OTHER)
        ) from error


_OTHER = "use another file."
