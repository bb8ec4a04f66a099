"""What the checks find in a circuit: one rule a file, findings as data, sentences rendered."""
