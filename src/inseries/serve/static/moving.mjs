// A picture on its way from the step before: each element names its outlines on that way.
const SECONDS = 2.6;
const still = matchMedia("(prefers-reduced-motion: reduce)");
const known = new WeakMap();
let going = 0, end = null;

// Outlines between two of which an element stands, as the words between numbers, and the numbers.
const parted = (line) => ({ words: line.split(/-?[\d.]+/), numbers: (line.match(/-?[\d.]+/g) ?? []).map(Number) });

function ways(step) {
  if (known.has(step)) return known.get(step);
  const found = [...step.querySelectorAll("[data-way], [data-fade]")].map((node) => {
    const text = node.localName === "text";
    const last = text ? `${node.getAttribute("x")} ${node.getAttribute("y")}` : node.getAttribute("d");
    const way = node.dataset.way ? [...node.dataset.way.split("|"), last].map(parted) : [];
    const fade = node.dataset.fade ? [...node.dataset.fade.split("|").map(Number), Number(node.getAttribute("opacity") ?? 1)] : [];
    return { node, text, way, fade };
  });
  known.set(step, found);
  return found;
}

function between(stops, share, mix) {
  const place = share * (stops.length - 1), before = Math.min(Math.floor(place), stops.length - 2);
  return mix(stops[before], stops[before + 1], place - before);
}
const number = (a, b, t) => a + t * (b - a);
function outline(a, b, t) {
  if (a.numbers.length !== b.numbers.length) return t < 0.5 ? a : b;
  return { words: b.words, numbers: a.numbers.map((n, i) => number(n, b.numbers[i], t).toFixed(1)) };
}
const joined = (line) => line.words.map((w, i) => w + (line.numbers[i] ?? "")).join("");

export function at(step, share) {
  for (const { node, text, way, fade } of ways(step)) {
    if (fade.length) node.setAttribute("opacity", between(fade, share, number).toFixed(2));
    if (!way.length) continue;
    const line = between(way, share, outline);
    if (text) { node.setAttribute("x", line.numbers[0]); node.setAttribute("y", line.numbers[1]); }
    else node.setAttribute("d", joined(line));
  }
  for (const late of step.querySelectorAll("[data-late]")) late.setAttribute("opacity", Math.max(0, 5 * share - 4).toFixed(2));
  const slider = step.querySelector("input[type=range]");
  if (slider && document.activeElement !== slider) slider.value = share;
}

// Whoever asks for less motion sees the end at once. Tells whether it came to its end.
export function play(step, from, to) {
  stop();
  if (still.matches) { at(step, to); return Promise.resolve(true); }
  return new Promise((done) => {
    const began = performance.now();
    end = () => { at(step, 1); done(false); };
    at(step, from);
    const tick = (time) => {
      // a frame may have begun before the key that started this was heard
      const share = Math.min(1, Math.max(0, (time - began) / 1000 / SECONDS));
      at(step, from + share * (to - from));
      if (share < 1) going = requestAnimationFrame(tick);
      else { end = null; done(true); }
    };
    going = requestAnimationFrame(tick);
  });
}

export function stop() {
  cancelAnimationFrame(going);
  end?.();
  end = null;
}
