"""What a builder is told beside the figures: how to read a list, how to cut, bore and join.

Common practice, no source, but where a sentence names one. Pages and booklets say the same.
"""

from dataclasses import dataclass

from generator.model.plan import Plan
from generator.model.words import fasteners_word, join_words, plain_words
from generator.model.work import find_work
from generator.telling.joinery_tables import has_inserts, has_pin_holes
from generator.telling.pull_table import make_pulls
from generator.telling.shop_tables import own_kerf_words, shop_kerf_words
from generator.units import System

USUAL_CAUTIONS = (
    "Wear eye and ear protection at every saw and drill, and a dust mask when sawing and sanding "
    "sheet goods.",
    "Support both sides of every cut, keep the blade no deeper than needed, and stand out of the "
    "line of the blade: wood that closes on it is thrown back.",
    "Clamp small pieces. Never hold by hand what is too small to keep both hands away from the "
    "blade.",
    "Unplug the tool, or take its battery out, before you change a blade or bit or alter a tilt.",
    "Stand tall pieces against a wall and anchor them to it; children climb what they can reach.",
    "Sizes and screws follow common practice. This is not a certificate of strength: check local "
    "codes, and ask a licensed professional where they require one or where people depend on the "
    "piece.",
)
FIRST_CAUTIONS = (
    "Read the plan to its end before you buy, and measure the panels you bought before you saw.",
    "Wear eye and ear protection, and a dust mask when sawing and sanding sheet goods.",
    "Cut a test piece for every setting. Unplug a tool before you alter it.",
    "This is no certificate of strength or safety: local codes and licensed trades come first.",
)
LAYOUTS = (
    "Sheets are seen from above with their length, and the grain, across the picture. Numbers "
    "stand on the cuts in the order they are made. The shaded edges are trimmed off first: measure "
    "nothing from a factory edge."
)
BOARDS = (
    "Boards lie with their length, and the grain, across the picture; they are drawn wider than "
    "they are. Cut the rough ends off first, then set the stop once for every piece of a length. "
    "Where pieces are ripped, saw off the length first and rip it afterwards. Lay knots and splits "
    "where the waste is: the order of the pieces on a board may be changed."
)
CUTTING = (
    "Set the fence or stop once, make all the cuts of that setting, then move it. The size is from "
    "the fence or stop to the near side of the kerf, so it is the size of the piece you keep. Make "
    "bevels and angled cuts only when the blanks are sawn, and try each tilt on an offcut first. "
    "Saw a bevel with the face of the long point up: the blade then leans under the part, the size "
    "is read on the face you see, and the offcut falls away beyond the line, widest below. Equal "
    "pieces with the same angle are stacked, edges flush, only for an upright blade, and no higher "
    "than it reaches. Where a cut has a tilt and an angle, set both and make one cut of it; its "
    "size is the greatest one, from long point to long point."
)
WIDE_FIRST = (
    "Wide pieces come off before narrow ones, except where a narrow one would be left last with "
    "nothing wide beside it: then it comes off while there is wide wood to clamp and to carry the "
    "saw."
)
WHAT_IS_LEFT = (
    " Where a cut leaves a part, nothing was measured on it: it has its size with this kerf and a "
    "sheet of just this size. Measure it before that cut, and saw it to size where it is larger."
)
SAW_PICTURES = (
    "The pictures show how the saw meets the wood at every tilt and angle of this plan. Most saws "
    "tilt to one side only: push yours from the end of the line from which the blade leans in "
    "under the piece you keep."
)
CHANNELS = (
    "Channels are cut when the parts are sawn to size and before any hole is bored. Cut one in an "
    "offcut first and try the edge that goes into it: it should slide in by hand. Where the panel "
    "you bought is thicker or thinner than the plan says, make the channel as wide as the panel "
    "and keep the side nearest the edge it is measured from where it is."
)
CHANNEL_WAYS = (
    "With a hand-held saw: set the depth of cut to the depth of the channel and measure it on the "
    "offcut. Clamp a straightedge and saw along both sides of the channel on its inner side, then "
    "in passes between them, and clear what is left with a chisel.",
    "With a router: set the bit to the depth, or to half of it for two passes, clamp a "
    "straightedge and move the router against the turn of the bit. A bit narrower than the channel "
    "takes two passes, one along each side.",
    "A stopped channel ends at a pencil line: stop the saw or router before it, and chop the end "
    "square with a chisel. Never lower a turning blade into the wood by hand unless your saw is "
    "made for it and its manual says how; start at an open end, or use the router or a chisel.",
    "Before you cut, clamp the part down with both hands free for the tool. Unplug the tool before "
    "you set its depth.",
)
EDGING = (
    "Cover these edges when the parts are sawn and before anything is bored or joined. All sizes "
    "in this plan are those of the bare wood: the edging stands out by its own thickness. Cut each "
    "length a little over, put it on with what its maker says, let it cool, and trim it flush with "
    "a sharp chisel or an edging trimmer, away from you. The iron is hot: keep it on its stand, "
    "and fingers behind the tape."
)
INSERTS = (
    "Bore the holes for threaded inserts before assembly, at the places the part drawings show, "
    "with the bit the inserts you bought ask for. Drive the inserts in square and flush with the "
    "wood, with a drop of oil or wax on the thread."
)
BOLTS = (
    "Bolts go in last, each with a washer under its head, and one under its nut where it has one; "
    "tighten them once more after a week. These joints are not glued and come apart again."
)
PULLS = (
    "In tests of the Wood Handbook (FPL-GTR-190, chapter 8) a screw or nail like these came "
    "straight out of the side grain at the pull below, on the average. That is no load to count "
    "on: design codes allow about a fifth of it, a screw in end grain holds less, and wood that is "
    "wet, split or of another kind holds less again."
)
PINS = (
    "Bore the holes for shelf pins before assembly, square to the face and all equally deep: put a "
    "stop collar or a flag of tape on the bit and try the depth on an offcut. Bore one strip of "
    "scrap through as a template, mark which end of it is the lower one, and clamp it to every "
    "piece with that end at the same distance from the same end of the piece; then shelves lie "
    "level. Test a pin in a trial hole first: it should go in by hand and not wobble."
)
PLAIN_BLANKS = "Every blank is sawn to the finished size."
FIRST_HOLES = {"pocket": "pockets", "clearance": "clearance holes", "nail": "nail holes"}
ASSEMBLY = (
    "Draw the layout lines of a step before you begin it, and fit the pieces dry before any glue."
)
FINISH = (
    "Left to you. Round over edges and corners that hands and shins reach, and sand before the "
    "last step."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Advice:
    """What is said at the head of the sections of a plan; empty where it does not apply.

    Attributes:
        cut_list: What the sizes of the cut list are.
        shop: How to ask for cuts where sheets are bought.
        own_saw: How to find the kerf of one's own saw.
        saw_pictures: Before the pictures of tilts and angles.
        channels: Before the ways to cut them.
        drilling: One paragraph for each kind of hole and fastener.
        pulls: Before the table of what screws held in tests.
        pins: How rows of pin holes are bored.
        assembly: What is done before each step, and which names a copy that is turned goes by.
        sizes: How exact the printed sizes are.
        wide_first: In what order pieces come off, and what to do where one is what is left.
    """

    cut_list: str
    shop: str
    own_saw: str
    saw_pictures: str
    channels: str
    drilling: tuple[str, ...]
    pulls: str
    pins: str
    assembly: str
    sizes: str
    wide_first: str
    plain_blanks: str = PLAIN_BLANKS
    layouts: str = LAYOUTS
    boards: str = BOARDS
    cutting: str = CUTTING
    channel_ways: tuple[str, ...] = CHANNEL_WAYS
    edging: str = EDGING
    finish: str = FINISH
    cautions: tuple[str, ...] = USUAL_CAUTIONS


def make_advice(plan: Plan) -> Advice:
    """Return what applies to a plan."""
    system = plan.edition.system
    return Advice(
        cut_list=_cut_list(system),
        shop=_shop(plan) if plan.cutting.shop_lists else "",
        own_saw=_own_saw(plan),
        saw_pictures=SAW_PICTURES if _has_tilts(plan) else "",
        channels=CHANNELS if any(part.housings for part in plan.parts.parts) else "",
        drilling=_drilling(plan),
        assembly=ASSEMBLY + _named_as_drawn(plan),
        pulls=PULLS if make_pulls(plan).rows else "",
        pins=PINS if has_pin_holes(plan) else "",
        sizes=_sizes(system),
        wide_first=WIDE_FIRST + (WHAT_IS_LEFT if _leaves_parts(plan) else ""),
    )


def _has_tilts(plan: Plan) -> bool:
    return any(one.tilt_deg or one.mitre_deg for one in plan.cutting.settings)


def _leaves_parts(plan: Plan) -> bool:
    layouts = plan.cutting.all_layouts()
    return any(", leaving " in cut.frees for layout in layouts for cut in layout.cuts)


def _named_as_drawn(plan: Plan) -> str:
    """Return that copies which stand turned round are marked as their drawing names them."""
    works = (work for part in plan.parts.parts for work in find_work(plan, part))
    turned = [name for work in works for name in work.turned]
    if not turned:
        return ""
    names = join_words([plain_words(name) for name in turned])
    return (
        " Faces and edges are called what the drawing of the part calls them, also on copies that "
        f"stand turned round in the finished piece: {names}."
    )


def _cut_list(system: System) -> str:
    exact = {
        "imperial": "“Full” means a hair more than the mark, “bare” a hair less.",
        "metric": "A tenth of a millimetre is given only where the whole millimetre misses.",
    }[system]
    return (
        "Sizes are the finished ones: length runs with the grain, and a bevelled edge is measured "
        f"to its long point. {exact} Tilt and angles are measured from square. Every drawing of a "
        "part shows which face is which."
    )


def _shop(plan: Plan) -> str:
    own = own_kerf_words(plan)
    narrow = (
        f"; your own cuts in the pieces need a kerf of {own} or less: with a wider one, take the "
        "sheets home uncut"
    )
    return (
        "Many shops cut a sheet where it is sold. These are the fewest straight cuts, along or "
        "across the sheet, after which the pieces fit a car: cuts of this plan, and some through "
        "what is left over. Measure your own car first. The shop measures from the left or the "
        "lower edge of what lies on its saw, as the layouts show it, and leaves the factory edges "
        "on: trim them off the pieces at home, and leave out the plan's cuts named in the last "
        f"column. The shop's saw may take up to {shop_kerf_words(plan)}{narrow if own else ''}. "
        "Check every size before you leave."
    )


def _own_saw(plan: Plan) -> str:
    own = own_kerf_words(plan)
    return (
        "Saw along a straightedge into an offcut and measure the slot: that is your kerf. This "
        f"plan is laid out for the kerf its saw has{f', {own}' if own else ''}."
    )


def _drilling(plan: Plan) -> tuple[str, ...]:
    if not plan.joinery.fasteners:
        return ("This plan has no screws.",)
    driven = fasteners_word(plan.joinery.fasteners)
    lines = []
    bored = {hole.kind for hole in plan.joinery.holes}
    first = [words for kind, words in FIRST_HOLES.items() if kind in bored]
    if first:
        pilots = " Bore pilot holes through them once the pieces are clamped in place."
        lines.append(
            f"Bore {join_words(first)} before assembly, at the places the part drawings show."
            f"{pilots if 'pilot' in bored else ''}"
        )
    if "dowels" in driven:
        lines.append(_dowels(plan.edition.system))
    if "bolts" in driven:
        lines += [INSERTS, BOLTS] if has_inserts(plan) else [BOLTS]
    return tuple(lines)


def _dowels(system: System) -> str:
    room = {"imperial": "1/16 in", "metric": "2 mm"}[system]
    return (
        "Bore the holes for dowels before assembly, in both parts, at the places the part drawings "
        "show: square to the edge or face, with a stop collar or a flag of tape on the bit. The "
        f"two holes together are {room} deeper than the dowel is long: room for the glue. Put a "
        "dowel in dry and close the joint once before any glue is spread; a hole that is off by a "
        "hair is plugged with a dowel, sawn flush and bored again."
    )


def _sizes(system: System) -> str:
    exact = {
        "imperial": (
            "Sizes are computed exactly and shown to 1/16 in, or to 1/32 in where that is nearer. "
            "A size within 0.1 mm of a mark counts as on it; beyond that it says “full”, a hair "
            "more, or “bare”, a hair less."
        ),
        "metric": (
            "Sizes are computed exactly and shown to the millimetre; a size that misses it by more "
            "than 0.1 mm is shown to a tenth."
        ),
    }[system]
    return f"{exact} The files for programs hold them to 0.001 mm."
