"""The room as measured: models, loading with precise errors, tables of published sizes."""
