"""Formulas: text → checked expression → value. Nothing is ever handed to Python to run."""
