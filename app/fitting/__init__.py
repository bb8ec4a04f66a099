"""The page of sizes: the smallest that satisfies every rule, and taking it over."""
