"""The writers: a finished plan becomes drawings, DXF files, tables and plan.json."""
