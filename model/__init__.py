"""What a vehicle circuit is and how it behaves; knows nothing of windows or of rules."""
