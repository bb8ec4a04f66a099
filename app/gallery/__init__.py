"""Circuits to start from: the examples with their pictures, and templates dropped as one thing."""
