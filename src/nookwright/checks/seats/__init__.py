"""Seats, looked at in the written files: cones and sockets, how they engage, go on, swap and play; lids and pockets."""
