"""Checks against standards, handbooks and reference libraries, the source beside each."""
