"""The rooms of the window: what it is laid out of, and what it does when something happens."""
