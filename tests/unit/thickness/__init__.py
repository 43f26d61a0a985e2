"""Tests of the thickness package."""
