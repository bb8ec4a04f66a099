"""Sheets around the drawing: tabs, where each was looked at, the overview, zoom."""
