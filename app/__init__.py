"""The program people start: the window, the command line, and what prepares both."""
