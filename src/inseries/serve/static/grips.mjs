// What can be taken hold of in a picture: handles laid over the places that the picture carries.
// They stand outside the picture, so that a new picture under a moving finger does not drop them.

const layer = document.querySelector("#grips");
const part = document.querySelector("#part");
const grips = new Map();
let held = null;

const pairs = (told) => told.split(" ").map((each) => each.split(",").map(Number));
const between = (x, [a, b], [c, d]) => (a === c ? b : b + ((d - b) * (x - a)) / (c - a));

// A scale that is straight between its bends, from column 0 to column 1 or back.
function scale(places, from, x) {
  const way = places.map((p) => [p[from], p[1 - from]]).sort((a, b) => a[0] - b[0]);
  const kept = Math.min(Math.max(x, way[0][0]), way.at(-1)[0]);
  const n = Math.max(way.findIndex((p) => p[0] >= kept), 1);
  return between(kept, way[n - 1], way[n]);
}

// From drawing units to places of the layer; measured once in a pass, else each handle that is
// placed would have the page laid out again for the next.
let pass = null;
function frame(svg) {
  const found = pass?.get(svg) ?? measured(svg);
  pass?.set(svg, found);
  return found;
}
function inOnePass(work) {
  pass = new Map();
  try { work(); } finally { pass = null; }
}
function measured(svg) {
  const box = svg.getBoundingClientRect();
  const here = layer.getBoundingClientRect();
  const per = box.width / svg.viewBox.baseVal.width;
  const seen = svg.parentElement.getBoundingClientRect();
  return { per, x: (v) => box.left - here.left + v * per, y: (v) => box.top - here.top + v * per,
    left: seen.left - here.left, right: seen.right - here.left };
}

function steps(value, handle) {
  const kept = Math.min(Math.max(value, handle.low), handle.high);
  return Number((handle.low + Math.round((kept - handle.low) / handle.step) * handle.step).toFixed(4));
}

function nearest(value, among) { return among.reduce((a, b) => (Math.abs(b - value) < Math.abs(a - value) ? b : a)); }

// Every place where one handle can be taken hold of in what is shown now.
function places(handle) {
  const found = [];
  const shown = [...part.querySelectorAll("svg g[data-axis], svg g[data-pull], svg g[data-mark]")].filter((g) => !g.closest(".pinned-picture"));
  const marked = handle.mark && shown.find((g) => g.dataset.mark === handle.mark);
  for (const g of shown) {
    if (g === marked || g.dataset.pull === handle.drawn) found.push(g);
    else if (g.dataset.axis === handle.drawn && !marked) found.push(g);
  }
  return found;
}

class Grip {
  constructor(handle, moved) {
    this.handle = handle;
    this.moved = moved;
    this.node = document.createElement("div");
    this.node.className = "grip";
    this.node.tabIndex = 0;
    this.node.setAttribute("role", "slider");
    this.node.innerHTML = '<span class="grip-line"></span><span class="knob"></span><span class="bubble" aria-hidden="true"></span>';
    this.node.addEventListener("pointerdown", (e) => this.begin(e));
    this.node.addEventListener("pointermove", (e) => this.drag(e));
    for (const each of ["pointerup", "pointercancel"]) this.node.addEventListener(each, () => this.rest());
    this.node.addEventListener("keydown", (e) => this.key(e));
    this.node.addEventListener("blur", () => this.settle());
    layer.append(this.node);
  }

  // Where it is drawn now; what it holds is the address's, or what the picture shows.
  lay(g, value) {
    this.g = g;
    this.svg = g.closest("svg");
    const axis = g.dataset.mark ? this.svg.querySelector('g[data-axis="age"]') : g;
    this.scale = axis.dataset.places ? pairs(axis.dataset.places) : null;
    this.runs = g.dataset.runs ?? "across";
    const where = this.svg.closest(".life") ? "on the time line" : "in the picture";
    this.node.setAttribute("aria-label", `${this.handle.word}, ${where}`);
    this.upright = this.runs === "up" || this.runs === "down";
    const told = [...this.svg.querySelectorAll(`g[data-told="${g.dataset.axis}"]`)];
    this.told = told.map((t) => ({ name: t.dataset.name, colour: t.dataset.colour, values: t.dataset.values.split(" ").map(Number),
      heights: t.dataset.heights.split(" ").map(Number), words: t.dataset.words.split("|") }));
    this.set = value !== null;
    if (held !== this) this.value = value ?? this.drawn();
    this.place();
  }

  drawn() {
    // what is tried begins at what was read; the picture draws what the model makes of it
    const read = this.handle.name.startsWith("try_") && document.querySelector(`.field[data-key=${this.handle.name.slice(4)}] input`)?.value;
    if (read && Number(read) >= this.handle.low) return Number(read);
    const own = Number(this.g.dataset.value);
    if (this.g.dataset.value !== undefined && !Number.isNaN(own)) return own;
    return this.told.length ? this.told[0].values[0] : this.scale[0][1];
  }

  fitted(value) {
    if (this.told.length) return nearest(value, this.told[0].values);
    const ends = this.scale ? [Math.min(...this.scale.map((p) => p[1])), Math.max(...this.scale.map((p) => p[1]))] : [-Infinity, Infinity];
    const kept = steps(Math.min(Math.max(value, ends[0]), ends[1]), this.handle);
    return kept < ends[0] && kept + this.handle.step <= this.handle.high ? steps(kept + this.handle.step, this.handle) : kept;
  }

  place() {
    const at = frame(this.svg);
    const style = this.node.style;
    let x; let y; let length = 0;
    if (this.g.dataset.axis) {
      const along = scale(this.scale, 1, this.value);
      const field = this.g.dataset.field.split(",").map(Number);
      length = (field[1] - field[0]) * at.per;
      [x, y] = this.upright ? [at.x(field[0]), at.y(along)] : [at.x(along), at.y(field[1])];
    } else {
      const [px, py] = this.g.dataset.at.split(",").map(Number);
      const away = held === this && this.g.dataset.per ? (this.value - this.from.value) * Number(this.g.dataset.per) : 0;
      const along = this.g.dataset.mark ? scale(this.scale, 1, this.value) : px;
      [x, y] = [at.x(along), at.y(py + (this.runs === "down" ? away : this.runs === "up" ? -away : 0))];
    }
    style.setProperty("left", `${x}px`);
    style.setProperty("top", `${y}px`);
    style.setProperty("--length", `${Math.abs(length)}px`);
    this.node.classList.toggle("upright", this.upright);
    this.node.classList.toggle("sign", this.g.dataset.mark !== undefined);
    this.node.classList.toggle("told", this.told.length > 0);
    this.node.classList.toggle("leftward", x > (at.left + at.right) / 2);
    this.node.classList.toggle("outside", x < at.left - 2 || x > at.right + 2);
    this.node.classList.toggle("unset", !this.set);
    this.say(at);
  }

  say(at) {
    const { handle } = this;
    const number = `${Number(this.value.toFixed(3))}${handle.unit ? ` ${handle.unit}` : ""}`;
    const rows = this.told.map((t) => [t, t.values.indexOf(nearest(this.value, t.values))]);
    const words = rows.map(([t, n]) => `${t.name} ${t.words[n]}`);
    const day = handle.name === "day" ? `day ${Math.round(this.value)}` : number;
    const node = this.node;
    const bounds = this.told.length ? [this.told[0].values[0], this.told[0].values.at(-1)] : [handle.low, handle.high];
    node.setAttribute("aria-valuemin", bounds[0]);
    node.setAttribute("aria-valuemax", bounds[1]);
    node.setAttribute("aria-valuenow", this.value);
    node.setAttribute("aria-valuetext", [this.set || held === this || rows.length ? day : `${day}, as it is`, ...words].join("; "));
    const bubble = node.querySelector(".bubble");
    bubble.replaceChildren(...[handle.name === "day" ? day : `${handle.word} ${number}`, ...words].map((line, n) => {
      const p = document.createElement(n ? "span" : "b");
      p.textContent = line;
      return p;
    }));
    for (const dot of node.querySelectorAll(".dot")) dot.remove();
    for (const [t, n] of rows) {
      const dot = document.createElement("span");
      dot.className = "dot";
      dot.style.setProperty("top", `${at.y(t.heights[n]) - parseFloat(node.style.top)}px`);
      dot.style.setProperty("background", t.colour);
      node.append(dot);
    }
  }

  begin(event) {
    if (event.button) return;
    event.preventDefault();
    this.node.focus({ preventScroll: true });
    this.node.setPointerCapture(event.pointerId);
    held = this;
    this.from = { x: event.clientX, y: event.clientY, value: this.value };
    this.node.classList.add("held");
  }

  drag(event) {
    if (held !== this) return;
    const at = frame(this.svg);
    const gone = { across: event.clientX - this.from.x, down: event.clientY - this.from.y, up: this.from.y - event.clientY }[this.runs];
    let value;
    if (this.scale) {
      const start = scale(this.scale, 1, this.from.value);
      value = scale(this.scale, 0, start + (this.runs === "up" ? -gone : gone) / at.per);
    } else value = this.from.value + gone / at.per / Number(this.g.dataset.per);
    this.take(this.fitted(value));
  }

  take(value) {
    if (value === this.value) return;
    this.value = value;
    this.set = true;
    this.open = true;
    this.place();
    this.moved(this.handle.name, value, false);
  }

  rest() {
    if (held !== this) return;
    held = null;
    this.node.classList.remove("held");
    this.settle();
  }

  // A key moves by a step, and what it asks is the full question once the keys rest.
  key(event) {
    const by = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1, PageUp: 5, PageDown: -5 }[event.key];
    const end = { Home: -Infinity, End: Infinity }[event.key];
    if (by === undefined && end === undefined) return;
    event.preventDefault();
    const way = this.runs === "down" && event.key.startsWith("Arrow") && event.key !== "ArrowLeft" && event.key !== "ArrowRight" ? -1 : 1;
    this.take(this.fitted(end ?? this.next(by * way)));
    clearTimeout(this.pause);
    this.pause = setTimeout(() => this.settle(), 600);
  }

  next(by) {
    const values = this.told[0]?.values;
    if (!values) return this.value + by * this.handle.step;
    return values[Math.min(Math.max(values.indexOf(nearest(this.value, values)) + by, 0), values.length - 1)];
  }

  settle() {
    clearTimeout(this.pause);
    if (!this.open || held === this) return;
    this.open = false;
    this.moved(this.handle.name, this.value, true);
  }
}

// Lay every handle where it can be taken hold of; `value` gives what the address holds, or null.
export function lay(handles, value, moved) { inOnePass(() => layAll(handles, value, moved)); }
function layAll(handles, value, moved) {
  const kept = new Set();
  for (const handle of handles) {
    if (!handle.drawn) continue;
    places(handle).forEach((g, n) => {
      const key = `${handle.name} ${n}`;
      kept.add(key);
      if (!grips.has(key)) grips.set(key, new Grip(handle, moved));
      const told = value(handle.name);
      grips.get(key).lay(g, told === null || Number.isNaN(Number(told)) ? null : Number(told));
    });
  }
  for (const [key, grip] of grips) if (!kept.has(key) && held !== grip) { grip.node.remove(); grips.delete(key); }
}

// The same handles, after the page has moved under them.
export function follow() { inOnePass(() => { for (const grip of grips.values()) if (grip.svg.isConnected) grip.place(); }); }

// Flags where notes are tied to a day.
export function flag(notes) {
  for (const each of layer.querySelectorAll(".flag")) each.remove();
  const axis = part.querySelector('figure:not(.pinned-picture) g[data-axis="age"]') ?? part.querySelector('g[data-axis="age"]');
  if (!axis) return;
  const svg = axis.closest("svg");
  const at = frame(svg);
  for (const { day, text, number } of notes) {
    const flagged = document.createElement("a");
    flagged.className = "flag";
    flagged.href = `#note-${number}`;
    flagged.title = text;
    flagged.textContent = "✎";
    flagged.setAttribute("aria-label", `Note at day ${day}: ${text}`);
    flagged.style.setProperty("left", `${at.x(scale(pairs(axis.dataset.places), 1, day))}px`);
    flagged.style.setProperty("top", `${at.y(Number(axis.dataset.field.split(",")[0]))}px`);
    layer.append(flagged);
  }
}
