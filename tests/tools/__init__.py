"""What `python3 -m tests` runs besides the tests: lint, benchmarks, pins."""
