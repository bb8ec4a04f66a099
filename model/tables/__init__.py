"""Facts of the trade as data: one module a subject, each value with its source and standing."""
