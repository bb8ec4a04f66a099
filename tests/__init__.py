"""The tests of Voltwalk; the tree mirrors the source. `python3 -m tests` runs them all."""

import os

# As the program does: the systems solved here are small, and threads would only get in the way.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
