"""Tests of the edition package."""
