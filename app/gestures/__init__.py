"""What a mouse or a key held down does on the sheet: objects that start, move, end or cancel."""
