/* Sifts the cards of the library; what is chosen stands in the address, so that it can be kept and sent. */
(function () {
  "use strict";
  var form = document.querySelector("form.sieve");
  if (!form) { return; }
  var cards = Array.from(document.querySelectorAll("li.card"));
  var told = document.querySelector(".sieve-count");
  var lists = Array.from(form.querySelectorAll("select"));
  var tools = Array.from(form.querySelectorAll("input[name=without]"));

  function isMost(name) { return name === "hours" || name === "sheets"; }

  function suits(card) {
    var chosen = lists.every(function (list) {
      var value = card.dataset[list.name];
      if (!list.value) { return true; }
      return isMost(list.name) ? Number(value) <= Number(list.value) : value.split("|").indexOf(list.value) !== -1;
    });
    var needs = card.dataset.without.split("|");
    return chosen && tools.every(function (box) { return !box.checked || needs.indexOf(box.value) === -1; });
  }

  function show() {
    var count = 0;
    cards.forEach(function (card) {
      card.hidden = !suits(card);
      count += card.hidden ? 0 : 1;
    });
    told.textContent = count === cards.length ? "All " + count + " designs" : count + " of " + cards.length + " designs" + (count ? "" : ": ask for less and there will be some");
  }

  function write() {
    var words = new URLSearchParams();
    lists.forEach(function (list) { if (list.value) { words.append(list.name, list.value); } });
    tools.forEach(function (box) { if (box.checked) { words.append("without", box.value); } });
    history.replaceState(null, "", words.toString() ? "#" + words : location.pathname + location.search);
  }

  function read() {
    var words = new URLSearchParams(location.hash.slice(1));
    lists.forEach(function (list) {
      list.value = words.get(list.name) || "";
      if (list.selectedIndex < 0) { list.value = ""; }
    });
    tools.forEach(function (box) { box.checked = words.getAll("without").indexOf(box.value) !== -1; });
    var more = form.querySelector("details");
    if (more && words.has("without")) { more.open = true; }
    show();
  }

  form.addEventListener("change", function () { write(); show(); });
  form.addEventListener("reset", function () { setTimeout(function () { write(); show(); }); });
  form.addEventListener("submit", function (event) { event.preventDefault(); });
  addEventListener("hashchange", read);
  read();
})();
