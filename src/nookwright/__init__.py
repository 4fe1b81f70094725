"""From one survey of spaces and things to a kit of printed organisers that fits the first time.

The stages are folders, in the order of the work: ``survey``, ``sizing``, ``module``, ``layout``, ``parts``,
``cutting``, ``solids``, ``making``, ``exchange``, ``checks``, ``documents``. ``build.py`` is their table of
contents. Lengths are millimetres throughout; every other quantity carries its unit in its name.
"""

__version__ = "0.1.0"
