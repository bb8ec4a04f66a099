"""Data that ships with the program: tables, icons, example circuits and fonts."""
