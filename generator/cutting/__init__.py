"""The cutting room."""

from generator.cutting.stage import plan_cutting

__all__ = ["plan_cutting"]
