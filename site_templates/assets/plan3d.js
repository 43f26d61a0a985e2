/* Lets a reader turn the finished piece, take it apart and go through its steps.

   A picture that has solids gets a button. What it takes to draw them is loaded when the button is
   pressed, by script tags, because a page opened from a disk may fetch nothing. Where the browser
   cannot draw them the picture stays. Nothing runs while nothing changes. */
(function () {
  "use strict";

  const HERE = document.currentScript.src;
  const TURN_DEG = 5, TURN_DEG_PX = 0.5, NEARER = 1.25, MOVE_PX = 24, CLICK_PX = 4;
  const NEAREST = 12, FARTHEST = 0.5;
  const GLIDE_MS = 260, TELL_MS = 400;
  const UPRIGHT = [1, 0, 0, 0, 1, 0, 0, 0, 1];
  const SIDES = [["Front", [0, -1, 0]], ["Right", [1, 0, 0]], ["Back", [0, 1, 0]], ["Left", [-1, 0, 0]]];
  const ARROWS = { arrowleft: [-1, 0], arrowright: [1, 0], arrowup: [0, -1], arrowdown: [0, 1] };
  const HELP = "Drag to turn it; with Shift, to move it. Ctrl and the wheel, or two fingers, bring it "
    + "nearer. Point at a piece to read its name, press it to mark its part. Keys: arrows turn, with "
    + "Shift they move; + and − bring it nearer and farther; N and B go to the next step and the one "
    + "before; P pulls it apart; 0 goes back to the beginning; Esc to the picture.";

  const loaded = new Map();
  let leaveShown = () => {}; /* Only one picture at a time is drawn as solids. */

  function load(source) {
    if (!loaded.has(source)) {
      loaded.set(source, new Promise((done, failed) => {
        const script = document.createElement("script");
        script.src = source;
        script.onload = done;
        script.onerror = () => { loaded.delete(source); failed(new Error(source)); };
        document.head.append(script);
      }));
    }
    return loaded.get(source);
  }

  function make(name, values, ...inside) {
    const element = document.createElement(name);
    Object.entries(values).forEach(([key, value]) => {
      if (key in element && key !== "role") { element[key] = value; } else { element.setAttribute(key, value); }
    });
    element.append(...inside);
    return element;
  }

  function button(words, act) {
    const made = make("button", { type: "button" }, words);
    made.addEventListener("click", act);
    return made;
  }

  /* A slider with its words before it and the words for where it stands behind it. */
  function slider(words, values, act) {
    const value = make("span", { "aria-hidden": "true" });
    const input = make("input", { type: "range", step: 1, ...values });
    input.addEventListener("input", () => act(Number(input.value)));
    function set(number, text) {
      input.value = number;
      input.setAttribute("aria-valuetext", text);
      value.textContent = text;
    }
    const row = make("div", { className: "solid-slider" }, make("label", {}, words, input), value);
    return { row: row, set: set };
  }

  function count(number, word) { return number + " " + word + (number === 1 ? "" : "s"); }

  /* A picture with its button, and a line that says what became of it, to screen readers too. */
  function offer(figure, source, step, apart) {
    const what = step ? "Turn step " + step + " in 3D" : "Turn it in 3D" + (apart ? ", pulled apart" : "");
    const told = make("p", { className: "solid-told", role: "status" });
    const button = make("button", { type: "button" }, what);
    const place = make("p", { className: "solid-open" }, button);
    figure.append(place, told);
    function close(words) {
      figure.classList.remove("solid-live");
      place.hidden = false;
      told.textContent = words;
    }
    function leave(words) {
      close(words);
      if (words) { button.focus(); }
    }
    function begin() {
      leaveShown("");
      place.hidden = true;
      told.textContent = "";
      figure.classList.add("solid-live");
      if (!show(figure, window.planSolid, { step: step, apart: apart }, leave)) {
        close("This browser does not draw in 3D. The pictures of this plan show the same.");
      }
    }
    button.addEventListener("click", () => {
      told.textContent = "Loading the solids …";
      Promise.all([load(new URL("plan3d-draw.js", HERE).href), load(source)]).then(begin, () =>
        close("The solids could not be loaded. The pictures of this plan show the same."));
    });
  }

  /* The colours of the style sheet, as WebGL takes them. */
  function readLook(figure) {
    const style = getComputedStyle(figure);
    const colour = (name) => {
      const hex = style.getPropertyValue("--solid-" + name).trim();
      return [1, 3, 5].map((i) => parseInt(hex.slice(i, i + 2), 16) / 255);
    };
    return {
      paper: colour("paper"), line: colour("line"), pointed: colour("pointed"),
      plain: { top: colour("top"), front: colour("front"), side: colour("side") },
      marked: { top: colour("new-top"), front: colour("new-front"), side: colour("new-side") },
    };
  }

  /* Puts the solids in the place of the picture, after a step or pulled apart as there; returns
     whether that could be done. */
  function show(figure, model, first, leave) {
    const help = make("p", { className: "solid-help", id: "solid-keys" }, HELP);
    const canvas = make("canvas", {
      tabIndex: 0, role: "application", "aria-roledescription": "3D model",
      "aria-label": "The piece as solids", "aria-describedby": help.id,
    });
    const tag = make("span", { className: "solid-tag", hidden: true, "aria-hidden": "true" });
    const stage = make("div", { className: "solid-stage" }, canvas, tag);
    const told = make("p", { className: "solid-told", role: "status" });
    const box = make("div", { className: "solid-box" }, stage, told);
    figure.insertBefore(box, figure.querySelector("figcaption"));
    const drawer = window.planDraw.prepare(canvas, model);
    if (!drawer) {
      box.remove();
      return false;
    }

    const finished = model.steps.length + 1, all = model.pieces.map((_, number) => number);
    const pose = model.steps[first.step - 1] || { bench: UPRIGHT, turn: model.turn };
    const beginning = { turn: pose.turn, raise: model.raise, zoom: 1, shift: [0, 0] };
    const state = { ...beginning, bench: pose.bench, apart: 0, step: finished, part: -1, pointed: -1 };
    let look = readLook(figure), frame = 0, gliding = 0, telling = 0;

    function draw() {
      frame = 0;
      drawer.draw(state, look);
    }
    function redraw() { frame = frame || requestAnimationFrame(draw); }
    /* Which pieces are there, and which of them are green: of a part, else what is new in a step. */
    function choose() {
      const step = model.steps[state.step - 1];
      state.shown = step ? step.there : all;
      state.framed = first.step ? state.shown : all;
      state.marked = new Set(state.part < 0 ? (step ? step.new : []) : model.pieces.flatMap(
        (piece, number) => (piece.part === state.part ? [number] : [])));
      hideTag();
      redraw();
    }
    function say(words) {
      clearTimeout(telling);
      telling = setTimeout(() => { told.textContent = words; }, TELL_MS);
    }

    /* Looking from another side */
    function change(values) {
      cancelAnimationFrame(gliding);
      Object.assign(state, values);
      state.raise = Math.max(-90, Math.min(90, state.raise));
      state.zoom = Math.max(FARTHEST, Math.min(NEAREST, state.zoom));
      hideTag();
      redraw();
      say(viewWords(state));
    }
    function glide(target) {
      if (matchMedia("(prefers-reduced-motion: reduce)").matches) { change(target); return; }
      const from = { turn: state.turn, raise: state.raise, zoom: state.zoom, shift: state.shift };
      const whole = { ...from, ...target };
      whole.turn = from.turn + ((whole.turn - from.turn) % 360 + 540) % 360 - 180;
      const begin = performance.now();
      const step = (now) => {
        const share = Math.min(1, Math.max(0, (now - begin) / GLIDE_MS)), eased = share * (2 - share);
        const between = (a, b) => a + (b - a) * eased;
        change({
          turn: between(from.turn, whole.turn), raise: between(from.raise, whole.raise),
          zoom: between(from.zoom, whole.zoom),
          shift: [0, 1].map((i) => between(from.shift[i], whole.shift[i])),
        });
        if (share < 1) { gliding = requestAnimationFrame(step); }
      };
      gliding = requestAnimationFrame(step);
    }
    function move(x, y) {
      const scale = drawer.scale(state);
      change({ shift: [state.shift[0] + x / scale, state.shift[1] - y / scale] });
    }
    /* Nearer by a factor, keeping what is under a point of the canvas where it is. */
    function nearer(factor, x, y) {
      const before = drawer.scale(state);
      const zoom = Math.max(FARTHEST, Math.min(NEAREST, state.zoom * factor));
      const after = before * zoom / state.zoom;
      const across = x === undefined ? 0 : x - canvas.clientWidth / 2;
      const up = y === undefined ? 0 : canvas.clientHeight / 2 - y;
      change({ zoom: zoom, shift: [
        state.shift[0] + across / after - across / before, state.shift[1] + up / after - up / before,
      ] });
    }

    /* What is shown */
    function goTo(step) {
      state.step = Math.max(1, Math.min(finished, step));
      steps.set(state.step, stepWords(model, state.step));
      choose();
      say(stepWords(model, state.step) + ". " + shownWords(model, state.step));
    }
    function pull(percent) {
      state.apart = percent / 100;
      apart.set(percent, percent + " %");
      hideTag();
      redraw();
      say(percent ? "Pulled apart, " + percent + " percent" : "Put together");
    }
    function mark(part) {
      state.part = part;
      choice.value = part;
      const chosen = model.parts[part];
      drawing.hidden = !chosen || !document.getElementById("part-" + chosen.label.toLowerCase());
      if (chosen) {
        drawing.href = "#part-" + chosen.label.toLowerCase();
        drawing.textContent = "Drawing of part " + chosen.label;
      }
      choose();
      say(chosen ? partWords(model, part) + ", marked in green" : "No part is marked");
    }
    function restart() {
      pull(first.apart);
      mark(-1);
      goTo(first.step || finished);
    }

    function again() {
      restart();
      glide(beginning);
    }

    /* The name of what is pointed at */
    function hideTag() {
      if (state.pointed < 0) { return; }
      state.pointed = -1;
      tag.hidden = true;
      redraw();
    }
    function point(x, y) {
      const number = drawer.pick(state, x, y);
      if (number < 0) { hideTag(); return; }
      if (number !== state.pointed) {
        const piece = model.pieces[number];
        tag.textContent = model.parts[piece.part].label + ": " + piece.name;
        state.pointed = number;
        redraw();
      }
      tag.hidden = false;
      tag.style.left = Math.min(x + 12, canvas.clientWidth - tag.offsetWidth - 4) + "px";
      tag.style.top = Math.max(y - tag.offsetHeight - 8, 4) + "px";
    }
    function press(x, y) {
      const number = drawer.pick(state, x, y);
      const part = number < 0 ? -1 : model.pieces[number].part;
      mark(part === state.part ? -1 : part);
    }

    /* Controls below the picture */
    const steps = slider("After step", { min: 1, max: finished }, goTo);
    const apart = slider("Pull apart", { min: 0, max: 100 }, pull);
    const choice = make("select", {}, make("option", { value: -1 }, "none"), ...model.parts.map(
      (part, number) => make("option", { value: number }, partWords(model, number))));
    choice.addEventListener("change", () => mark(Number(choice.value)));
    const drawing = make("a", { hidden: true });
    const views = make("div", { className: "solid-row", role: "group", "aria-label": "Seen from" },
      ...SIDES.map(([words, eye]) => button(words, () => glide(anglesOf(state, eye)))),
      button("Above", () => glide({ turn: 0, raise: 90 })),
      button("Below", () => glide({ turn: 0, raise: -90 })));
    const tools = make("div", { className: "solid-row", role: "group", "aria-label": "View" },
      button("Nearer", () => nearer(NEARER)), button("Farther", () => nearer(1 / NEARER)),
      button("Begin again", again), button("Back to the picture", () => end("The picture is shown.")));
    const marking = make("p", { className: "solid-row" },
      make("label", {}, "Mark a part ", choice), drawing);
    box.append(steps.row, apart.row, marking, views, tools, help);

    listen(canvas, {
      turn: (x, y) => change({ turn: state.turn - x, raise: state.raise + y }),
      move: move, nearer: nearer, point: point, leave: hideTag, press: press,
      keys: {
        "+": () => nearer(NEARER), "=": () => nearer(NEARER), "-": () => nearer(1 / NEARER),
        "−": () => nearer(1 / NEARER), n: () => goTo(state.step + 1), b: () => goTo(state.step - 1),
        p: () => pull(state.apart ? 0 : 100), 0: again, escape: () => end("The picture is shown."),
      },
    });

    /* Another size, light or dark, and the end */
    const sized = new ResizeObserver(redraw);
    sized.observe(canvas);
    const toned = new MutationObserver(() => { look = readLook(figure); redraw(); });
    toned.observe(document.documentElement, { attributes: true, attributeFilter: ["data-light"] });
    const lost = () => end("The browser has stopped drawing in 3D. The picture is shown.");
    canvas.addEventListener("webglcontextlost", lost);
    function end(words) {
      canvas.removeEventListener("webglcontextlost", lost);
      sized.disconnect();
      toned.disconnect();
      [frame, gliding].forEach((number) => cancelAnimationFrame(number));
      clearTimeout(telling);
      leaveShown = () => {};
      drawer.end();
      box.remove();
      leave(words);
    }

    leaveShown = end;
    restart();
    canvas.focus({ preventScroll: true });
    return true;
  }

  /* Mouse, fingers and keys on the canvas. */
  function listen(canvas, acts) {
    const down = new Map();
    let travelled = 0;
    function at(event) {
      const edge = canvas.getBoundingClientRect();
      return { x: event.clientX - edge.left, y: event.clientY - edge.top };
    }
    function spread(now, before, other) {
      const ratio = Math.hypot(now.x - other.x, now.y - other.y)
        / Math.max(Math.hypot(before.x - other.x, before.y - other.y), 1);
      acts.move((now.x - before.x) / 2, (now.y - before.y) / 2);
      acts.nearer(ratio, (now.x + other.x) / 2, (now.y + other.y) / 2);
    }
    canvas.addEventListener("pointerdown", (event) => {
      if (event.button > 1) { return; }
      canvas.setPointerCapture(event.pointerId);
      down.set(event.pointerId, at(event));
      travelled = down.size > 1 ? Infinity : 0;
      acts.leave();
    });
    canvas.addEventListener("pointermove", (event) => {
      const now = at(event), before = down.get(event.pointerId);
      if (!before) {
        if (event.pointerType === "mouse") { acts.point(now.x, now.y); }
        return;
      }
      const x = now.x - before.x, y = now.y - before.y;
      travelled += Math.abs(x) + Math.abs(y);
      down.set(event.pointerId, now);
      if (down.size === 2) {
        spread(now, before, [...down].find(([id]) => id !== event.pointerId)[1]);
      } else if (travelled > CLICK_PX && (event.shiftKey || event.buttons === 4)) {
        acts.move(x, y);
      } else if (travelled > CLICK_PX) {
        acts.turn(x * TURN_DEG_PX, y * TURN_DEG_PX);
      }
    });
    function lift(event) {
      const was = down.delete(event.pointerId);
      if (was && event.type === "pointerup" && travelled <= CLICK_PX) {
        acts.press(at(event).x, at(event).y);
      }
    }
    canvas.addEventListener("pointerup", lift);
    canvas.addEventListener("pointercancel", lift);
    canvas.addEventListener("pointerleave", acts.leave);
    canvas.addEventListener("wheel", (event) => {
      if (!event.ctrlKey && !event.metaKey) { return; }
      event.preventDefault();
      const lines = event.deltaMode === 1 ? 16 : 1, spot = at(event);
      acts.nearer(Math.exp(-event.deltaY * lines * 0.002), spot.x, spot.y);
    }, { passive: false });
    canvas.addEventListener("keydown", (event) => {
      if (event.ctrlKey || event.metaKey || event.altKey) { return; }
      const key = event.key.toLowerCase(), arrow = ARROWS[key];
      if (arrow && event.shiftKey) {
        acts.move(arrow[0] * MOVE_PX, arrow[1] * MOVE_PX);
      } else if (arrow) {
        acts.turn(arrow[0] * TURN_DEG, arrow[1] * TURN_DEG);
      } else if (acts.keys[key]) {
        acts.keys[key]();
      } else {
        return;
      }
      event.preventDefault();
    });
  }

  function partWords(model, number) {
    const part = model.parts[number];
    const pieces = model.pieces.filter((piece) => piece.part === number).length;
    return part.label + ": " + part.title + ", " + count(pieces, "piece");
  }

  function shownWords(model, step) {
    const found = model.steps[step - 1];
    const pieces = count(found ? found.there.length : model.pieces.length, "piece") + " shown";
    return pieces + (found && found.says ? ", to go in: " + found.says : "") + ".";
  }

  function stepWords(model, step) {
    const found = model.steps[step - 1];
    return found ? step + " of " + model.steps.length + ": " + found.title : "The finished piece";
  }

  /* How far to turn and to raise the eye on the bench so that it looks at a side of the piece. */
  function anglesOf(state, eye) {
    const [x, y, z] = [0, 3, 6].map((row) =>
      eye[0] * state.bench[row] + eye[1] * state.bench[row + 1] + eye[2] * state.bench[row + 2]);
    return {
      turn: Math.hypot(x, y) < 0.01 ? state.turn : Math.atan2(x, -y) * 180 / Math.PI,
      raise: Math.asin(z) * 180 / Math.PI,
    };
  }

  function viewWords(state) {
    const [x, y, z] = state.bench.slice(6);
    const lies = z < -0.5 ? "Upside down, seen" : z > 0.5 ? "Seen" : "Lying on its "
      + (y > 0.5 ? "front" : y < -0.5 ? "back" : x > 0.5 ? "left side" : "right side") + ", seen";
    if (state.raise > 75) { return lies + " from above"; }
    if (state.raise < -75) { return lies + " from below"; }
    const level = state.raise > 10 ? " and above" : state.raise < -10 ? " and below" : "";
    if (Math.abs(z) < 0.5) { return lies + " from one side" + level; }
    const sides = ["front", "front right", "right", "back right", "back", "back left", "left", "front left"];
    const eighths = Math.round(state.turn / 45) * Math.sign(z);
    return lies + " from the " + sides[((eighths % 8) + 8) % 8] + level;
  }

  document.head.append(make("link", { rel: "stylesheet", href: new URL("plan3d.css", HERE).href }));
  /* The pictures that have solids are known by their names; the solids lie beside them. */
  document.querySelectorAll("figure.drawing").forEach((figure) => {
    const path = figure.querySelector("img").src;
    const [, name, step] = /\/(assembled|finished|exploded|step-(\d+))\.svg$/.exec(path) || [];
    if (!name) { return; }
    figure.classList.add("plan3d");
    const solids = new URL("solid.js", path).href;
    window.planLater(() => offer(figure, solids, Number(step || 0), name === "exploded" ? 100 : 0));
  });
})();
