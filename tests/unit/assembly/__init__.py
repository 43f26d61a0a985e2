"""Tests of the assembly package."""
