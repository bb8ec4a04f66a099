"""Tests of the start-up code and of the tools that `python3 -m tests` runs."""
