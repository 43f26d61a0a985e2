/* Remembers inches or millimetres, and names what the theme leaves without a name. */
(function () {
  "use strict";
  var KEY = "plan-units";

  function remembered() {
    try { return localStorage.getItem(KEY); } catch (error) { return null; }
  }

  function remember(system) {
    try { localStorage.setItem(KEY, system); } catch (error) { /* private window: not kept */ }
  }

  /* The id of the section at the top of the window, so that the other edition opens there. */
  function currentSection() {
    var found = "";
    document.querySelectorAll(".md-typeset h2[id], .md-typeset h3[id]").forEach(function (heading) {
      if (heading.getBoundingClientRect().top < 140) { found = heading.id; }
    });
    return found;
  }

  function followUnits(link) {
    link.addEventListener("click", function () {
      remember(link.dataset.unit);
      var section = currentSection() || location.hash.slice(1);
      if (section) { link.hash = section; }
    });
  }

  function openInMyUnits(link, system) {
    if (system && link.dataset.editions.split(" ").indexOf(system) !== -1) {
      link.href = link.dataset.plan + system + ".html";
    }
  }

  function name(selector, text) {
    document.querySelectorAll(selector).forEach(function (element) {
      element.setAttribute("aria-label", text);
    });
  }

  function ready() {
    var system = remembered();
    document.querySelectorAll("a.unit").forEach(followUnits);
    document.querySelectorAll("a.plan-link").forEach(function (link) { openInMyUnits(link, system); });
    document.querySelectorAll(".units-large a.unit").forEach(function (link) {
      link.classList.toggle("is-yours", link.dataset.unit === system);
    });
    name(".md-search[role=dialog]", "Search");
  }

  if (document.readyState === "loading") {
    document.addEventListener("DOMContentLoaded", ready);
  } else {
    ready();
  }
})();
