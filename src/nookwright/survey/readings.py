"""Readings as a person takes them, as types of the room's models.

A length is a number in the file's unit or a text such as ``"36.2 cm"``. Readings are one length, a list of lengths, or
a table with ``floor`` and ``rim``; each of those a length or a list. Validation turns all of them into millimetres.
"""
