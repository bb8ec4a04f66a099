"""The docks around the sheet: Tray, Details, Findings, Schedule."""
