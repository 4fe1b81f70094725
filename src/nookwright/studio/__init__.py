"""The studio: the room file on a page of this machine, with the functions of the command line."""
