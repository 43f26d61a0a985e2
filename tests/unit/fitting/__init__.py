"""Unit tests of the fitting stage."""
