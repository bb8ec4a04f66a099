"""The rules, one a file, named after the fault in plain words."""
