"""The one error of the start-up code."""

# A start that failed says nothing about a circuit: neither a finding, a wrong call nor a bad file.
EXIT_CODE = 4


class StartError(RuntimeError):
    """The program cannot start here; the message says why and what to do, in plain sentences."""
