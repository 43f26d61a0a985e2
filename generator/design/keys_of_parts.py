"""Keys of the parts: how each lies, is copied, cut and worked."""

from generator.design.keys import Choice, Either, Inside, Key, Many, Named, Phrase, Record, Value
from generator.design.keys_of_sections import EACH, LENGTH, NUMBER, POINT, TEXT, TURN, WAY, WHEN
from generator.design.phrases import WAYS
from generator.design.read_loads import LOAD_PATTERN
from generator.design.read_parts import GRAINS, SHOWS
from generator.design.read_pins import SIDES_OF_THE_WHOLE

_WAYS = tuple(WAYS)
_PAIR = rf"^\s*({'|'.join(WAYS)}) +({'|'.join(WAYS)})\s*$"
_BARE_ROW = "hole: 1/4 in\ndeep: 3/8 in\npitch: 1 1/4 in\nin: inside"
_ROW = f"{_BARE_ROW}\nalong: right\nfrom left: 3 in\nfrom front: 1 1/2 in"
_PAIR_OF_LENGTHS = Many(LENGTH, least=2, most=2)
EDGE = Phrase("what the edge is cut by", r"^(against|bevel|into|mitre with) ")
LOAD = Phrase("a load", LOAD_PATTERN)
CORNER = Phrase("work on a corner", r"^(clip|notch|round) ")

# fmt: off
PART_RECORDS = (
    Record(
        "part",
        "A part",
        "One kind of piece: from which stock, how it lies, and what its edges are cut against.",
        (
            Key("from", TEXT, "The stock it is sawn from.",
                "from: panel\nruns: {length: right, width: back}", needed=True),
            Key("title", TEXT, "What it is called on the plan, if not by its name.",
                "title: Rail under the shelf"),
            Key("runs", Inside("runs"), "The ways its length, width and thickness run.",
                "runs: {length: up, width: back}", needed=True),
            Key("length", LENGTH, "How long it is along the grain, where no edge rule says it.",
                "length: width - 2 * panel"),
            Key("width", LENGTH, "How wide it is across the grain, where no edge rule says it.",
                "width: depth / 2"),
            Key("corner", POINT, "Where its corner left, in front and below is: right, back, up.",
                "corner: [panel, 0 in, height / 2]"),
            Key("turn", TURN, "How it is turned about that corner.",
                "corner: [0 in, 0 in, 2 in]\nturn: 10 deg about right"),
            Key("frame", Either((TEXT, Inside("frame"))),
                "The frame it stands in, or one of its own.",
                "frame: {at: [0 in, 0 in, 3 in], turn: 12 deg about right}"),
            Key("each", EACH, "Several of it, counted by a name you can use in formulas.",
                "each: number in 1..3\ncorner: [0 in, 0 in, number * 4 in]"),
            Key("when", WHEN, "A condition; where it is not true, it does not exist.",
                "when: width > 36 in"),
            Key("at", Named(Inside("copy"), "copy"),
                "Copies of it with names, each in a place of its own.",
                "at:\n  left: {}\n  right: {corner: [width - panel, 0 in, 0 in]}"),
            Key("edges", Named(EDGE, "edge", _WAYS),
                "What each edge is cut by: size, bevel and long point follow.",
                "edges:\n  left: against side.left\n  right: bevel 10 deg long on top\n"
                "  back: into front by 1/4 in"),
            Key("edging", Named(TEXT, "edge", _WAYS),
                "Edges covered with edging, by its name under `stock`; sizes are those without it.",
                "edging: {front: tape, left: tape}"),
            Key("corners", Named(CORNER, "corner", _PAIR),
                "Corners clipped, notched or rounded; after `when` may stand a condition.",
                "corners:\n  front left: round 1 in\n  front right: clip 2 in back by 3 in left\n"
                "  back right: notch 2 in front by 1 in left"),
            Key("cuts", Many(Inside("cut")), "Notches and arches in the edges.",
                "cuts:\n  - {arch: [4 in, 1 in], in: front}"),
            Key("outline", Many(Either((_PAIR_OF_LENGTHS, Inside("outline point")))),
                "A free outline instead of a rectangle: points, and arcs that lead to them.",
                "outline:\n  - [0 in, 0 in]\n  - [10 in, 0 in]\n"
                "  - {to: [2 in, 8 in], rise: -1 in}\n  - [0 in, 8 in]"),
            Key("openings", Many(Inside("opening")),
                "Holes, slots and cut-outs that go straight through.",
                "openings:\n  - {hole: 3/4 in, from left: 4 in, from front: 2 in}"),
            Key("pins", Many(Inside("row of pin holes")),
                "Rows of blind holes for pins that adjustable shelves lie on.",
                "pins:\n  - {hole: 1/4 in, deep: 3/8 in, pitch: 1 1/4 in, in: bottom, "
                "along: right, from left: 3 in, from front: 1 1/2 in}"),
            Key("show", Choice(SHOWS), "The face that is seen; the better face of the panel.",
                "show: top"),
            Key("carries", Either((LOAD, Inside("loads by edition"))),
                "What is laid on it, or stands on one spot of it as a person does.",
                "carries: 25 lb per ft"),
            Key("sag", Value("number"),
                "The most it may sag under that, as a share of the span; 1/144 if not given.",
                "carries: 40 kg per m\nsag: 1/240"),
            Key("grain", Choice(tuple(GRAINS)),
                "Whether its length must follow the grain of the sheet, or may lie either way.",
                "grain: either"),
        ),
    ),
    Record(
        "loads by edition",
        "A load by edition",
        "A load with a round number in each edition.",
        (
            Key("imperial", LOAD, "In the edition in inches.",
                "imperial: 25 lb per ft\nmetric: 40 kg per m", needed=True),
            Key("metric", LOAD, "In the edition in millimetres.",
                "imperial: 200 lb on one spot\nmetric: 90 kg on one spot", needed=True),
        ),
    ),
    Record(
        "runs",
        "How a part lies",
        "Three ways, square to each other; length always means along the grain.",
        (
            Key("length", WAY, "The way its length runs.", "length: right\nwidth: back",
                needed=True),
            Key("width", WAY, "The way its width runs.", "length: up\nwidth: back", needed=True),
            Key("thickness", WAY, "The way its thickness runs; right, back or up if not given.",
                "length: up\nwidth: back\nthickness: left"),
        ),
    ),
    Record(
        "copy",
        "A copy of a part",
        "One place of a part that has several; nothing in it means the corner of the whole.",
        (
            Key("corner", POINT, "Where its corner left, in front and below is: right, back, up.",
                "corner: [width - panel, 0 in, 0 in]"),
            Key("turn", TURN, "How it is turned about that corner.",
                "corner: [0 in, 0 in, 2 in]\nturn: 90 deg about up"),
            Key("when", WHEN, "A condition; where it is not true, this copy does not exist.",
                "corner: [width - panel, 0 in, 0 in]\nwhen: width > 36 in"),
            Key("mirrors", TEXT, "The copy it is the mirror image of.",
                "mirrors: left\nacross: {right: width / 2}"),
            Key("across", Named(LENGTH, "way", _WAYS), "Where the mirror stands, square to a way.",
                "mirrors: left\nacross: {back: depth / 2}"),
        ),
    ),
    Record(
        "cut",
        "A cut into an edge",
        "A notch or an arch, square through the part; in the middle of the edge if not told where.",
        (
            Key("notch", Many(LENGTH, least=2, most=2),
                "A rectangle: how long along the edge and how deep.",
                "notch: [3 in, 1 in]\nin: back"),
            Key("arch", Many(LENGTH, least=2, most=2),
                "An arc of a circle: its span along the edge and its rise.",
                "arch: [4 in, 1 in]\nin: front"),
            Key("in", WAY, "The edge it is cut into.", "notch: [3 in, 1 in]\nin: left",
                needed=True),
            Key("when", WHEN, "A condition; where it is not true, it is not cut.",
                "notch: [3 in, 1 in]\nin: left\nwhen: width > 36 in"),
            *(Key(f"from {way}", Value("length"), f"From the {edge} edge to where the cut begins.",
                  f"notch: [1 in, 1/2 in]\nin: {cut}\nfrom {way}: 2 in")
              for way, edge, cut in (
                  ("left", "left", "front"), ("right", "right", "back"),
                  ("front", "front", "left"), ("back", "back", "left"),
                  ("top", "top", "left"), ("bottom", "bottom", "left"),
                  ("up", "top", "left"), ("down", "bottom", "left"))),
        ),
    ),
    Record(
        "outline point",
        "A point of an outline",
        "So far along the length and along the width from the corner; a line or arc leads there.",
        (
            Key("to", _PAIR_OF_LENGTHS, "Where it is: along the length, along the width.",
                "to: [10 in, 2 in]", needed=True),
            Key("rise", LENGTH, "How far the arc that leads here swells out; below 0 it is hollow.",
                "to: [10 in, 2 in]\nrise: 1 in"),
            Key("radius", LENGTH, "The radius of that arc; below 0 it is hollow.",
                "to: [10 in, 2 in]\nradius: -12 in"),
            Key("through", _PAIR_OF_LENGTHS, "A point that arc goes through.",
                "to: [10 in, 2 in]\nthrough: [5 in, 1 in]"),
        ),
    ),
    Record(
        "row of pin holes",
        "A row of pin holes",
        "Blind holes in a line, each a pitch from the last; the first one is measured.",
        tuple(
            Key(name, shape, says, f"{_ROW}{example}", needed=needed)
            for name, shape, says, example, needed in (
                ("hole", LENGTH, "The diameter of the holes, that of the pins.", "", True),
                ("deep", LENGTH, "How deep they are.", "", True),
                ("pitch", LENGTH, "From the middle of one hole to the middle of the next.", "",
                 True),
                ("in", Choice((*WAYS, *SIDES_OF_THE_WHOLE)),
                 "The face they are bored in: a word of the part, inside or outside.", "", True),
                ("along", WAY, "The way the row runs from its first hole.", "", True),
                ("count", NUMBER, "How many holes; as many as fit if not given.",
                 "\ncount: 5", False),
                ("leave", LENGTH,
                 "What is left at least beyond the last hole; if not given, as much as before the "
                 "first.", "\nleave: 2 in", False),
                ("when", WHEN, "A condition; where it is not true, it is not bored.",
                 "\nwhen: width > 36 in", False),
            )
        )
        + tuple(
            Key(f"from {way}", Value("length"), f"From the {edge} edge to the first hole.",
                f"{_BARE_ROW}\nalong: {along}\nfrom {way}: 3 in\nfrom {other}: 1 1/2 in")
            for way, edge, along, other in (
                ("left", "left", "right", "front"), ("right", "right", "left", "back"),
                ("front", "front", "right", "left"), ("back", "back", "right", "left"),
                ("top", "top", "right", "left"), ("bottom", "bottom", "right", "left"),
                ("up", "top", "right", "left"), ("down", "bottom", "right", "left"))
        ),
    ),
    Record(
        "opening",
        "An opening",
        "Its middle is measured from two edges that meet.",
        (
            Key("hole", LENGTH, "A round hole: its diameter.",
                "hole: 3/4 in\nfrom left: 4 in\nfrom front: 2 in"),
            Key("slot", Many(LENGTH, least=2, most=2),
                "A slot with round ends: its length and width.",
                "slot: [4 in, 1 in]\nalong: left\nfrom left: 6 in\nfrom back: 2 in"),
            Key("when", WHEN, "A condition; where it is not true, it is not cut.",
                "hole: 1 in\nfrom left: 3 in\nfrom front: 2 in\nwhen: width > 36 in"),
            Key("cutout", Many(LENGTH, least=2, most=2),
                "A rectangle: its length and width.",
                "cutout: [4 in, 2 in]\nalong: left\nfrom left: 6 in\nfrom back: 3 in"),
            Key("round", LENGTH, "The radius of the corners of a cut-out; sharp if not given.",
                "cutout: [4 in, 2 in]\nround: 1/2 in\nalong: left\n"
                "from left: 6 in\nfrom back: 3 in"),
            Key("along", WAY, "The way a slot or a cut-out runs; a cut-out needs it.",
                "slot: [4 in, 1 in]\nalong: right\nfrom right: 6 in\nfrom back: 2 in"),
            *(Key(f"from {way}", Value("length"), f"From the {edge} edge to its middle.",
                  f"hole: 1 in\nfrom {way}: 3 in\nfrom {other}: 2 in")
              for way, edge, other in (
                  ("left", "left", "front"), ("right", "right", "back"),
                  ("front", "front", "left"), ("back", "back", "left"),
                  ("top", "top", "left"), ("bottom", "bottom", "left"),
                  ("up", "top", "left"), ("down", "bottom", "left"))),
        ),
    ),
)
# fmt: on
