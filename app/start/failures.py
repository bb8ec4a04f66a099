"""Turns what `venv` and `pip` say when they fail into one sentence with what to do."""

import re
import sys
from dataclasses import dataclass

from app.start import system
from app.start.system import Family, SystemPackage

_AGAIN = "Then start it again; it goes on where it stopped."


@dataclass(frozen=True, slots=True)
class _Cause:
    pattern: re.Pattern[str]
    sentence: str


def _cause(pattern: str, sentence: str) -> _Cause:
    return _Cause(re.compile(pattern, re.IGNORECASE), sentence)


# In this order: a full disk or a missing network makes pip complain of other things afterwards.
_CAUSES = (
    _cause(
        r"no space left|errno 28\b|disk quota exceeded|not enough space on the disk",
        f"The disk is full: about 1 GB must be free for the folder .venv. Free some. {_AGAIN}",
    ),
    _cause(
        r"read-only file system|permission denied|errno 13\b|winerror 5\b",
        "The folder .venv cannot be written here. "
        "Copy the whole folder to a place that is yours and start it there.",
    ),
    _cause(
        r"certificate_verify_failed|sslerror|ssl module is not available",
        "No secure connection to the package index could be made. "
        f"Check the clock, the proxy and the certificates of this machine. {_AGAIN}",
    ),
    _cause(
        r"newconnectionerror|name resolution|name or service not known|getaddrinfo failed|"
        r"nodename nor servname|network is unreachable|no route to host|connection refused|"
        r"connection reset|timed out|timeouterror|proxyerror|remotedisconnected",
        "There is no connection to the package index, and the first start needs one. "
        f"Connect to the network (or set the proxy that pip shall use). {_AGAIN}",
    ),
    _cause(
        r"do not match the hashes",
        "A fetched package is not the one that was pinned, so it was not installed: "
        "the download was damaged, or the package index in use serves another file. "
        "Start it again, on another network if this stays.",
    ),
)
_NO_WHEEL = re.compile(r"no matching distribution found for ([\w.-]+)", re.IGNORECASE)


def explain(output: str) -> str:
    """Return one sentence on why `output`, written by a failed `venv` or `pip`, ends so."""
    if "ensurepip is not available" in output:
        return no_venv(system.this_family())
    for cause in _CAUSES:
        if cause.pattern.search(output):
            return cause.sentence
    lacking = _NO_WHEEL.search(output)
    return _no_wheel(lacking.group(1)) if lacking else _unknown(output)


def no_venv(family: Family | None) -> str:
    """Return the sentence for a Python that comes without what makes virtual environments."""
    advice = system.advice([venv_package()], family)
    return f"This Python has no venv or ensurepip module. {advice}"


def venv_package() -> SystemPackage:
    """Return the system package that completes the running Python."""
    version = "{}.{}".format(*sys.version_info[:2])
    return SystemPackage(f"python{version}-venv", "python3-libs python3-pip", "python")


def _no_wheel(package: str) -> str:
    version = "{}.{}".format(*sys.version_info[:2])
    return (
        f"There is no ready-made {package} for Python {version} on this system. Use a 64-bit "
        "Python 3.11 to 3.14, on Linux with glibc 2.34 or later (2.39 on ARM)."
    )


def _unknown(output: str) -> str:
    lines = [line.strip() for line in output.splitlines() if line.strip()]
    errors = [line for line in lines if line.lower().startswith("error")] or lines
    last = errors[-1] if errors else "it gave no reason"
    return f"Setting up .venv failed: {last}"
