"""Making and editing a part of one's own: the form, what it reads and writes, and its picture."""
