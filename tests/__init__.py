"""The tests of Voltwalk; the tree mirrors the source. `python3 -m tests` runs them all."""
