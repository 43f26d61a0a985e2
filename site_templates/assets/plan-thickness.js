/* Follows the reader's own panel: the sizes of a plan page for the thickness that was measured.
   What changes was computed with the plan; here it is only put together and printed. */
(function () {
  "use strict";
  var MM_PER_INCH = 25.4;
  var EXACT_MM = 0.1;
  var NOISE_MM = 1e-6;
  var SAME_MM = 0.02;

  /* The rules of the generator's units, word for word: a test holds the two together. */
  function trimmed(text) {
    var found = text.indexOf(".") === -1 ? text : text.replace(/0+$/, "").replace(/\.$/, "");
    return found === "" || found === "-0" ? "0" : found;
  }

  function metric(value) {
    var whole = Math.round(value);
    if (Math.abs(whole - value) < EXACT_MM - NOISE_MM) { return String(whole + 0); }
    return trimmed((value + (value < 0 ? -NOISE_MM : NOISE_MM)).toFixed(1));
  }

  function fraction(count, step) {
    while (count % 2 === 0 && step > 1) { count /= 2; step /= 2; }
    var whole = Math.floor(count / step);
    var rest = count - whole * step;
    if (rest === 0) { return String(whole); }
    return (whole ? whole + " " : "") + rest + "/" + step;
  }

  function inches(value) {
    var size = Math.abs(value), count = 0, error = 0, step = 16, exact = false;
    for (step = 16; step <= 32; step *= 2) {
      count = Math.floor((size + NOISE_MM) / MM_PER_INCH * step + 0.5);
      error = size - count / step * MM_PER_INCH;
      exact = Math.abs(error) <= EXACT_MM + NOISE_MM;
      if (exact || step === 32) { break; }
    }
    if (exact) { return (value < 0 && count ? "-" : "") + fraction(count, step); }
    if (count === 0) { return (value / MM_PER_INCH).toFixed(3); }
    return (value < 0 ? "-" : "") + fraction(count, step) + (error > 0 ? " full" : " bare");
  }

  function size(value, kind, system) {
    if (system === "metric") { return metric(value) + (kind === "l" ? " mm" : ""); }
    var text = inches(value);
    if (kind !== "l") { return text; }
    var found = /^(.*) (full|bare)$/.exec(text);
    return found ? found[1] + " in " + found[2] : text + " in";
  }

  /* What the reader typed, in mm; NaN where it is no thickness. */
  function typed(text, system) {
    var plain = text.trim().toLowerCase().replace(/,/g, ".").replace(/(\u2033|"|in)\.?$/, " in").trim();
    var found = /^(\d*\.?\d+)\s*mm$/.exec(plain);
    if (found) { return Number(found[1]); }
    var inch = system === "imperial" || / in$/.test(plain);
    plain = plain.replace(/ in$/, "").trim();
    if (/^\d*\.?\d+$/.test(plain)) { return Number(plain) * (inch ? MM_PER_INCH : 1); }
    found = /^(?:(\d+)[ -]+)?(\d+)\s*\/\s*(\d+)$/.exec(plain);
    if (!found || !inch || Number(found[3]) === 0) { return NaN; }
    return (Number(found[1] || 0) + Number(found[2]) / Number(found[3])) * MM_PER_INCH;
  }

  function pieceOf(stock, at) {
    var best = 0, least = Infinity;
    stock.pieces.forEach(function (piece, number) {
      var away = Math.max(piece[0] - at, at - piece[1]);
      if (away < least) { best = number; least = away; }
    });
    return best;
  }

  /* [wording, sizes] of one text: the changes of all stocks, added up. */
  function told(data, text, thicknesses) {
    var wording = text[0], values = text[1].slice(), shifts = [];
    data.stocks.forEach(function (stock, place) {
      var number = pieceOf(stock, thicknesses[place]);
      var change = text[2][place][number];
      if (!change || thicknesses[place] === stock.planned) { return; }
      var along = thicknesses[place] - stock.pieces[number][0];
      var found = change[1].map(function (start, index) { return start + change[2][index] * along; });
      if (change[0] === text[0]) {
        shifts.push(found.map(function (value, index) { return value - text[1][index]; }));
      } else {
        wording = change[0];
        values = found;
      }
    });
    shifts.forEach(function (shift) {
      values = values.map(function (value, index) { return value + shift[index]; });
    });
    return [wording, values];
  }

  function sizes(data, wording, values) {
    var kinds = data.wordings[wording][1];
    return values.map(function (value, index) { return size(value, kinds[index], data.system); });
  }

  function joined(parts, texts) {
    return parts.map(function (part, index) { return part + (index < texts.length ? texts[index] : ""); }).join("");
  }

  function element(name, text, className) {
    var made = document.createElement(name);
    made.textContent = text;
    if (className) { made.className = className; }
    return made;
  }

  function addChange(place, now, before) {
    place.append(element("ins", now), " ", element("del", before));
  }

  /* Writes one text; returns how many sizes changed, and whether its words did. */
  function write(place, data, text, thicknesses) {
    var found = told(data, text, thicknesses);
    var before = sizes(data, text[0], text[1]);
    var now = sizes(data, found[0], found[1]);
    place.textContent = "";
    if (found[0] !== text[0]) {
      addChange(place, joined(data.wordings[found[0]][0], now), joined(data.wordings[text[0]][0], before));
      return { sizes: 0, words: 1 };
    }
    var changed = 0;
    data.wordings[text[0]][0].forEach(function (part, index) {
      place.append(part);
      if (index >= now.length) { return; }
      if (now[index] === before[index]) { place.append(now[index]); return; }
      addChange(place, now[index], before[index]);
      changed += 1;
    });
    return { sizes: changed, words: 0 };
  }

  window.planSizes = { size: size, typed: typed };

  /* A text is one line: what follows in the next lines becomes a node of its own. */
  function splitAfterLine(node) {
    var found = /^\s*\S[^\n]*(?=\n\s*\S)/.exec(node.textContent);
    if (found) { node.splitText(found[0].length); }
  }

  /* The texts of the page that are followed, each in a mark of its own; null where one is lost. */
  function findPlaces(data) {
    var known = {}, node;
    var walker = document.createTreeWalker(document.querySelector("article"), NodeFilter.SHOW_TEXT);
    while ((node = walker.nextNode())) {
      splitAfterLine(node);
      var text = node.textContent.trim();
      if (text && !node.parentElement.closest("noscript, script, .panel")) { (known["=" + text] = known["=" + text] || []).push(node); }
    }
    var nodes = data.texts.map(function (one) { return (known["=" + one[3]] || [])[one[4]]; });
    if (nodes.some(function (one) { return !one; })) { return null; }
    return nodes.map(function (one, index) {
      var mark = element("span", data.texts[index][3]);
      var blanks = /^(\s*)[\s\S]*?(\s*)$/.exec(one.textContent);
      mark.dataset.t = "";
      one.replaceWith(blanks[1], mark, blanks[2]);
      return mark;
    });
  }

  function field(stock, number, system) {
    var row = document.createElement("div");
    var label = element("label", stock.title + ": thickness measured, " + (system === "metric" ? "mm" : "in"));
    var input = document.createElement("input");
    var range = element("span", stock.range + (system === "metric" ? "" : ": 0.703, 45/64 or 17.9 mm"), "small");
    var fault = element("span", "", "panel-fault");
    label.htmlFor = input.id = "panel-" + number;
    range.id = "panel-range-" + number;
    fault.id = "panel-fault-" + number;
    fault.setAttribute("role", "alert");
    input.type = "text";
    input.autocomplete = "off";
    input.defaultValue = stock.entered;
    input.setAttribute("aria-describedby", range.id + " " + fault.id);
    row.append(label, input, range, fault);
    return row;
  }

  function button(text, type) {
    var made = element("button", text);
    made.type = type;
    return made;
  }

  function start(box) {
    var form = element("form", "", "panel-form");
    var opener = button("Follow my own panel", "button");
    var status = element("p", "", "panel-told");
    var key = "plan-panel:" + box.dataset.plan;
    var inputs = [], places = [], notes = [], system = "";
    status.setAttribute("role", "status");
    box.append(opener, form, status);

    function load(then) {
      if (window.planPanel) { then(window.planPanel); return; }
      var script = document.createElement("script");
      script.src = box.dataset.panel;
      script.onload = function () { then(window.planPanel); };
      script.onerror = function () { status.textContent = "The sizes for other panels could not be read."; };
      document.head.append(script);
    }

    /* Builds the form; where a text of the page is lost, says so and follows nothing. */
    function open(data) {
      system = data.system;
      places = findPlaces(data);
      opener.remove();
      if (!places) {
        places = [];
        status.textContent = "This page cannot follow another panel.";
        return;
      }
      /* Common practice, no source. */
      form.append(element("p", "Measure with callipers at five places along a sawn edge and take the middle value."));
      data.stocks.forEach(function (stock, place) { form.append(field(stock, place + 1, system)); });
      var row = document.createElement("div");
      row.append(button("Follow my panel", "submit"), button("As drawn", "reset"));
      form.append(row);
      inputs = Array.from(form.querySelectorAll("input"));
      form.addEventListener("submit", function (event) {
        event.preventDefault();
        remember();
        apply(data);
      });
      form.addEventListener("reset", function () {
        forget();
        restore(data);
        inputs.forEach(function (input, place) { fault(place, ""); });
        status.textContent = "Every size is as drawn.";
      });
      if (recall()) { apply(data); } else { inputs[0].focus(); }
    }

    function restore(data) {
      places.forEach(function (place, index) {
        place.textContent = data.texts[index][3];
        place.classList.remove("is-changed");
      });
      notes.forEach(function (note) { note.remove(); });
      notes = [];
    }

    function note(id, text) {
      var heading = document.getElementById(id);
      if (!heading) { return; }
      var made = element("p", text, "panel-note");
      heading.after(made);
      notes.push(made);
    }

    function shown(value) {
      if (system === "metric") { return trimmed(value.toFixed(2)) + " mm"; }
      return (value / MM_PER_INCH).toFixed(3) + " in";
    }

    function fault(place, text) {
      form.querySelectorAll(".panel-fault")[place].textContent = text;
      inputs[place].setAttribute("aria-invalid", text ? "true" : "false");
    }

    function range(stock) {
      var low = stock.pieces[0][0], high = stock.pieces[stock.pieces.length - 1][1];
      return [low, high];
    }

    /* The thickness of each stock, or null with what is wrong said beside its field. */
    function read(data) {
      var good = true;
      var found = inputs.map(function (input, place) {
        var stock = data.stocks[place], ends = range(stock);
        var value = typed(input.value, data.system);
        fault(place, "");
        if (isNaN(value)) {
          fault(place, "Write a thickness, such as " + (data.system === "metric" ? "17.6" : "0.703, 45/64 or 17.9 mm") + ".");
        } else if (value < ends[0] - SAME_MM) {
          fault(place, "This page follows no panel below " + shown(ends[0]) + ": " + (stock.below || "none is sold so thin under this name") + ".");
        } else if (value > ends[1] + SAME_MM) {
          fault(place, "This page follows no panel above " + shown(ends[1]) + ": " + (stock.above || "none is sold so thick under this name") + ".");
        } else {
          if (Math.abs(value - stock.planned) < SAME_MM) { return stock.planned; }
          return Math.min(Math.max(value, ends[0]), ends[1]);
        }
        good = false;
        return NaN;
      });
      return good ? found : null;
    }

    /* Above each drawing of a part whose sizes changed: which, and from what. */
    function partNotes() {
      document.querySelectorAll("tr[id^='cut-']").forEach(function (row) {
        var titles = row.closest("table").querySelectorAll("thead th");
        var lines = [];
        row.querySelectorAll("td").forEach(function (cell) {
          var title = titles[cell.cellIndex].textContent.split(",")[0].toLowerCase();
          if (title !== "length" && title !== "width") { return; }
          cell.querySelectorAll("ins").forEach(function (ins) {
            lines.push(title + " " + ins.textContent + " instead of " + ins.nextElementSibling.textContent);
          });
        });
        if (lines.length) {
          note("part-" + row.id.slice(4), "Drawn for the panel of the plan. With yours: " + lines.join(", ") + ". Draw layout lines by the sizes in the steps.");
        }
      });
    }

    function apply(data) {
      var thicknesses = read(data);
      restore(data);
      if (!thicknesses) { status.textContent = ""; return; }
      var others = thicknesses.filter(function (value, place) { return value !== data.stocks[place].planned; });
      if (!others.length) { status.textContent = "This is the panel the plan is drawn for: every size stays."; return; }
      if (data.alone && others.length > 1) {
        status.textContent = "This page can follow one panel at a time: set all others as drawn.";
        return;
      }
      var count = 0, words = 0;
      places.forEach(function (place, index) {
        var done = write(place, data, data.texts[index], thicknesses);
        count += done.sizes;
        words += done.words;
        place.classList.toggle("is-changed", done.sizes + done.words > 0);
        if (!done.sizes && !done.words) { place.textContent = data.texts[index][3]; }
      });
      var panels = thicknesses.map(shown).join(" and ");
      var said = count + (count === 1 ? " size changes" : " sizes change") + " for " + panels +
        ": each is underlined, with the planned one struck out beside it." +
        (words ? " Some screws change too." : "");
      status.textContent = said + " Drawings and files are not changed.";
      if (!count && !words) { return; }
      note("what-you-will-build", "Sizes on this page follow a panel of " + panels + ". Drawings and files show the plan.");
      if (words) { note("what-to-buy", "With your panel some joints take other screws than this list: buy them as the table under drilling says."); }
      note("sheet-layouts", "Drawn for the panel of the plan. The sheets give every part of yours as well: each cut keeps its number, its size stands in the tables below.");
      note("your-saw", "This table is worked out for the panel of the plan.");
      note("assembly", "The pictures show the panel of the plan; sizes in the text follow yours.");
      note("what-was-checked", "Weights, loads and how it stands are worked out for the panel of the plan.");
      partNotes();
    }

    function remember() {
      try { localStorage.setItem(key, JSON.stringify(inputs.map(function (input) { return input.value; }))); } catch (error) { /* private window */ }
    }

    function forget() {
      try { localStorage.removeItem(key); } catch (error) { /* private window */ }
    }

    function kept() {
      try { return JSON.parse(localStorage.getItem(key) || "null"); } catch (error) { return null; }
    }

    function recall() {
      var values = kept();
      if (!Array.isArray(values) || values.length !== inputs.length) { return false; }
      values.forEach(function (value, place) { inputs[place].value = String(value); });
      return true;
    }

    opener.addEventListener("click", function () { load(open); });
    if (kept()) { load(open); }
  }

  function ready() {
    var box = document.querySelector("[data-panel]");
    if (box) { start(box); }
  }

  if (document.readyState === "loading") {
    document.addEventListener("DOMContentLoaded", ready);
  } else {
    ready();
  }
})();
