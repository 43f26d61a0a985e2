"""Keys of the file itself and of its first sections: sizes, stock, planes and frames."""

from generator.design.keys import (
    Choice,
    Either,
    Inside,
    Key,
    Many,
    Named,
    Phrase,
    Record,
    Shape,
    Text,
    Value,
)
from generator.design.phrases import WAYS
from generator.design.read import DIFFICULTIES, STANDS
from generator.yaml_source.getters import YES_NO

TEXT, PROSE = Text(), Text(prose=True)
LENGTH, ANGLE, NUMBER = Value("length"), Value("angle"), Value("number")
WAY = Choice(tuple(WAYS))
POINT = Many(LENGTH, least=3, most=3)
TURN = Many(Phrase("a turn", rf"^.+ about +({'|'.join(WAYS)})\s*$"), or_one=True)
EACH = Many(Phrase("a range", r"^\s*[a-z][a-z0-9_]* +in +.+\.\..+$"), or_one=True, most=2)
WHEN = Value("condition")


def by_edition(shape: Shape) -> Either:
    """Return a shape that may be given for both editions, or once for each."""
    inside = "words by edition" if isinstance(shape, Text) else "values by edition"
    return Either((shape, Inside(inside)))


_VALUES = by_edition(Value("value"))
# fmt: off
WHOLE_FILE = Record(
    "file",
    "The file",
    "A design file says how a piece of furniture is arranged; lengths, bevels and holes follow.",
    (
        Key("title", TEXT, "What the piece is called.", "title: Wall shelf", needed=True),
        Key("date", Phrase("a date", r"^\d{4}-\d{2}-\d{2}$"), "The day of this revision.",
            "date: 2026-11-25", needed=True),
        Key("summary", PROSE, "One sentence for the list of plans.",
            'summary: "A shelf {width} wide."'),
        Key("about", PROSE, "What it is for and what to know first; Markdown.",
            'about: "Every screw is **hidden**. The shelf is {width} wide."'),
        Key("difficulty", Choice(DIFFICULTIES), "How much a builder should have done before.",
            "difficulty: intermediate"),
        Key("made_by", TEXT, "Who designed it.", "made_by: The Tuesday group"),
        Key("licence", TEXT, "What others may do with it.", "licence: Free to build and to change"),
        Key("revision", TEXT, "Its number or name; 1 where nothing is said.", "revision: 2"),
        Key("changes", Named(TEXT, "revision", r"^.+$"), "What each revision changed.",
            "changes:\n  1: First published\n  2: The rail is higher"),
        Key("tags", Many(TEXT, or_one=True), "Words to find it by.", "tags: [hall, one sheet]"),
        Key("hours", TEXT, "How long it takes to build.", "hours: 3 to 4"),
        Key("children", Choice(tuple(YES_NO)),
            "Whether children use it: then openings that trap a head or a finger are found.",
            "children: yes"),
        Key("stands", Choice(STANDS),
            "Whether it stands freely, is fixed to a wall where it stands, or is hung on one.",
            "stands: fixed"),
        Key("tools", Many(TEXT, or_one=True), "What it is built with: names from shared/tools.yml.",
            "tools: [circular-saw, drill-driver, clamps]"),
        Key("saw", TEXT, "The saw whose kerf and tilt count: a name from shared/tools.yml.",
            "saw: circular-saw"),
        Key("car", Inside("car"), "How large a flat piece is taken home: for the cuts at the shop.",
            "car:\n  length: {imperial: 60 in, metric: 1500 mm}\n"
            "  width: {imperial: 36 in, metric: 900 mm}"),
        Key("router", Inside("router"), "What sheets for a router are laid out for.",
            "router: {bit: {imperial: 1/8 in, metric: 3 mm}}"),
        Key("parameters",
            Named(Either((Value("value"), Inside("parameter"))), "parameter"),
            "Sizes with names, for use in every formula.",
            "parameters:\n  width: {imperial: 30 in, metric: 760 mm}\n  half: width / 2"),
        Key("sizes",
            Named(Named(_VALUES, "parameter"), "size"),
            "Named sizes: other values for some parameters; each becomes a plan of its own.",
            "sizes:\n  wide: {width: {imperial: 36 in, metric: 900 mm}, says: For two people}"),
        Key("stock", Named(Either((TEXT, Inside("words by edition"))), "stock"),
            "What the parts are sawn from, and edging; in a formula the name is its thickness.",
            "stock:\n  panel: {imperial: plywood-23/32, metric: plywood-18}", needed=True),
        Key("offcuts", Named(Inside("offcut"), "offcut"),
            "Offcuts you have already: they cost nothing, and are used where that saves.",
            "offcuts:\n  bench_rest: {of: panel, size: [900 mm, 400 mm]}"),
        Key("require", Many(Inside("requirement")),
            "Conditions that must be true whatever sizes are asked for.",
            "require:\n  - {that: width > 2 * height, says: Too tall to stand safely.}"),
        Key("planes", Named(Inside("plane"), "plane"),
            "Planes with names, to cut edges against where no part is.",
            "planes:\n  rear: {at: [0 in, depth, 0 in], facing: back}"),
        Key("frames", Named(Inside("frame"), "frame"),
            "Places that parts can stand in together, moved and turned as one.",
            "frames:\n  leaning: {at: [0 in, 0 in, 3 in], turn: 12 deg about right}"),
        Key("parts", Named(Inside("part"), "part"), "What the piece is made of.",
            "parts:\n  shelf:\n    from: panel\n    length: width\n    width: depth\n"
            "    runs: {length: right, width: back}\n  side:\n    from: panel\n    length: height\n"
            "    width: depth\n    runs: {length: up, width: back}", needed=True),
        Key("joints", Many(Inside("joint")), "What holds the parts together.",
            "joints:\n  - {join: shelf to side, with: glue}"),
        Key("hardware", Named(Inside("hardware"), "hardware"),
            "What is bought ready-made and fitted to pieces.",
            "hardware:\n  feet: {item: felt feet, on: side, count: 2}"),
        Key("steps", Many(Inside("step")), "In which order it goes together.",
            "steps:\n  - title: Put on the sides\n    fit: shelf, side"),
        Key("buy", Many(Inside("thing to buy")), "What else to buy; screws and glue are counted.",
            "buy:\n  - {item: wood oil, quantity: 1, unit: can}"),
        Key("finish", Either((PROSE, Inside("finish"), Many(Inside("finish")))),
            "How the surfaces are treated: Markdown, or one finish or several with their coats.",
            "finish: Round over every edge a hand can reach, then oil it."),
        Key("cautions", Many(PROSE, or_one=True), "What can hurt whoever builds or uses it.",
            "cautions:\n  - Fix it to the wall before you load it."),
        Key("accept", Many(Inside("accepted warning")), "Warnings you live with, and why.",
            "accept:\n  - {code: D301, reason: kept for a later revision}"),
    ),
)

SECTION_RECORDS = (
    Record(
        "parameter",
        "A parameter",
        "A size with a name: give `value`, or `imperial` and `metric`.",
        (
            Key("imperial", Value("value"), "Its value in the edition in inches.",
                "imperial: 30 in\nmetric: 760 mm"),
            Key("metric", Value("value"), "Its value in the edition in millimetres.",
                "imperial: 2 1/2 in\nmetric: 65 mm"),
            Key("value", Value("value"), "Its value in both editions.", "value: 12 deg"),
            Key("min", Value("value"), "The least it may be.", "value: 3\nmin: 1"),
            Key("max", Value("value"), "The most it may be.", "value: 3\nmax: width / 100 mm"),
            Key("says", TEXT, "A few words on what it is.", "value: 3\nsays: How many trays"),
        ),
    ),
    Record(
        "values by edition",
        "Values by edition",
        "One value for the edition in inches and one for the edition in millimetres.",
        (
            Key("imperial", Value("value"), "In inches.", "imperial: 6 in\nmetric: 150 mm",
                needed=True),
            Key("metric", Value("value"), "In millimetres.", "imperial: 6 in\nmetric: 150 mm",
                needed=True),
        ),
    ),
    Record(
        "words by edition",
        "Names by edition",
        "What is sold in inches and what is sold in millimetres, by their names in shared/.",
        (
            Key("imperial", TEXT, "For the edition in inches.",
                "imperial: plywood-15/32\nmetric: plywood-12", needed=True),
            Key("metric", TEXT, "For the edition in millimetres.",
                "imperial: plywood-15/32\nmetric: plywood-12", needed=True),
        ),
    ),
    Record(
        "car",
        "A car",
        "What lies flat in it with the seats down; the shop cuts every sheet to fit.",
        (
            Key("length", _VALUES, "How long a piece may be.",
                "length: {imperial: 60 in, metric: 1500 mm}\nwidth: 36 in", needed=True),
            Key("width", _VALUES, "How wide it may be.", "length: 60 in\nwidth: 36 in",
                needed=True),
        ),
    ),
    Record(
        "router",
        "A router",
        "Who saws may leave it out: the usual bit is 1/4 in or 6 mm, and outlines are a bit apart.",
        (
            Key("bit", _VALUES, "How thick the bit is; it runs outside the outlines.",
                "bit: {imperial: 1/8 in, metric: 3 mm}"),
            Key("apart", _VALUES, "How far apart outlines stay, the bit at least.",
                "apart: {imperial: 1/2 in, metric: 12 mm}"),
            Key("border", _VALUES, "How far outlines stay from the edges of the sheet.",
                "border: {imperial: 1 in, metric: 25 mm}"),
        ),
    ),
    Record(
        "offcut",
        "An offcut",
        "A piece of a sheet or board that is there; its edges are trimmed as a sheet's are.",
        (
            Key("of", TEXT, "What it is left of: a name under `stock`.",
                "of: panel\nsize: [900 mm, 400 mm]", needed=True),
            Key("size", Many(Value("length"), least=1, most=2),
                "Its length along the grain and its width; of a board the length alone.",
                "of: panel\nsize: [36 in, 16 in]", needed=True),
            Key("count", Value("number"), "How many there are; one where nothing is said.",
                "of: panel\nsize: [900 mm, 400 mm]\ncount: 2"),
        ),
    ),
    Record(
        "requirement",
        "A requirement",
        "A condition, and what to say to whoever asks for sizes that break it.",
        (
            Key("that", WHEN, "What must be true.",
                "that: depth >= 8 in\nsays: A plate needs {8 in}.", needed=True),
            Key("says", PROSE, "What is said where it is not true.",
                "that: width < 2 m\nsays: It would not go through a door.", needed=True),
        ),
    ),
    Record(
        "plane",
        "A plane",
        "An endless flat face that no part has, such as the back of the whole.",
        (
            Key("at", POINT, "A point in it: right, back, up.",
                "at: [0 in, depth, 0 in]\nfacing: back", needed=True),
            Key("facing", WAY, "The way it faces, away from the wood.",
                "at: [0 in, 0 in, height]\nfacing: up", needed=True),
            Key("turn", TURN, "How it is turned about that point.",
                "at: [0 in, 0 in, height]\nfacing: up\nturn: 10 deg about right"),
        ),
    ),
    Record(
        "frame",
        "A frame",
        "A place with directions of its own; a part in it is placed as if it stood upright.",
        (
            Key("at", POINT, "Where it is: right, back, up.", "at: [0 in, 0 in, 3 in]"),
            Key("when", WHEN, "A condition; where it is not true, nothing in it exists.",
                "at: [0 in, 0 in, 3 in]\nwhen: width > 36 in"),
            Key("turn", TURN, "How it is turned, one turn after the other.",
                "turn: [12 deg about right, 45 deg about up]"),
            Key("in", TEXT, "The frame it stands in.", "in: leaning\nat: [0 in, 2 in, 0 in]"),
            Key("each", EACH, "Several of it, counted by a name you can use in formulas.",
                "each: tray in 1..3\nat: [0 in, 0 in, tray * 12 in]"),
        ),
    ),
)
# fmt: on
