"""Formulas."""
