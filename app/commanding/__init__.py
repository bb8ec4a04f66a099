"""Commands found by their names, and the keys that call them: listed in one place, changeable."""
