"""Schedule: which bedful on which printer when, with a bound that says how much earlier any schedule could end."""
