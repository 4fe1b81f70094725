"""What every stage stands on: errors, findings, tolerances, sources, typed lengths, whole-or-nothing writing."""
