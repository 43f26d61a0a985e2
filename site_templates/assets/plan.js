/* What a page does beyond being read: light, units, sections, lists to tick off, and the search.
   A classic script without any request of its own, so that pages work from a folder as well. */
(function () {
  "use strict";
  var root = document.documentElement;
  var home = new URL("..", document.currentScript.src).href;
  var KEEPS_PLACE = CSS.supports("overflow-anchor", "auto");
  var SLICE_MS = 8;
  var waiting = [];

  function recall(key) {
    try { return localStorage.getItem("kerfolio:" + key); } catch (error) { return null; }
  }

  function keep(key, value) {
    try {
      if (value === null) { localStorage.removeItem("kerfolio:" + key); } else { localStorage.setItem("kerfolio:" + key, value); }
    } catch (error) { /* private window: not kept */ }
  }

  function all(selector, within) { return Array.from((within || document).querySelectorAll(selector)); }

  function make(name, text, values) {
    var element = document.createElement(name);
    if (text) { element.textContent = text; }
    Object.assign(element, values || {});
    return element;
  }

  /* What can wait is done bit by bit, so that a page answers while it is still being set up. Where
     the browser does not keep what is read in its place, all is done before that is shown. */
  function later(work) {
    if (!KEEPS_PLACE) { work(); return; }
    waiting.push(work);
    if (waiting.length === 1) { setTimeout(doSome); }
  }

  function doSome() {
    var end = performance.now() + SLICE_MS;
    while (waiting.length && performance.now() < end) {
      waiting[0]();
      waiting.shift();
    }
    if (waiting.length) { setTimeout(doSome); }
  }

  window.planLater = later;

  /* ---- Light and dark ---- */

  function lightSwitch() {
    var button = document.getElementById("light-switch");
    var system = matchMedia("(prefers-color-scheme: dark)");
    function show() { button.textContent = root.dataset.light === "dark" ? "Light" : "Dark"; }
    button.hidden = false;
    button.addEventListener("click", function () {
      root.dataset.light = root.dataset.light === "dark" ? "light" : "dark";
      keep("light", root.dataset.light);
      show();
    });
    system.addEventListener("change", function () {
      if (!recall("light")) { root.dataset.light = system.matches ? "dark" : "light"; show(); }
    });
    show();
  }

  /* ---- Inches and millimetres ---- */

  /* The heading one is reading: the last one above the upper third of the window. */
  function currentHeading() {
    var found = null;
    all(".md-typeset :is(h2, h3)[id]").forEach(function (heading) {
      if (heading.getBoundingClientRect().top < innerHeight / 3) { found = heading; }
    });
    return found;
  }

  function units() {
    var mine = recall("units");
    all("a.unit").forEach(function (link) {
      link.addEventListener("click", function () {
        var heading = currentHeading();
        keep("units", link.dataset.unit);
        if (heading) { link.hash = heading.id; }
      });
    });
    all(".units-large a.unit").forEach(function (link) {
      link.classList.toggle("is-yours", link.dataset.unit === mine);
    });
    all("a.plan-link").forEach(function (link) {
      if (mine && link.dataset.editions.split(" ").indexOf(mine) !== -1) {
        link.href = link.dataset.plan + mine + ".html";
      }
    });
    keepPlace();
  }

  /* Editions may differ in their parts and steps: then at least the chapter is kept. */
  function keepPlace() {
    var chapter = { "#part-": "part-drawings", "#step-": "assembly", "#setting-": "cut-order" };
    Object.keys(chapter).forEach(function (start) {
      if (location.hash.indexOf(start) === 0 && !document.getElementById(location.hash.slice(1))) {
        location.replace("#" + chapter[start]);
      }
    });
  }

  /* ---- The rail ---- */

  function rail() {
    var narrow = matchMedia("(max-width: 60rem)");
    var lists = all(".rail details");
    function fold() { lists.forEach(function (one) { one.open = !narrow.matches; }); }
    var links = all(".rail .sections a");
    function mark() {
      var here = null;
      links.forEach(function (link) {
        var heading = document.getElementById(decodeURIComponent(link.hash.slice(1)));
        if (heading && heading.getBoundingClientRect().top < innerHeight / 3) { here = link; }
      });
      links.forEach(function (link) { link.classList.toggle("is-here", link === here); });
    }
    narrow.addEventListener("change", fold);
    links.forEach(function (link) { link.addEventListener("click", function () { if (narrow.matches) { fold(); } }); });
    addEventListener("scroll", function () { requestAnimationFrame(mark); }, { passive: true });
    requestAnimationFrame(mark);
  }

  /* ---- Tables ---- */

  function tables() {
    all("table.slips").forEach(function (table) { later(function () { slips(table); }); });
    addEventListener("resize", reach);
  }

  /* What scrolls sideways must be reached by the keyboard; first all is measured, then written. */
  function reach() {
    var boxes = all(".scroll").map(function (box) { return [box, box.scrollWidth > box.clientWidth]; });
    boxes.forEach(function (pair) {
      var box = pair[0];
      if (pair[1]) {
        box.tabIndex = 0;
        box.setAttribute("role", "region");
        box.setAttribute("aria-label", box.querySelector("caption").textContent);
      } else if (box.hasAttribute("tabindex")) {
        ["tabindex", "role", "aria-label"].forEach(function (name) { box.removeAttribute(name); });
      }
    });
  }

  /* Rows shown as slips are still rows of a table to those who listen. */
  function slips(table) {
    var heads = all("thead th", table).map(function (head) { return head.textContent; });
    table.setAttribute("role", "table");
    all("thead, tbody", table).forEach(function (part) { part.setAttribute("role", "rowgroup"); });
    all("tr", table).forEach(function (row) {
      row.setAttribute("role", "row");
      row.classList.toggle("is-short", row.cells[0].textContent.trim().length < 3 && row.cells[0].tagName === "TH");
      Array.from(row.cells).forEach(function (cell, i) {
        var isHead = cell.tagName === "TH";
        cell.setAttribute("role", isHead ? (row.parentNode.tagName === "THEAD" ? "columnheader" : "rowheader") : "cell");
        if (!isHead) { cell.dataset.th = heads[i] || ""; }
        cell.classList.toggle("is-long", !isHead && cell.textContent.length > 24);
      });
    });
  }

  /* ---- Lists to tick off ---- */

  function ticks() {
    var plan = document.querySelector("[data-ticks]");
    if (!plan) { return; }
    var key = "ticks:" + plan.dataset.ticks;
    var state = {};
    try { state = JSON.parse(recall(key)) || {}; } catch (error) { state = {}; }
    function save() { keep(key, JSON.stringify(state)); }
    all("[data-tick]").forEach(function (list) { later(function () { tickList(list, state, save); }); });
    var steps = all(".step-title");
    if (steps.length) { later(function () { tickSteps(steps, state, save); }); }
  }

  function tickList(list, state, save) {
    var seen = {};
    var rows = list.tagName === "TABLE" ? all("tbody tr", list) : Array.from(list.children);
    var boxes = [];
    rows.forEach(function (row) {
      var cell = list.tagName === "TABLE" ? row.cells[0] : row;
      if (cell.colSpan > 1) { return; }
      var name = cell.textContent.trim();
      seen[name] = (seen[name] || 0) + 1;
      if (row.cells) { row.classList.toggle("is-tight", name.length < 9); }
      var box = make("input", "", { type: "checkbox" });
      box.setAttribute("aria-label", "Done: " + (row.cells && row.cells[1] ? name + ", " + row.cells[1].textContent : name));
      boxes.push({ box: box, row: row, name: seen[name] > 1 ? name + "#" + seen[name] : name });
      var holder = make("span", "", { className: "tick-box" });
      holder.append(box, " ");
      cell.prepend(holder);
    });
    var where = list.closest(".scroll") || list;
    watch(boxes, list.dataset.tick, state, save, function (bar) { where.before(bar); });
  }

  function tickSteps(steps, state, save) {
    var boxes = steps.map(function (title) {
      var label = make("label", "", { className: "step-tick" });
      var box = make("input", "", { type: "checkbox" });
      label.append(box, "Step done", make("span", ": " + title.textContent, { className: "unseen" }));
      title.after(label);
      return { box: box, row: title, name: title.id };
    });
    watch(boxes, "steps", state, save, function (bar) { steps[0].before(bar); });
  }

  /* Keeps the boxes of one list; its bar tells how many are ticked and clears them. */
  function watch(boxes, list, state, save, place) {
    var bar = make("p", "", { className: "tick-bar" });
    var told = make("span");
    var clear = make("button", "Clear ticks", { type: "button" });
    var before = null;
    told.setAttribute("role", "status");
    bar.append(told, clear);
    place(bar);
    function show() {
      var on = state[list] || [];
      boxes.forEach(function (one) {
        one.box.checked = on.indexOf(one.name) !== -1;
        one.row.classList.toggle("is-done", one.box.checked);
      });
      told.textContent = boxes.filter(function (one) { return one.box.checked; }).length + " of " + boxes.length + " done";
      clear.textContent = before ? "Put ticks back" : "Clear ticks";
      clear.hidden = !before && !on.length;
    }
    boxes.forEach(function (one) {
      one.box.addEventListener("change", function () {
        state[list] = boxes.filter(function (other) { return other.box.checked; }).map(function (other) { return other.name; });
        before = null;
        save();
        show();
      });
    });
    clear.addEventListener("click", function () {
      var now = state[list] || [];
      state[list] = before || [];
      before = before ? null : now;
      save();
      show();
    });
    show();
  }

  /* ---- Downloads are named for their plan ---- */

  function downloads() {
    addEventListener("click", function (event) {
      var link = event.target.closest("a[download]");
      var path = link && link.pathname.split("/plans/")[1];
      if (path) { link.download = decodeURIComponent(path).replace("/files/", "/").replace(/\//g, "-"); }
    }, true);
  }

  /* ---- Search ---- */

  function search() {
    var button = document.getElementById("find-open");
    var dialog = null;
    function open() {
      if (!dialog) { dialog = searchDialog(); }
      if (!dialog.open) { dialog.showModal(); }
      dialog.querySelector("input").focus();
    }
    button.hidden = false;
    button.addEventListener("click", open);
    addEventListener("keydown", function (event) {
      var typing = /^(INPUT|SELECT|TEXTAREA)$/.test(event.target.tagName);
      if (event.key === "/" && !typing && !event.ctrlKey && !event.metaKey && !event.altKey) {
        event.preventDefault();
        open();
      }
    });
  }

  function searchDialog() {
    var dialog = make("dialog", "", { className: "find" });
    var form = make("form", "", { method: "dialog" });
    var label = make("label", "Search plans and the guide");
    var input = make("input", "", { type: "search", autocomplete: "off" });
    var told = make("p");
    var list = make("ul");
    told.setAttribute("role", "status");
    dialog.setAttribute("aria-label", "Search");
    label.append(input);
    form.append(label, make("button", "Close"));
    dialog.append(form, told, list);
    document.body.append(dialog);
    function show() {
      var found = findPages(input.value);
      list.replaceChildren.apply(list, found.slice(0, 12).map(resultItem));
      told.textContent = !input.value.trim() ? "" : found.length === 0 ? "Nothing found." : found.length === 1 ? "1 page found." : found.length + " pages found.";
    }
    input.addEventListener("input", show);
    input.addEventListener("keydown", function (event) {
      if (event.key !== "Enter") { return; }
      event.preventDefault();
      var first = list.querySelector("a");
      if (first) { first.click(); }
    });
    dialog.addEventListener("keydown", function (event) {
      var stops = [input].concat(all("a", list));
      var way = { ArrowDown: 1, ArrowUp: -1 }[event.key];
      var at = stops.indexOf(document.activeElement);
      if (event.key === "Escape") { event.preventDefault(); dialog.close(); }
      if (way && stops[at + way]) { event.preventDefault(); stops[at + way].focus(); }
    });
    list.addEventListener("click", function () { dialog.close(); });
    loadIndex(show);
    return dialog;
  }

  /* The index is a script of its own, loaded when somebody searches: fetch would fail in a folder. */
  function loadIndex(then) {
    var script = make("script", "", { src: home + "assets/search-index.js" });
    script.addEventListener("load", then);
    document.head.append(script);
  }

  function resultItem(row) {
    var mine = recall("units");
    var item = make("li");
    var editions = row[3] ? row[3].split(" ") : [];
    var path = editions.indexOf(mine) !== -1 ? row[1].replace("index.html", mine + ".html") : row[1];
    var link = make("a", "", { href: home + path });
    link.append(make("b", row[0]), make("span", row[2].length > 110 ? row[2].slice(0, 110).replace(/\s\S*$/, " …") : row[2]));
    item.append(link);
    return item;
  }

  /* Every word must begin a word of the page; in its title it counts more. */
  function findPages(text) {
    var words = text.toLowerCase().match(/[\p{L}\p{N}]+/gu) || [];
    if (!words.length) { return []; }
    return (window.kerfolioIndex || []).map(function (row) {
      var title = " " + row[0].toLowerCase().replace(/[^\p{L}\p{N}]+/gu, " ");
      var rest = " " + row[2].toLowerCase().replace(/[^\p{L}\p{N}]+/gu, " ");
      var weight = 0;
      words.every(function (word) {
        var here = title.indexOf(" " + word) !== -1 ? 5 : rest.indexOf(" " + word) !== -1 ? 1 : 0;
        weight = here ? weight + here : 0;
        return here;
      });
      return { row: row, weight: weight };
    }).filter(function (one) { return one.weight; }).sort(function (one, other) {
      return other.weight - one.weight;
    }).map(function (one) { return one.row; });
  }

  function ready() {
    lightSwitch();
    units();
    rail();
    tables();
    ticks();
    downloads();
    search();
    later(reach);
  }

  ready();
})();
