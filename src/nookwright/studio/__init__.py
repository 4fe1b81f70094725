"""The studio: the room file on a page of this machine, seen, moved and proven with the functions of the command line."""
