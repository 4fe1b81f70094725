"""Whether the record that a kit keeps of its room, its prints and its order is true."""
