"""Leaders on pictures: which of them cross another one, a letter, or words."""

from itertools import combinations

from shapely.geometry import LineString, Point, Polygon

from generator.outputs.scene import Disc, Scene, Stroke, Words
from generator.outputs.scene_check import text_corners


def find_crossed_leaders(scene: Scene) -> list[str]:
    """Return what is wrong with the leaders of a picture, in words; nothing where all is well."""
    leaders = [
        LineString(item.points)
        for item in scene.items
        if isinstance(item, Stroke) and item.layer == "leader"
    ]
    letters = [
        Point(item.center).buffer(0.95 * item.radius_mm)
        for item in scene.items
        if isinstance(item, Disc) and item.tone == "bubble" and item.layer == "leader"
    ]
    words = [
        Polygon(text_corners(item))
        for item in scene.items
        if isinstance(item, Words) and len(item.text) > 2
    ]
    found = [
        f"leaders to {one.coords[-1]} and {other.coords[-1]} cross"
        for one, other in combinations(leaders, 2)
        if one.crosses(other)
    ]
    for leader in leaders:
        found += [
            f"the leader to {leader.coords[-1]} crosses the letter at {letter.centroid}"
            for letter in letters
            if letter.intersects(leader)
        ]
        found += [
            f"the leader to {leader.coords[-1]} runs through words at {box.centroid}"
            for box in words
            if box.intersects(leader)
        ]
    return found
