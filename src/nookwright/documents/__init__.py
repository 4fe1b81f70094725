"""Documents for people: plans, the page, the bill."""
