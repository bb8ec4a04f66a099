"""What happens before the program proper: making `.venv`, naming what the machine lacks.

Standard library only, since it runs on a machine that has Python and nothing else. Nothing here
knows circuits, and nothing but `libraries` knows that Qt exists.
"""
