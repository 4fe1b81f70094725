"""Whether the schedule of printing in kit.json can be kept, and its spools, purchases and costs are those of it."""
