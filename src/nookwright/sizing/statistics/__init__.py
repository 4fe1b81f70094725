"""What samples, tolerances and readings say about sizes that nobody measured."""
