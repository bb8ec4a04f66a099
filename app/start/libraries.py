"""The system libraries that Qt needs, looked for before Qt looks for them.

Where one is missing Qt's plug-in loader ends the process with a message that names neither the
package nor the command, so they are tried here first. Commands that draw nothing never ask.
"""

import ctypes
import os
import sys
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from app.start import system
from app.start.errors import StartError
from app.start.progress import Progress
from app.start.system import Family, SystemPackage


@dataclass(frozen=True, slots=True)
class Library:
    """A shared library by the name the loader knows, and the package that holds it."""

    soname: str
    package: SystemPackage


def _library(soname: str, debian: str, fedora: str, arch: str) -> Library:
    return Library(soname, SystemPackage(debian, fedora, arch))


# What the ELF headers of the PySide6 6.11 wheels name, less what every Linux has. Package names
# of Fedora and Arch are from memory; those of Debian were tried on a system without them.
DRAWING = (
    _library("libEGL.so.1", "libegl1", "libglvnd-egl", "libglvnd"),
    _library("libGL.so.1", "libgl1", "libglvnd-glx", "libglvnd"),
    _library("libfontconfig.so.1", "libfontconfig1", "fontconfig", "fontconfig"),
    _library("libdbus-1.so.3", "libdbus-1-3", "dbus-libs", "dbus"),
    _library("libxkbcommon.so.0", "libxkbcommon0", "libxkbcommon", "libxkbcommon"),
    _library("libglib-2.0.so.0", "libglib2.0-0", "glib2", "glib2"),
    _library("libgthread-2.0.so.0", "libglib2.0-0", "glib2", "glib2"),
    _library("libfreetype.so.6", "libfreetype6", "freetype", "freetype2"),
    _library("libX11.so.6", "libx11-6", "libX11", "libx11"),
)
X11 = (
    _library("libxcb-cursor.so.0", "libxcb-cursor0", "xcb-util-cursor", "xcb-util-cursor"),
    _library("libxcb-icccm.so.4", "libxcb-icccm4", "xcb-util-wm", "xcb-util-wm"),
    _library("libxcb-keysyms.so.1", "libxcb-keysyms1", "xcb-util-keysyms", "xcb-util-keysyms"),
    _library("libxkbcommon-x11.so.0", "libxkbcommon-x11-0", "libxkbcommon-x11", "libxkbcommon-x11"),
    _library("libxcb-image.so.0", "libxcb-image0", "xcb-util-image", "xcb-util-image"),
    _library(
        "libxcb-render-util.so.0",
        "libxcb-render-util0",
        "xcb-util-renderutil",
        "xcb-util-renderutil",
    ),
    _library("libxcb-util.so.1", "libxcb-util1", "xcb-util", "xcb-util"),
    _library("libX11-xcb.so.1", "libx11-xcb1", "libX11-xcb", "libx11"),
    _library("libxcb-shape.so.0", "libxcb-shape0", "libxcb", "libxcb"),
    _library("libxcb-randr.so.0", "libxcb-randr0", "libxcb", "libxcb"),
    _library("libxcb-xkb.so.1", "libxcb-xkb1", "libxcb", "libxcb"),
    _library("libxcb-render.so.0", "libxcb-render0", "libxcb", "libxcb"),
    _library("libxcb-shm.so.0", "libxcb-shm0", "libxcb", "libxcb"),
    _library("libxcb-sync.so.1", "libxcb-sync1", "libxcb", "libxcb"),
    _library("libxcb-xfixes.so.0", "libxcb-xfixes0", "libxcb", "libxcb"),
    _library("libxcb.so.1", "libxcb1", "libxcb", "libxcb"),
)
WAYLAND = (
    _library("libwayland-client.so.0", "libwayland-client0", "libwayland-client", "wayland"),
    _library("libwayland-cursor.so.0", "libwayland-cursor0", "libwayland-cursor", "wayland"),
)

Loads = Callable[[str], bool]
_NO_SCREEN = (
    "There is no screen to open a window on (DISPLAY and WAYLAND_DISPLAY are not set). "
    "Start it from a desktop, or use a verb that needs none, such as: check FILE"
)


def loads(soname: str) -> bool:
    """Whether the system's loader finds and loads the library `soname`."""
    try:
        ctypes.CDLL(soname)
    except OSError:
        return False
    return True


def needed(*, window: bool, env: Mapping[str, str], can_load: Loads = loads) -> tuple[Library, ...]:
    """Return the libraries that Qt needs here; those of a screen only when a window is wanted.

    Raises
    ------
    StartError
        When a window is wanted and there is no screen.
    """
    platform = env.get("QT_QPA_PLATFORM", "").split(":")[0].split(";")[0]
    if not window or platform not in ("", "xcb", "wayland"):
        return DRAWING
    if not (env.get("WAYLAND_DISPLAY") or env.get("DISPLAY")):
        raise StartError(_NO_SCREEN)
    return DRAWING + _screen(platform, env, can_load)


def require_qt(*, window: bool) -> None:
    """Make sure that Qt can be loaded; call it before the first import of PySide6.

    As root with nobody at a terminal, as in a container, what is missing is installed.

    Parameters
    ----------
    window
        True for a window on a screen, False for drawing into files.

    Raises
    ------
    StartError
        Naming what is missing and the command that installs it.
    """
    if sys.platform != "linux":  # elsewhere the wheels bring all they need
        return
    wanted = needed(window=window, env=os.environ)
    missing = _missing(wanted)
    family = system.this_family()
    if missing and family is not None and system.may_install():
        system.install([each.package for each in missing], family, Progress())
        missing = _missing(wanted)
    if missing:
        raise StartError(sentence(missing, family))


def sentence(missing: list[Library], family: Family | None) -> str:
    """Return which libraries are missing and what installs them."""
    names = ", ".join(each.soname for each in missing)
    noun = "library" if len(missing) == 1 else "libraries"
    packages = [each.package for each in missing]
    advice = system.advice(packages, family)
    return f"Qt, which does the drawing, lacks the system {noun} {names}. {advice}"


def _screen(platform: str, env: Mapping[str, str], can_load: Loads) -> tuple[Library, ...]:
    if platform:
        return WAYLAND if platform == "wayland" else X11
    if not env.get("DISPLAY"):
        return WAYLAND
    # With both screens offered Qt takes Wayland when it can and X11 when it cannot.
    on_wayland = env.get("WAYLAND_DISPLAY") and not _missing(WAYLAND, can_load)
    return WAYLAND if on_wayland else X11


def _missing(wanted: tuple[Library, ...], can_load: Loads = loads) -> list[Library]:
    return [each for each in wanted if not can_load(each.soname)]
