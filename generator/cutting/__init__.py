"""The cutting stage: sheets, layouts that can be sawn, an order of cuts with few settings."""

from generator.cutting.stage import plan_cutting

__all__ = ["plan_cutting"]
