"""The program people start: the window, the command line, and what prepares both."""

import os

# The systems solved here are small: threads of the linear algebra library cost more than they
# give (ten times on a busy machine). It reads this once, when it is loaded.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
