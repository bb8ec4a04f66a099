"""What the actions of the window do, by subject: editing, files, looking."""
