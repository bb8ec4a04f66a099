"""Which system libraries are looked for, what is said about a missing one."""

import re
import sys
from pathlib import Path

import pytest

from app.start import libraries, system
from app.start.errors import StartError
from app.start.libraries import DRAWING, WAYLAND, X11, Library
from app.start.progress import Progress
from app.start.system import SystemPackage

X_ENV = {"DISPLAY": ":0"}
# What every Linux that runs Python 3.11 has; the wheels bring libicu themselves.
BASE = {"libc.so.6", "libm.so.6", "libgcc_s.so.1", "libstdc++.so.6", "libz.so.1", "libzstd.so.1"}


def _all(_: str) -> bool:
    return True


def test_drawing_into_files_needs_no_screen() -> None:
    assert libraries.needed(window=False, env={}) == DRAWING


def test_a_window_on_x11_needs_more() -> None:
    assert libraries.needed(window=True, env=X_ENV, can_load=_all) == DRAWING + X11


def test_wayland_is_taken_when_it_can_be() -> None:
    env = {**X_ENV, "WAYLAND_DISPLAY": "wayland-0"}
    assert libraries.needed(window=True, env=env, can_load=_all) == DRAWING + WAYLAND
    assert libraries.needed(window=True, env=env, can_load=lambda _: False) == DRAWING + X11


def test_wayland_alone() -> None:
    env = {"WAYLAND_DISPLAY": "wayland-0"}
    assert libraries.needed(window=True, env=env, can_load=lambda _: False) == DRAWING + WAYLAND


@pytest.mark.parametrize(
    ("platform", "expected"),
    [("offscreen", DRAWING), ("minimal", DRAWING), ("xcb", DRAWING + X11)],
)
def test_a_chosen_platform_decides(platform: str, expected: tuple[Library, ...]) -> None:
    env = {**X_ENV, "WAYLAND_DISPLAY": "wayland-0", "QT_QPA_PLATFORM": platform}
    assert libraries.needed(window=True, env=env, can_load=_all) == expected


def test_no_screen_is_said_in_a_sentence() -> None:
    with pytest.raises(StartError, match=r"no screen.*check FILE"):
        libraries.needed(window=True, env={})


def test_a_library_that_is_nowhere_does_not_load() -> None:
    assert not libraries.loads("libvoltwalk-nowhere.so.7")


@pytest.mark.skipif(sys.platform != "linux", reason="only there does Qt need system libraries")
def test_every_library_that_qt_names_is_in_the_table() -> None:
    pyside = pytest.importorskip("PySide6")
    qt = Path(pyside.__file__).parent / "Qt"
    files = [qt / f"lib/libQt6{name}.so.6" for name in ("Core", "Gui", "Widgets", "Svg", "DBus")]
    files += [qt / "lib/libQt6XcbQpa.so.6", qt / "lib/libQt6WaylandClient.so.6"]
    files += [qt / f"plugins/platforms/libq{name}.so" for name in ("offscreen", "xcb", "wayland")]
    own = {path.name for path in (qt / "lib").iterdir()}
    known = {each.soname for each in (*DRAWING, *X11, *WAYLAND)}
    named = set().union(*(_sonames(path) for path in files))
    assert "libxcb-cursor.so.0" in named
    assert named - own - BASE <= known


def _sonames(path: Path) -> set[str]:
    """Return the library names in the string table of an ELF file."""
    found = re.findall(rb"\0(lib[\w+.-]+\.so\.\d+)(?=\0)", path.read_bytes())
    return {name.decode() for name in found}


PROBE = Library("libvoltwalk-nowhere.so.7", SystemPackage("probe-deb", "probe-rpm", "probe-arch"))


@pytest.fixture
def probe_missing(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let Qt need one library that is nowhere."""
    monkeypatch.setattr(sys, "platform", "linux")
    monkeypatch.setattr(libraries, "needed", lambda **_: (PROBE,))


@pytest.mark.parametrize(
    ("family", "command"),
    [
        ("debian", "sudo apt install probe-deb"),
        ("fedora", "sudo dnf install probe-rpm"),
        ("arch", "sudo pacman -S probe-arch"),
    ],
)
@pytest.mark.usefixtures("probe_missing")
def test_a_missing_library_names_the_command(
    family: str, command: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(system, "this_family", lambda: family)
    monkeypatch.setattr(system, "may_install", lambda: False)
    with pytest.raises(StartError, match=rf"nowhere\.so\.7\. Install it with: {command}"):
        libraries.require_qt(window=True)


@pytest.mark.usefixtures("probe_missing")
def test_in_a_container_it_is_installed_and_looked_for_again(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    installed: list[SystemPackage] = []

    def install(packages: list[SystemPackage], family: str, progress: Progress) -> None:
        installed.extend(packages)

    monkeypatch.setattr(system, "this_family", lambda: "debian")
    monkeypatch.setattr(system, "may_install", lambda: True)
    monkeypatch.setattr(system, "install", install)
    with pytest.raises(StartError, match="nowhere"):  # since nothing really brought it
        libraries.require_qt(window=False)
    assert installed == [PROBE.package]


@pytest.mark.usefixtures("probe_missing")
def test_other_systems_are_not_asked(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "platform", "darwin")
    libraries.require_qt(window=True)
