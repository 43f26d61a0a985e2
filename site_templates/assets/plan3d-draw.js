/* Draws a piece of furniture as solids, with WebGL, and finds what is under a point.

   Lengths are tenths of a millimetre; x is right, y back, z up, as in the plan. All is seen along
   parallel lines, as in the pictures of the plan, and a face has the tone it has there: of tops,
   fronts and sides, or between them. Knows nothing of the page around its canvas. */
window.planDraw = (function () {
  "use strict";

  const SMOOTH = 0.8; /* cosine: chords of an arc that turn by less are one surface */
  const FLAT = 0.99999; /* cosine: two triangles of one flat face */
  const FULL = 0.93; /* how much of the canvas the piece may fill */
  const LIFT_PX = 1.5, LIFT_MOST = 30; /* edges come this much before the faces they bound */
  const GAP = 60, HEAD = 45; /* from the wood to the tip of a screw, and half as wide as its head is */
  const AXIS_PX = 0.4, SCREW_PX = 1.1; /* half as wide as they are drawn */
  const AS_IT_STANDS = [1, 0, 0, 0, 1, 0, 0, 0, 1];

  const FACE_PLACES = `
    attribute vec3 at, way;
    uniform mat3 turn, view;
    uniform vec3 place, fit;
    uniform vec2 shift;
    varying vec3 facing;
    void main() {
      vec3 seen = view * (turn * at + place);
      gl_Position = vec4(seen.xy * fit.xy + shift, -seen.z * fit.z, 1.0);
      facing = turn * way;
    }`;
  const FACE_TONES = `
    precision mediump float;
    uniform vec3 top, front, side;
    varying vec3 facing;
    void main() {
      vec3 share = normalize(facing);
      share *= share;
      gl_FragColor = vec4(share.x * side + share.y * front + share.z * top, 1.0);
    }`;
  /* An edge is a strip as wide as it should look, because lines of one pixel vanish on good
     screens; it fades over a pixel. One between chords of an arc is drawn only where the surface turns away. */
  const EDGE_PLACES = `
    attribute vec3 at, other, one, two;
    attribute float aside, across;
    uniform mat3 turn, view;
    uniform vec3 place, fit;
    uniform vec2 shift, size;
    uniform float lift;
    uniform mediump float half_wide;
    varying float from_middle;
    void main() {
      vec3 here = view * (turn * at + place);
      vec3 there = view * (turn * other + place);
      vec2 start = here.xy * fit.xy + shift;
      vec2 along = (there.xy * fit.xy + shift - start) * size;
      float pixels = length(along) / 2.0, half_strip = half_wide + 1.0;
      along /= max(length(along), 0.0001);
      vec2 beyond = vec2(-along.y, along.x) * aside * half_strip
        - along * half_wide * min(1.0, pixels / (16.0 * half_wide));
      float turned = (view * (turn * one)).z * (view * (turn * two)).z;
      gl_Position = turned > 0.0
        ? vec4(2.0, 2.0, 2.0, 1.0)
        : vec4(start + beyond * 2.0 / size, -(here.z + lift) * fit.z, 1.0);
      from_middle = across * half_strip;
    }`;
  const EDGE_TONES = `
    precision mediump float;
    uniform vec3 tone;
    uniform mediump float half_wide;
    varying float from_middle;
    void main() {
      gl_FragColor = vec4(tone, clamp(half_wide + 0.5 - abs(from_middle), 0.0, 1.0));
    }`;

  function dot(a, b) { return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]; }
  function minus(a, b) { return [a[0] - b[0], a[1] - b[1], a[2] - b[2]]; }
  function cross(a, b) {
    return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
  }
  function unit(a) {
    const size = Math.hypot(a[0], a[1], a[2]);
    return size ? [a[0] / size, a[1] / size, a[2] / size] : a;
  }
  function rows(numbers, width) {
    const found = [];
    for (let i = 0; i < numbers.length; i += width) { found.push(numbers.slice(i, i + width)); }
    return found;
  }

  /* The directions of a view in the room: right and up on the screen, and towards the eye. A piece
     may lie on the bench; `state.bench` holds what is right, back and up there. */
  function directions(state) {
    const turn = state.turn * Math.PI / 180, raise = state.raise * Math.PI / 180;
    const c = Math.cos(turn), s = Math.sin(turn), level = Math.cos(raise), up = Math.sin(raise);
    const inRoom = (x, y, z) => [0, 1, 2].map((i) =>
      state.bench[i] * x + state.bench[3 + i] * y + state.bench[6 + i] * z);
    return {
      right: inRoom(c, s, 0), up: inRoom(-s * up, c * up, level), eye: inRoom(s * level, -c * level, up),
    };
  }

  /* A part as it is drawn: its triangles with the way every corner faces, and its edges. */
  function preparePart(part) {
    const points = rows(part.points, 3), triangles = rows(part.triangles, 3);
    const normals = triangles.map(([a, b, c]) =>
      cross(minus(points[b], points[a]), minus(points[c], points[a])));
    const sides = new Map();
    triangles.forEach((corners, number) => corners.forEach((start, i) => {
      sides.set(start + "," + corners[(i + 1) % 3], number);
    }));
    const beside = (a, b) => [sides.get(a + "," + b), sides.get(b + "," + a)];
    return {
      triangles: triangles.map((corners) => corners.map((i) => points[i])),
      points: points,
      faces: faceNumbers(points, triangles, normals, surfaces(part, triangles, normals, beside)),
      edges: edgeNumbers(part, points, normals, beside),
    };
  }

  /* The number of its surface for every triangle: flat, or round without an edge to be drawn. */
  function surfaces(part, triangles, normals, beside) {
    const edges = new Set(rows(part.edges, 2).map(([a, b]) => Math.min(a, b) + "," + Math.max(a, b)));
    const owner = triangles.map((_, i) => i);
    const first = (i) => { while (owner[i] !== i) { i = owner[i]; } return i; };
    triangles.forEach((corners, number) => corners.forEach((a, i) => {
      const b = corners[(i + 1) % 3], twin = beside(b, a)[0];
      if (twin === undefined || edges.has(Math.min(a, b) + "," + Math.max(a, b))) { return; }
      if (dot(unit(normals[number]), unit(normals[twin])) > SMOOTH) {
        owner[first(number)] = first(twin);
      }
    }));
    return owner.map((_, i) => first(i));
  }

  function faceNumbers(points, triangles, normals, surface) {
    const ways = new Map(), numbers = [];
    const key = (corner, number) => corner + "," + surface[number];
    triangles.forEach((corners, number) => corners.forEach((corner) => {
      const before = ways.get(key(corner, number)) || [0, 0, 0];
      ways.set(key(corner, number), before.map((value, axis) => value + normals[number][axis]));
    }));
    triangles.forEach((corners, number) => corners.forEach((corner) => {
      numbers.push(...points[corner], ...unit(ways.get(key(corner, number))));
    }));
    return new Float32Array(numbers);
  }

  /* The numbers of a strip from one point to another, between two faces if it is one of an arc. */
  function strip(a, b, one = [0, 0, 0], two = one) {
    /* Seen from its other end, the left of an edge is its right. */
    const corners = [[a, b, 1, 1], [a, b, -1, -1], [b, a, 1, -1], [b, a, -1, 1]];
    return [0, 1, 2, 0, 2, 3].flatMap((i) => {
      const [at, other, aside, across] = corners[i];
      return [...at, ...other, ...one, ...two, aside, across];
    });
  }

  function edgeNumbers(part, points, normals, beside) {
    const numbers = rows(part.edges, 2).map(([a, b]) => strip(points[a], points[b]));
    rows(part.rounds, 2).forEach(([a, b]) => {
      const [one, two] = beside(a, b).map((number) => number !== undefined && unit(normals[number]));
      if (one && two && dot(one, two) < FLAT) { numbers.push(strip(points[a], points[b], one, two)); }
    });
    return new Float32Array(numbers.flat());
  }

  /* The screws of a step as they are about to go in, for each piece they enter first: their axes,
     and shanks with a cross for a head, so that it is seen from behind too. They go with their piece
     when it is pulled away. */
  function prepareScrews(gl, step) {
    const pieces = new Map();
    rows(step.driven, 7).forEach(([piece, ...ends]) => {
      const [mouth, end] = rows(ends, 3), way = unit(minus(end, mouth));
      const from = (start, along, far) => start.map((value, i) => value + along[i] * far);
      const tip = from(mouth, way, GAP), head = from(end, way, GAP);
      const aside = unit(cross(way, Math.abs(way[2]) < 0.9 ? [0, 0, 1] : [1, 0, 0]));
      const lines = pieces.get(piece) || { axes: [], screws: [] };
      lines.axes.push(strip(mouth, tip));
      lines.screws.push(strip(tip, head), ...[aside, cross(way, aside)].map(
        (across) => strip(from(head, across, -HEAD), from(head, across, HEAD))));
      pieces.set(piece, lines);
    });
    return [...pieces].flatMap(([piece, lines]) => [
      [lines.axes, AXIS_PX], [lines.screws, SCREW_PX],
    ].map(([strips, half]) => {
      const numbers = new Float32Array(strips.flat());
      return { piece: piece, half: half, count: numbers.length / 14, buffer: store(gl, numbers) };
    }));
  }

  /* The middle of the pieces to be framed, and how far from it their corners are: aside and above,
     on the bench. */
  function measure(pieces, parts, state) {
    const corners = state.framed.flatMap((number) => parts[pieces[number].part].points.map(
      (point) => placed(pieces[number], point, state.apart)));
    const middle = [0, 1, 2].map((axis) => {
      const values = corners.map((corner) => corner[axis]);
      return (values.reduce((a, b) => Math.min(a, b)) + values.reduce((a, b) => Math.max(a, b))) / 2;
    });
    const axes = rows(state.bench, 3);
    const reaches = corners.map((corner) => {
      const [x, y, z] = axes.map((axis) => dot(axis, minus(corner, middle)));
      return [Math.hypot(x, y), Math.abs(z)];
    });
    return { apart: state.apart, framed: state.framed, middle: middle, reaches: reaches };
  }

  /* Half the width and height it has on the screen at most, whichever way it is turned. */
  function extent(measured, raise) {
    const level = Math.cos(raise), up = Math.abs(Math.sin(raise));
    return measured.reaches.reduce(([wide, tall, far], [aside, above]) => [
      Math.max(wide, aside), Math.max(tall, above * level + aside * up),
      Math.max(far, Math.hypot(aside, above)),
    ], [0, 0, 0]);
  }

  function placed(piece, point, apart) {
    const axes = piece.axes;
    return [0, 1, 2].map((i) => axes[i] * point[0] + axes[3 + i] * point[1]
      + axes[6 + i] * point[2] + piece.at[i] + piece.away[i] * apart);
  }

  function compile(gl, places, tones) {
    const program = gl.createProgram();
    [[gl.VERTEX_SHADER, places], [gl.FRAGMENT_SHADER, tones]].forEach(([kind, text]) => {
      const shader = gl.createShader(kind);
      gl.shaderSource(shader, text);
      gl.compileShader(shader);
      gl.attachShader(program, shader);
    });
    gl.linkProgram(program);
    const inputs = {}, values = {};
    for (let i = 0; i < gl.getProgramParameter(program, gl.ACTIVE_ATTRIBUTES); i += 1) {
      const name = gl.getActiveAttrib(program, i).name;
      inputs[name] = gl.getAttribLocation(program, name);
    }
    for (let i = 0; i < gl.getProgramParameter(program, gl.ACTIVE_UNIFORMS); i += 1) {
      const name = gl.getActiveUniform(program, i).name;
      values[name] = gl.getUniformLocation(program, name);
    }
    return { program: program, inputs: inputs, values: values };
  }

  function store(gl, numbers) {
    const buffer = gl.createBuffer();
    gl.bindBuffer(gl.ARRAY_BUFFER, buffer);
    gl.bufferData(gl.ARRAY_BUFFER, numbers, gl.STATIC_DRAW);
    return buffer;
  }

  /* Tells WebGL how the numbers of a buffer lie: names and widths in their order. */
  function bind(gl, tool, buffer, layout) {
    const step = layout.reduce((total, [, width]) => total + width, 0);
    let start = 0;
    gl.bindBuffer(gl.ARRAY_BUFFER, buffer);
    layout.forEach(([name, width]) => {
      gl.enableVertexAttribArray(tool.inputs[name]);
      gl.vertexAttribPointer(tool.inputs[name], width, gl.FLOAT, false, step * 4, start * 4);
      start += width;
    });
    return step;
  }

  const FACE_LAYOUT = [["at", 3], ["way", 3]];
  const EDGE_LAYOUT = [["at", 3], ["other", 3], ["one", 3], ["two", 3], ["aside", 1], ["across", 1]];

  /* Returns what draws a model on a canvas, or null where there is no WebGL. */
  function prepare(canvas, model) {
    const gl = canvas.getContext("webgl", { antialias: true, alpha: false });
    if (!gl) { return null; }
    const parts = model.parts.map(preparePart);
    let measured = {};
    const faces = compile(gl, FACE_PLACES, FACE_TONES), edges = compile(gl, EDGE_PLACES, EDGE_TONES);
    const buffers = parts.map((part) => ({
      faces: store(gl, part.faces), edges: store(gl, part.edges),
    }));

    const screws = model.steps.map((step) => prepareScrews(gl, step));

    /* How a state comes on the canvas; scale is CSS pixels for a tenth of a millimetre. */
    function lay(state) {
      if (measured.apart !== state.apart || measured.framed !== state.framed) {
        measured = measure(model.pieces, parts, state);
      }
      const [aside, above, reach] = extent(measured, state.raise * Math.PI / 180);
      const wide = canvas.clientWidth, tall = canvas.clientHeight;
      const scale = FULL / 2 * Math.min(wide / aside, tall / above) * state.zoom;
      return { middle: measured.middle, reach: reach, scale: scale, wide: wide, tall: tall };
    }

    function begin(tool, laid, state) {
      const view = directions(state), values = tool.values;
      gl.useProgram(tool.program);
      gl.uniformMatrix3fv(values.view, false, [0, 1, 2].flatMap((i) =>
        [view.right[i], view.up[i], view.eye[i]]));
      gl.uniform3f(values.fit, 2 * laid.scale / laid.wide, 2 * laid.scale / laid.tall, 0.9 / laid.reach);
      gl.uniform2f(values.shift, 2 * laid.scale * state.shift[0] / laid.wide,
        2 * laid.scale * state.shift[1] / laid.tall);
    }

    function stand(tool, axes, at, away, laid, state) {
      gl.uniformMatrix3fv(tool.values.turn, false, axes);
      gl.uniform3fv(tool.values.place, at.map((value, i) =>
        value + away[i] * state.apart - laid.middle[i]));
    }

    function drawFaces(laid, state, look) {
      begin(faces, laid, state);
      gl.enable(gl.POLYGON_OFFSET_FILL);
      gl.polygonOffset(1, 1);
      state.shown.forEach((number) => {
        const piece = model.pieces[number];
        const tones = state.marked.has(number) ? look.marked : look.plain;
        ["top", "front", "side"].forEach((name) => gl.uniform3fv(faces.values[name], tones[name]));
        stand(faces, piece.axes, piece.at, piece.away, laid, state);
        bind(gl, faces, buffers[piece.part].faces, FACE_LAYOUT);
        gl.drawArrays(gl.TRIANGLES, 0, parts[piece.part].faces.length / 6);
      });
      gl.disable(gl.POLYGON_OFFSET_FILL);
    }

    function drawEdges(laid, state, look, ratio) {
      begin(edges, laid, state);
      gl.enable(gl.BLEND);
      gl.blendFunc(gl.SRC_ALPHA, gl.ONE_MINUS_SRC_ALPHA);
      gl.depthMask(false);
      gl.uniform2f(edges.values.size, canvas.width, canvas.height);
      gl.uniform1f(edges.values.lift, Math.min(LIFT_PX / laid.scale, LIFT_MOST));
      state.shown.forEach((number) => {
        const piece = model.pieces[number], isPointed = number === state.pointed;
        gl.uniform3fv(edges.values.tone, isPointed ? look.pointed : look.line);
        gl.uniform1f(edges.values.half_wide, (isPointed ? 1.2 : 0.6) * ratio);
        stand(edges, piece.axes, piece.at, piece.away, laid, state);
        const step = bind(gl, edges, buffers[piece.part].edges, EDGE_LAYOUT);
        gl.drawArrays(gl.TRIANGLES, 0, parts[piece.part].edges.length / step);
      });
      drawScrews(laid, state, look, ratio);
      gl.depthMask(true);
      gl.disable(gl.BLEND);
    }

    function drawScrews(laid, state, look, ratio) {
      gl.uniform3fv(edges.values.tone, look.line);
      (screws[state.step - 1] || []).forEach((one) => {
        gl.uniform1f(edges.values.half_wide, one.half * ratio);
        stand(edges, AS_IT_STANDS, [0, 0, 0], model.pieces[one.piece].away, laid, state);
        bind(gl, edges, one.buffer, EDGE_LAYOUT);
        gl.drawArrays(gl.TRIANGLES, 0, one.count);
      });
    }

    function draw(state, look) {
      const ratio = Math.min(window.devicePixelRatio || 1, 3), laid = lay(state);
      const wide = Math.round(laid.wide * ratio), tall = Math.round(laid.tall * ratio);
      if (canvas.width !== wide || canvas.height !== tall) {
        canvas.width = wide;
        canvas.height = tall;
      }
      gl.viewport(0, 0, wide, tall);
      gl.clearColor(...look.paper, 1);
      gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
      gl.enable(gl.DEPTH_TEST);
      gl.depthFunc(gl.LEQUAL);
      drawFaces(laid, state, look);
      drawEdges(laid, state, look, ratio);
    }

    /* The number of the piece at a point of the canvas, in CSS pixels from its corner, or -1. */
    function pick(state, x, y) {
      const laid = lay(state), view = directions(state);
      const across = (x - laid.wide / 2) / laid.scale - state.shift[0];
      const up = (laid.tall / 2 - y) / laid.scale - state.shift[1];
      const start = [0, 1, 2].map((i) => laid.middle[i] + view.right[i] * across
        + view.up[i] * up + view.eye[i] * 2 * laid.reach);
      let best = -1, nearest = Infinity;
      state.shown.forEach((number) => {
        const piece = model.pieces[number], axes = rows(piece.axes, 3);
        const from = minus(start, piece.at.map((value, i) => value + piece.away[i] * state.apart));
        const local = axes.map((axis) => dot(axis, from));
        const ahead = axes.map((axis) => -dot(axis, view.eye));
        parts[piece.part].triangles.forEach((corners) => {
          const far = meet(local, ahead, corners);
          if (far < nearest) { nearest = far; best = number; }
        });
      });
      return best;
    }

    return {
      draw: draw,
      pick: pick,
      scale: (state) => lay(state).scale,
      end: () => { const way = gl.getExtension("WEBGL_lose_context"); if (way) { way.loseContext(); } },
    };
  }

  /* How far along a ray it meets a triangle; Infinity where it passes (Möller and Trumbore 1997). */
  function meet(start, ahead, [a, b, c]) {
    const one = minus(b, a), two = minus(c, a), sideways = cross(ahead, two);
    const size = dot(one, sideways);
    if (Math.abs(size) < 1e-9) { return Infinity; }
    const from = minus(start, a), u = dot(from, sideways) / size;
    const upward = cross(from, one), v = dot(ahead, upward) / size;
    return u < 0 || v < 0 || u + v > 1 ? Infinity : dot(two, upward) / size;
  }

  return { prepare: prepare };
})();
