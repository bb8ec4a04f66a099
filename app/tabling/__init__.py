"""The page of tables: the circuit under another table, and tables of the user's own."""
