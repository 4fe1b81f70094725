"""Fuzzing: what random recipes and parts are drawn from, shared with the property tests, and long runs of both."""
