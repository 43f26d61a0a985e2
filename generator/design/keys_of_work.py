"""Keys of what is done with the parts: joints, steps, buying and accepted warnings."""

from generator.design.keys import Choice, Inside, Key, Many, Phrase, Record, Value
from generator.design.keys_of_sections import (
    EACH,
    LENGTH,
    NUMBER,
    PROSE,
    TEXT,
    WAY,
    WHEN,
    by_edition,
)
from generator.design.read_finish import COVERS
from generator.design.read_joints import WITH
from generator.units import SYSTEMS
from generator.yaml_source.getters import YES_NO

COVERED = Phrase("what a finish covers", rf"^\s*{COVERS}\s*$")
_HOOK = "item: hooks\non: shelf\nface: top"
_CODE = Phrase("a code", r"^[A-Z]\d{3}$")

# fmt: off
WORK_RECORDS = (
    Record(
        "joint",
        "A joint",
        "Two parts that touch, and what holds them; where each screw goes is worked out.",
        (
            Key("join", Phrase("what is joined to what", r" to "),
                "What is joined to what: the part a screw or bolt enters first stands first.",
                "join: shelf to side.left, side.right\nwith: glue", needed=True),
            Key("with", Choice(WITH), "What holds it; nothing: it hangs or lies there.",
                "with: face screws", needed=True),
            Key("pockets", WAY, "The face that pockets are bored in.",
                "with: pocket screws\npockets: bottom"),
            Key("glue", Choice(tuple(YES_NO)), "Whether it is glued as well; dowels always are.",
                "with: face screws\nglue: yes"),
            Key("count", by_edition(NUMBER), "How many screws, nails, dowels or bolts there are.",
                "with: face screws\ncount: 3"),
            Key("spacing", by_edition(LENGTH), "The greatest distance between two of them.",
                "with: face screws\nspacing: {imperial: 6 in, metric: 150 mm}"),
            Key("ends", by_edition(LENGTH), "From the ends of the contact to the outer ones.",
                "with: face screws\nends: depth / 4"),
            Key("screw", by_edition(TEXT), "A screw or nail by its name in shared/screws.yml.",
                "with: face screws\nscrew: {imperial: wood-8x1-1/2, metric: wood-4x40}"),
            Key("dowel", by_edition(TEXT), "A dowel by its name in shared/dowels.yml.",
                "with: dowels\ndowel: {imperial: dowel-3/8x1-1/2, metric: dowel-8x40}"),
            Key("bolt", by_edition(TEXT), "A bolt by its name in shared/bolts.yml.",
                "with: bolts\nbolt: {imperial: bolt-1/4x1-1/2, metric: bolt-m6x40}"),
            Key("nuts", Choice(tuple(YES_NO)), "Whether bolts go through both parts into nuts.",
                "with: bolts\nnuts: yes"),
            Key("when", WHEN, "A condition; where it is not true, nothing is joined.",
                "with: glue\nwhen: width > 36 in"),
            Key("name", TEXT, "What messages call it.", "name: shelf ends"),
        ),
    ),
    Record(
        "step",
        "A step",
        "One action of assembly; every piece goes on in one step.",
        (
            Key("title", TEXT, "What is done.", "title: Put on the sides", needed=True),
            Key("fit", Many(Phrase("names of pieces"), or_one=True), "The pieces that go on.",
                "fit: shelf, side.left"),
            Key("when", WHEN, "A condition; where it is not true, it is not taken.",
                "when: width > 36 in"),
            Key("apart", TEXT, "The name of a sub-assembly that is built apart.",
                "apart: tray\nfit: shelf"),
            Key("joins", Many(TEXT, or_one=True), "The sub-assemblies that go on here.",
                "joins: tray"),
            Key("says", PROSE, "What to do and to watch; Markdown.",
                'says: "The shelf is {height / 2} above the floor."'),
            Key("cautions", Many(PROSE, or_one=True), "What can hurt here.",
                "cautions:\n  - Look for pipes and cables before you drill into a wall."),
        ),
    ),
    Record(
        "thing to buy",
        "A thing to buy",
        "What the generator cannot count by itself.",
        (
            Key("item", PROSE, "What it is.", "item: wood oil\nquantity: 1", needed=True),
            Key("quantity", Value("number"), "How much of it.", "item: hooks\nquantity: 2 + 3",
                needed=True),
            Key("when", WHEN, "A condition; where it is not true, it is not bought.",
                "item: hooks\nquantity: 5\nwhen: width > 36 in"),
            Key("unit", TEXT, "In what it is counted.", "item: hooks\nquantity: 5\nunit: pieces"),
            Key("note", PROSE, "What to look for.",
                "item: hooks\nquantity: 5\nnote: \"with screws no longer than {panel}\""),
        ),
    ),
    Record(
        "hardware",
        "Hardware",
        "What is fitted to pieces: how many, where, and with which screws.",
        (
            Key("item", PROSE, "What it is.", "item: felt feet\non: side", needed=True),
            Key("on", Many(Phrase("names of pieces"), or_one=True),
                "The pieces it is fitted to, each of them alike.",
                "item: felt feet\non: [side, shelf]", needed=True),
            Key("count", NUMBER, "How many on each piece; one if nothing else says it.",
                "item: felt feet\non: side\ncount: 2"),
            Key("face", WAY, "The face of the pieces that places are measured on.",
                f"{_HOOK}\nplaces: [{{from left: 2 in, from front: 1 in}}]"),
            Key("places", Many(Inside("place of hardware")), "Where it goes on each piece.",
                f"{_HOOK}\nplaces: [{{from left: 2 in, from front: 1 in}}]"),
            Key("each", EACH, "Several rounds of the places, counted by a name for formulas.",
                f"{_HOOK}\neach: number in 1..3\n"
                "places: [{from left: number * 4 in, from front: 1 in}]"),
            Key("screw", by_edition(TEXT), "What holds it: a name from shared/screws.yml.",
                "item: hinges\non: side\n"
                "screw: {imperial: wood-6x3/4, metric: wood-3.5x20}\nscrews: 4"),
            Key("screws", NUMBER, "How many of these screws each one takes; one if not given.",
                "item: hinges\non: side\n"
                "screw: {imperial: wood-6x3/4, metric: wood-3.5x20}\nscrews: 4"),
            Key("wall", Choice(tuple(YES_NO)), "Whether it fixes the whole to a wall.",
                "item: wall anchors\non: side\nwall: yes"),
            Key("note", PROSE, "What to look for in the shop.",
                "item: wall anchors\non: side\nnote: rated for your wall"),
            Key("when", WHEN, "A condition; where it is not true, there is none.",
                "item: felt feet\non: side\nwhen: width > 36 in"),
        ),
    ),
    Record(
        "place of hardware",
        "A place of hardware",
        "Its middle, measured on the face from two edges that meet.",
        tuple(
            Key(f"from {way}", Value("length"), f"From the {edge} edge to its middle.",
                f"from {way}: 3 in\nfrom {other}: 2 in")
            for way, edge, other in (
                ("left", "left", "top"), ("right", "right", "top"),
                ("front", "front", "top"), ("back", "back", "top"),
                ("top", "top", "left"), ("bottom", "bottom", "left"),
                ("up", "top", "left"), ("down", "bottom", "left"))
        ),
    ),
    Record(
        "finish",
        "A finish",
        "What is brushed or wiped on; how much of it to buy is worked out from the surfaces.",
        (
            Key("with", PROSE, "What it is.",
                "with: wood oil\ncovers: 100 sq ft per quart", needed=True),
            Key("covers", COVERED, "How far it goes in one coat, as it stands on the can.",
                "with: wood oil\ncovers: 12 m2 per litre", needed=True),
            Key("coats", NUMBER, "How many coats; one if not given.",
                "with: wood oil\ncoats: 2\ncovers: 12 m2 per litre"),
            Key("on", Many(Phrase("names of pieces"), or_one=True),
                "The pieces it goes on; if not given, all that no other finish names.",
                "with: varnish\non: shelf, side.left\ncovers: 400 sq ft per gallon"),
            Key("says", PROSE, "How it is done; Markdown.",
                "with: wood oil\ncovers: 12 m2 per litre\nsays: Wipe it off after ten minutes."),
        ),
    ),
    Record(
        "accepted warning",
        "An accepted warning",
        "A warning does not stop a plan whose maker gives a reason; the reason is printed.",
        (
            Key("code", _CODE, "The code of the warning.",
                "code: D301\nreason: kept for a later revision", needed=True),
            Key("reason", TEXT, "Why it may stay.", "code: D302\nreason: the lid comes later",
                needed=True),
            Key("where", TEXT, "A piece or name its message must have.",
                "code: D301\nwhere: lid\nreason: kept for a later revision"),
            Key("edition", Choice(SYSTEMS), "The one edition it is accepted in, if not in both.",
                "code: C501\nedition: metric\nreason: the gap is under the lid"),
            Key("when", WHEN, "A condition; where it is not true, it is not accepted.",
                "code: C501\nwhen: width > 36 in\nreason: the gap is under the lid"),
        ),
    ),
)
# fmt: on
