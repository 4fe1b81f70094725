"""Lids, sliding lids and nests of bodies with one lid."""
