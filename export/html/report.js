// The report without this script is complete: this makes its maps easier to read. It
// takes nothing from the page but numbers of panels in data-panel, and text it sets as text.
"use strict";
(() => {
const all = (selector, root = document) => Array.from(root.querySelectorAll(selector));
const bar = document.querySelector(".marked");
const most = 16, step = 1.5;
let marked = null; // the number of a panel
let places = [];   // its places, one a sheet
let at = -1;       // the place shown last

document.documentElement.classList.add("scripted");

// Sizes.

function resize(view, to, x, y) {
  const map = view.querySelector(".map");
  const from = Number(view.dataset.size || 1);
  to = Math.min(most, Math.max(1, to));
  const box = map.getBoundingClientRect();
  x = x === undefined ? map.clientWidth / 2 : x - box.left;
  y = y === undefined ? map.clientHeight / 2 : y - box.top;
  const left = (map.scrollLeft + x) * to / from - x, top = (map.scrollTop + y) * to / from - y;
  view.dataset.size = to;
  view.style.setProperty("--size", to);
  view.classList.toggle("large", to > 1);
  map.scrollLeft = left;
  map.scrollTop = top;
}

function zoom(view, how, x, y) {
  const now = Number(view.dataset.size || 1);
  resize(view, how === "in" ? now * step : how === "out" ? now / step : 1, x, y);
}

for (const view of all(".view")) {
  const map = view.querySelector(".map");
  view.querySelector(".tools").hidden = false;
  view.style.setProperty("--size", 1); // whatever size was chosen when the page was left
  for (const b of all("[data-zoom]", view)) {
    b.addEventListener("click", () => zoom(view, b.dataset.zoom));
  }
  map.addEventListener("keydown", (e) => {
    const how = { "+": "in", "=": "in", "-": "out", "0": "fit" }[e.key];
    if (how && !e.ctrlKey && !e.metaKey && !e.altKey) {
      zoom(view, how);
      e.preventDefault();
    }
  });
  map.addEventListener("wheel", (e) => {
    if (e.ctrlKey) { // without it the wheel scrolls, as everywhere
      zoom(view, e.deltaY < 0 ? "in" : "out", e.clientX, e.clientY);
      e.preventDefault();
    }
  }, { passive: false });
  drag(map);
}

// drag moves a map by the mouse; a finger moves it anyway. What moved was no click.
function drag(map) {
  let from = null, moved = false;
  map.addEventListener("pointerdown", (e) => {
    moved = false;
    if (e.pointerType === "mouse" && e.button === 0) {
      from = { x: e.clientX + map.scrollLeft, y: e.clientY + map.scrollTop, cx: e.clientX, cy: e.clientY };
    }
  });
  map.addEventListener("pointermove", (e) => {
    if (!from || !(e.buttons & 1)) {
      from = null;
      return;
    }
    moved = moved || Math.hypot(e.clientX - from.cx, e.clientY - from.cy) > 5;
    if (moved) {
      map.scrollLeft = from.x - e.clientX;
      map.scrollTop = from.y - e.clientY;
    }
  });
  map.addEventListener("dragstart", (e) => e.preventDefault());
  map.addEventListener("click", (e) => {
    if (moved) {
      e.preventDefault();
      e.stopPropagation();
    }
  }, true);
}

// Marks.

function clear() {
  for (const e of all(".on, .here")) {
    e.classList.remove("on", "here");
  }
  for (const b of all("tr[data-panel] button")) {
    b.setAttribute("aria-pressed", "false");
  }
  marked = null;
  at = -1;
  bar.hidden = true;
  document.body.style.removeProperty("padding-bottom");
}

function mark(panel) {
  if (panel === marked) {
    return;
  }
  clear();
  marked = panel;
  const same = all("[data-panel]").filter((e) => e.dataset.panel === panel);
  for (const e of same) {
    e.classList.add("on");
  }
  places = same.filter((e) => e.classList.contains("place"));
  const row = same.find((e) => e.localName === "tr");
  row.querySelector("button").setAttribute("aria-pressed", "true");
  bar.querySelector("b").textContent = panel;
  bar.querySelector("bdi").textContent = row.querySelector("bdi").textContent;
  const next = bar.querySelector("[data-go='1']");
  next.hidden = places.length === 0;
  next.textContent = places.length === 1 ? "On its sheet" : "Next sheet";
  bar.querySelector("[data-go='-1']").hidden = places.length < 2;
  bar.hidden = false;
  say();
  document.body.style.paddingBottom = bar.offsetHeight + 24 + "px";
}

// say tells what is marked, and where the place shown last is.
function say() {
  const count = (n, what) => n + " " + what + (n === 1 ? "" : "s");
  const pieces = (p) => all("path", p).length;
  const copies = places.reduce((n, p) => n + pieces(p), 0);
  let text = copies === 0 ? "on no sheet" : count(copies, "piece") + " on " + count(places.length, "sheet");
  if (at >= 0 && places.length > 1) {
    text += "; " + count(pieces(places[at]), "piece") + " on " + places[at].closest(".sheet").id;
  }
  bar.querySelector("span").textContent = text;
}

// show brings a place, or one panel of it, into sight, with all of its sheet if that fits.
function show(e) {
  e.closest(".sheet").scrollIntoView();
  const map = e.closest(".map");
  const a = e.getBoundingClientRect(), b = map.getBoundingClientRect();
  map.scrollLeft += a.left + a.width / 2 - b.left - b.width / 2;
  map.scrollTop += a.top + a.height / 2 - b.top - b.height / 2;
}

// follow marks what a link within the page leads to: a row, a place, or one panel.
function follow(id) {
  const e = id && document.getElementById(id);
  const owner = e && e.closest("[data-panel]");
  if (!owner) {
    return;
  }
  mark(owner.dataset.panel);
  for (const h of all(".here")) {
    h.classList.remove("here");
  }
  const place = e.closest(".place");
  if (place) {
    at = places.indexOf(place);
    if (e !== place) {
      e.classList.add("here");
    }
    show(e);
  } else {
    at = -1;
    e.scrollIntoView({ block: "center" });
  }
  say();
}

const target = () => location.hash.slice(1);
window.addEventListener("hashchange", () => follow(target()));

document.addEventListener("click", (e) => {
  const link = e.target.closest("a[href^='#']");
  if (link) {
    // The same link twice is no change of the address.
    if (link.getAttribute("href") === location.hash) {
      follow(target());
      e.preventDefault();
    }
    return;
  }
  const row = e.target.closest("tr[data-panel]");
  if (row && String(getSelection()) === "") {
    row.dataset.panel === marked ? clear() : mark(row.dataset.panel);
  }
});

document.addEventListener("keydown", (e) => {
  if (e.key === "Escape") {
    clear();
  }
});

for (const b of all("[data-go]", bar)) {
  b.addEventListener("click", () => {
    const row = all("tr[data-panel]").find((r) => r.dataset.panel === marked);
    if (b.dataset.go === "clear") {
      clear();
      row.querySelector("button").focus();
    } else if (b.dataset.go === "list") {
      row.scrollIntoView({ block: "center" });
      row.querySelector("button").focus({ preventScroll: true });
    } else if (places.length > 0) {
      const by = Number(b.dataset.go);
      at = at < 0 && by < 0 ? places.length - 1 : (at + by + places.length) % places.length;
      show(places[at]);
      say();
    }
  });
}

for (const row of all("tr[data-panel]")) {
  const cell = row.cells[0];
  const b = document.createElement("button");
  b.type = "button";
  b.textContent = cell.textContent;
  b.setAttribute("aria-label", "Mark panel " + row.dataset.panel + " on the maps");
  b.setAttribute("aria-pressed", "false");
  cell.replaceChildren(b); // a click on it is a click on its row
}

// Once the page is there the browser goes to its fragment, and then we do.
window.addEventListener("load", () => follow(target()));
})();
