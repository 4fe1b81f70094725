"""Room to be there, to come in and to be taken out: gaps, travel, ways out, openings, and what a hand gets hold of."""
