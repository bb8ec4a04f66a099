"""The sheet as a scene: items that hold an id and paint, and what they paint as plain values."""
