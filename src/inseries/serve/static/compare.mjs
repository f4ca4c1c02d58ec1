// Two states of one page: the pinned one, asked again of the desk, and the present one.
import { ask, client } from "./wire.mjs";

export const AS_IS = "as-is";
const part = document.querySelector("#part");
const pinned = document.querySelector("#pinned");
const swiped = document.querySelector("#swipe");
let asked = null;
let html = "";
let share = 50;

// Ask for what is pinned until it is there; `words` says which options these are.
export async function pin(base, told, words, then) {
  pinned.hidden = !told;
  document.querySelector("#pin").hidden = Boolean(told);
  if (!told) { asked = null; html = ""; then(); return; }
  if (asked === told) { if (html) then(); return; }
  asked = told;
  html = "";
  const line = pinned.querySelector(".pinned-words");
  line.textContent = `Pinned: ${words}; being asked again …`;
  const question = new URLSearchParams(told === AS_IS ? "" : told);
  question.set("look", "full");
  question.set("client", `${client}-pin`);
  while (asked === told) {
    const reply = await ask(`${base}/part?${question}`).catch(() => null);
    if (asked !== told) return;
    if (reply?.told.stand === "done") { html = reply.told.html; line.textContent = `Pinned: ${words}`; then(); return; }
    if (reply && (reply.status !== 200 || reply.told.stand === "failed")) {
      const why = reply.told.refused;
      line.textContent = `Pinned: ${words}; it cannot be shown: ${why?.what ?? "refused"}. ${why?.remedy ?? ""}`;
      return;
    }
    if (!reply) await new Promise((go) => setTimeout(go, 1000));
  }
}

// Take the pairs apart, so that the answer is as it came.
export function apart() {
  for (const pair of part.querySelectorAll(".pair")) pair.replaceWith(pair.querySelector("figure:not(.pinned-picture)"));
  for (const each of part.querySelectorAll(".differs, .state")) each.remove();
}

// Lay the pinned picture beside the present one, or over it with a bar.
export function together(words) {
  apart();
  if (!html) return;
  const made = document.createElement("template");
  made.innerHTML = html;
  const was = [...made.content.querySelectorAll(".answer > figure")];
  [...part.querySelectorAll(".answer > figure")].forEach((figure, n) => { if (was[n]) pairUp(figure, was[n], n, words); });
  differences(made.content);
}

function pairUp(figure, kept, n, words) {
  renamed(kept, `pin${n}`);
  kept.className = "pinned-picture";
  kept.querySelector("details")?.remove();
  for (const [place, told] of [[kept, `Pinned: ${words.pinned}`], [figure, `Now: ${words.now}`]]) {
    const line = document.createElement("p");
    line.className = "state";
    line.textContent = told;
    place.prepend(line);
  }
  const pair = document.createElement("div");
  pair.className = swiped.checked ? "pair over" : "pair";
  figure.replaceWith(pair);
  pair.append(kept, figure);
  if (swiped.checked) bar(pair, n);
}

function bar(pair, n) {
  const slider = document.createElement("label");
  slider.className = "swipe-bar";
  slider.innerHTML = `<span>pinned on the left, present on the right</span><input type="range" id="swipe-${n}" min="0" max="100" step="1">`;
  const input = slider.querySelector("input");
  input.value = share;
  const set = () => {
    share = Number(input.value);
    pair.style.setProperty("--share", `${share}%`);
    input.setAttribute("aria-valuetext", `${share} % of the width shows the pinned picture`);
  };
  input.addEventListener("input", set);
  pair.prepend(slider);
  const edge = document.createElement("span");
  edge.className = "swipe-edge";
  pair.append(edge);
  edge.addEventListener("pointerdown", (event) => { event.preventDefault(); edge.setPointerCapture(event.pointerId); });
  edge.addEventListener("pointermove", (event) => {
    if (!edge.hasPointerCapture(event.pointerId)) return;
    const box = pair.querySelector("figure:not(.pinned-picture) .picture").getBoundingClientRect();
    input.value = (100 * (event.clientX - box.left)) / box.width;
    set();
  });
  set();
}

// A picture may stand twice on a page only with ids of its own.
function renamed(place, prefix) {
  const own = new Set([...place.querySelectorAll("[id]")].map((node) => node.id));
  const anew = (id) => (own.has(id) ? `${prefix}-${id}` : id);
  for (const node of place.querySelectorAll("*")) {
    for (const { name, value } of [...node.attributes]) {
      if (name === "id") node.id = anew(value);
      else if (name === "aria-labelledby") node.setAttribute(name, value.split(" ").map(anew).join(" "));
      else if (value.includes("#")) node.setAttribute(name, value.replace(/(url\(#|^#)([\w-]+)/, (_, start, id) => `${start}${anew(id)}`));
    }
  }
}

// Rows of the tables that are not the same in both, beside one another.
function differences(kept) {
  const rows = [];
  for (const details of part.querySelectorAll(".tables > details")) {
    const title = details.querySelector("summary").textContent;
    const other = [...kept.querySelectorAll(".tables > details")].find((d) => d.querySelector("summary").textContent === title);
    if (!other) continue;
    const heads = [...details.querySelectorAll("thead th")].map((th) => th.textContent);
    const theirs = new Map([...other.querySelectorAll("tbody tr")].map((tr) => [tr.cells[0].textContent, tr]));
    for (const tr of details.querySelectorAll("tbody tr")) {
      const was = theirs.get(tr.cells[0].textContent);
      if (!was || was.cells.length !== tr.cells.length) continue;
      [...tr.cells].forEach((cell, n) => {
        if (n && cell.textContent !== was.cells[n].textContent) rows.push([`${tr.cells[0].textContent}${heads.length > 2 ? `: ${heads[n]}` : ""}`, was.cells[n].textContent, cell.textContent]);
      });
    }
  }
  if (!rows.length) return;
  const told = document.createElement("details");
  told.className = "differs";
  told.open = true;
  told.innerHTML = `<summary>What differs</summary><div class="wide" tabindex="0" role="region" aria-label="What differs"><table><thead><tr><th scope="col">what</th><th scope="col">pinned</th><th scope="col">now</th></tr></thead><tbody></tbody></table></div>`;
  for (const row of rows.slice(0, 16)) {
    const tr = told.querySelector("tbody").insertRow();
    row.forEach((words, n) => { const cell = document.createElement(n ? "td" : "th"); cell.textContent = words; tr.append(cell); });
  }
  part.querySelector(".answer .findings")?.before(told);
}
