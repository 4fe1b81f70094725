"""What goes where: candidates in cells, assignment of lots to spaces, packing of each space, filling up."""
