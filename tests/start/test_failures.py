"""Each way the set-up fails gets its own sentence with what to do.

The outputs are what pip 23 to 26 and venv wrote when they were made to fail so.
"""

import pytest

from app.start import failures

NO_NAME = (
    "WARNING: Retrying (Retry(total=1, connect=None, read=None, redirect=None, status=None)) after "
    "connection broken by 'NewConnectionError('<pip._vendor.urllib3.connection.HTTPSConnection "
    "object at 0x7f>: Failed to establish a new connection: [Errno -3] Temporary failure in name "
    "resolution')': /simple/numpy/\n"
    "ERROR: Could not find a version that satisfies the requirement numpy==2.4.6 (from versions: "
    "none)\nERROR: No matching distribution found for numpy==2.4.6\n"
)
NO_WHEEL = (
    "ERROR: Could not find a version that satisfies the requirement pyside6-essentials==6.11.3 "
    "(from versions: none)\nERROR: No matching distribution found for pyside6-essentials==6.11.3\n"
)
OTHER_FILE = (
    "ERROR: THESE PACKAGES DO NOT MATCH THE HASHES FROM THE REQUIREMENTS FILE. If you have updated "
    "the package versions, please update the hashes.\n"
)
NO_ENSUREPIP = (
    "The virtual environment was not created successfully because ensurepip is not available.\n"
)


@pytest.mark.parametrize(
    ("output", "reason", "what_to_do"),
    [
        (NO_NAME, "no connection", "Connect to the network"),
        ("[Errno 101] Network is unreachable", "no connection", "Connect to the network"),
        ("ReadTimeoutError: Read timed out.", "no connection", "Connect to the network"),
        (
            "SSLError(SSLCertVerificationError(1, '[SSL: CERTIFICATE_VERIFY_FAILED]",
            "secure",
            "clock",
        ),
        ("OSError: [Errno 28] No space left on device", "disk is full", "Free some"),
        ("[WinError 112] There is not enough space on the disk", "disk is full", "Free some"),
        ("[Errno 13] Permission denied: '/opt/x/.venv'", "cannot be written", "Copy the whole"),
        ("[Errno 30] Read-only file system: '.venv'", "cannot be written", "Copy the whole"),
        (NO_WHEEL, "no ready-made pyside6-essentials", "Python 3.11 to 3.14"),
        (OTHER_FILE, "not the one that was pinned", "Start it again"),
        (NO_ENSUREPIP, "no venv or ensurepip", "Install it with"),
        ("some words\nERROR: quite another thing\nmore words", "quite another thing", ""),
        ("", "it gave no reason", ""),
    ],
)
def test_each_failure_is_explained(output: str, reason: str, what_to_do: str) -> None:
    sentence = failures.explain(output)
    assert reason in sentence
    assert what_to_do in sentence


@pytest.mark.parametrize(
    ("family", "command"),
    [
        ("debian", "sudo apt install python3."),
        ("fedora", "sudo dnf install python3-libs"),
        ("arch", "sudo pacman -S python"),
    ],
)
def test_a_python_without_venv_names_the_package(family: str, command: str) -> None:
    assert command in failures.no_venv(family)  # type: ignore[arg-type]
