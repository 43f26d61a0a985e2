"""The design of the benchmarks: cabinets of fifteen parts side by side, no two parts alike.

A cabinet has what demo designs have: mirrored sides with a clip and a slot, panels cut against
others or housed in them, a leaning tray, a bevelled cleat, a notch, holes, a mitred box, a
rounded corner, feet from boards, a thin back, a shelf that carries a load. Children use it, so
that the check that looks through every gap works as well.
"""

PARTS_EACH = 15
"""Lines of the cut list for one cabinet; the copies of some of them make it 19 pieces."""

PIECES_EACH = 19
BASE_MM, STEP_MM = 640, 12
"""The first cabinet is so wide, each next one by a step wider: so no two share a part."""

STAGGER_MM = 20
"""Every other cabinet stands back a little: else the screws of two neighbours would meet."""

HEAD = """\
title: A row of cabinets
date: 2026-11-25
children: yes
stands: fixed
saw: circular-saw
stock:
  panel: {imperial: plywood-23/32, metric: plywood-18}
  thin: {imperial: plywood-15/32, metric: plywood-12}
  stick: {imperial: 2x4, metric: 38x89}
parameters:
  depth: {imperial: 16 in, metric: 400 mm}
"""

FRAMES = """\
  unit_K: {at: [X mm, S mm, 0 mm]}
  lean_K: {in: unit_K, at: [0 mm, panel, 1000 mm], turn: 12 deg about right}
"""

PARTS = """\
  side_K:
    from: panel
    frame: unit_K
    length: 1500 mm
    width: depth
    runs: {length: up, width: back}
    corners: {top front: clip 250 mm down by D mm back}
    openings:
      - {slot: [90 mm, 30 mm], along: back, from top: 80 mm, from back: 90 mm}
    show: outside
    at:
      left: {}
      right: {mirrors: left, across: {right: W mm / 2}}
  bottom_K:
    from: panel
    frame: unit_K
    corner: [0 mm, 0 mm, stick_width]
    width: depth
    runs: {length: right, width: back}
    edges: {left: against side_K.left, right: against side_K.right}
    show: top
  foot_K:
    from: stick
    frame: unit_K
    length: depth - D mm
    runs: {length: back, width: up}
    at:
      left: {corner: [2 * panel, 50 mm, 0 mm]}
      right: {mirrors: left, across: {right: W mm / 2}}
  partition_K:
    from: panel
    frame: unit_K
    corner: [W mm / 2 - panel / 2, 20 mm, 0 mm]
    width: depth - D mm
    runs: {length: up, width: back}
    edges: {bottom: into bottom_K by 5 mm, top: into shelf_K by 5 mm}
    corners: {bottom back: notch 60 mm up by 30 mm front}
  shelf_K:
    from: panel
    frame: unit_K
    corner: [0 mm, 20 mm, 500 mm]
    width: depth - 20 mm
    runs: {length: right, width: back}
    edges: {left: against side_K.left, right: against side_K.right}
    carries: {imperial: 20 lb per ft, metric: 30 kg per m}
    show: top
  tray_K:
    from: panel
    frame: lean_K
    runs: {length: right, width: back}
    edges:
      left: against side_K.left
      right: against side_K.right
      front: against lip_K
      back: against back_K
    openings:
      - {hole: 8 mm, from left: 150 mm, from front: 50 mm}
      - {hole: 8 mm, from right: 150 mm, from front: 50 mm}
    show: top
  lip_K:
    from: panel
    frame: unit_K
    corner: [0 mm, 0 mm, 988 mm]
    width: 75 mm
    runs: {length: right, width: up}
    edges: {left: against side_K.left, right: against side_K.right}
    show: front
  rail_K:
    from: panel
    frame: unit_K
    corner: [0 mm, depth - panel, 980 mm]
    runs: {length: right, width: up}
    edges:
      left: against side_K.left
      right: against side_K.right
      top: against tray_K
    show: front
  top_rail_K:
    from: panel
    frame: unit_K
    corner: [0 mm, depth - panel, 1500 mm - H mm]
    width: H mm
    runs: {length: right, width: up}
    edges: {left: against side_K.left, right: against side_K.right}
    show: front
  back_K:
    from: thin
    frame: unit_K
    corner: [0 mm, depth, 0 mm]
    length: 1500 mm
    width: W mm
    runs: {length: up, width: right}
    show: front
  cleat_K:
    from: panel
    frame: unit_K
    corner: [0 mm, depth + thin, 1300 mm]
    length: W mm
    width: H mm
    runs: {length: right, width: up}
    edges: {top: "bevel 45 deg, long on back"}
  box_front_K:
    from: panel
    frame: unit_K
    width: H mm
    runs: {length: right, width: up}
    edges: {left: mitre with box_side_K.left, right: mitre with box_side_K.right}
    at:
      near: {corner: [50 mm, 60 mm, 500 mm + panel]}
      far: {mirrors: near, across: {back: 200 mm}}
    show: outside
  box_side_K:
    from: panel
    frame: unit_K
    width: H mm
    runs: {length: back, width: up}
    edges: {front: mitre with box_front_K.near, back: mitre with box_front_K.far}
    at:
      left: {corner: [50 mm, 60 mm, 500 mm + panel]}
      right: {mirrors: left, across: {right: W mm / 2}}
    show: outside
  box_bottom_K:
    from: thin
    frame: unit_K
    corner: [0 mm, 0 mm, 500 mm + panel]
    runs: {length: right, width: back}
    edges:
      left: against box_side_K.left
      right: against box_side_K.right
      front: against box_front_K.near
      back: against box_front_K.far
  ledge_K:
    from: panel
    frame: unit_K
    corner: [panel, 20 mm - H mm, 500 mm]
    length: W mm - 2 * panel
    width: H mm
    runs: {length: right, width: back}
    corners: {front left: round 20 mm, front right: round 20 mm}
    show: top
"""

JOINTS = """\
  - {join: bottom_K to side_K, with: pocket screws, pockets: bottom, glue: yes}
  - {join: foot_K to bottom_K, with: glue}
  - {join: bottom_K to partition_K, with: face screws}
  - {join: shelf_K to partition_K, with: glue}
  - {join: shelf_K to side_K, with: pocket screws, pockets: bottom}
  - {join: tray_K to lip_K, with: pocket screws, pockets: bottom, glue: yes}
  - {join: rail_K to tray_K, with: pocket screws, pockets: back, ends: 90 mm}
  - {join: tray_K to side_K, with: pocket screws, pockets: bottom, ends: 90 mm}
  - {join: rail_K to side_K, with: pocket screws, pockets: back}
  - {join: lip_K to side_K, with: glue}
  - {join: top_rail_K to side_K, with: pocket screws, pockets: back}
  - {join: "back_K to side_K, bottom_K, shelf_K", with: face screws, spacing: 200 mm}
  - {join: cleat_K to back_K, with: glue}
  - {join: box_front_K to box_side_K, with: glue}
  - {join: "box_bottom_K to box_front_K, box_side_K", with: glue}
  - {join: box_bottom_K to shelf_K, with: glue}
  - {join: ledge_K to shelf_K, with: glue}
"""

HARDWARE = "  anchor_K: {item: wall anchors, on: top_rail_K, count: 2, wall: yes}\n"

STEPS = """\
  - {title: Between the sides, fit: "side_K, bottom_K, foot_K, partition_K, shelf_K"}
  - {title: Above, fit: "lip_K, tray_K, rail_K, top_rail_K"}
  - {title: The box, fit: "box_front_K, box_side_K, box_bottom_K, ledge_K"}
  - {title: Behind, fit: "back_K, cleat_K"}
"""


def write_cabinets(cabinets: int) -> str:
    """Return the design file of a number of cabinets side by side, joined to each other."""
    widths = [BASE_MM + STEP_MM * number for number in range(cabinets)]
    neighbours = "".join(
        f"  - {{join: side_{number}.left to side_{number - 1}.right, with: glue}}\n"
        for number in range(1, cabinets)
    )
    return "".join(
        (
            HEAD,
            "frames:\n",
            _for_each(FRAMES, widths),
            "parts:\n",
            _for_each(PARTS, widths),
            "joints:\n",
            _for_each(JOINTS, widths),
            neighbours,
            "hardware:\n",
            _for_each(HARDWARE, widths),
            "steps:\n",
            _for_each(STEPS, widths),
        )
    )


def _for_each(template: str, widths: list[int]) -> str:
    return "".join(
        template.replace("K", str(number))
        .replace("X mm", f"{sum(widths[:number])} mm")
        .replace("W mm", f"{width} mm")
        .replace("S mm", f"{STAGGER_MM * (number % 2)} mm")
        .replace("D mm", f"{100 + number} mm")
        .replace("H mm", f"{80 + 2 * number} mm")
        for number, width in enumerate(widths)
    )
