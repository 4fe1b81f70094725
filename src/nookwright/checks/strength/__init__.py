"""Whether parts carry what they are given, by formulas and plates on what is measured in the written files."""
