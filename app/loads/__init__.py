"""The page of loads: what each draws, and what all of them ask of battery and alternator."""
