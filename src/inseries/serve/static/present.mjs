// The story: arrow keys walk it; pictures not yet computed are asked for, one after the other.
import { ask, client, sentence } from "./wire.mjs";
import { at, play, stop } from "./moving.mjs";

const story = document.querySelector("#story");
let steps = [...story.querySelectorAll(".step")];
let here = Math.min(Math.max(Number(location.hash.slice(1)) - 1 || 0, 0), steps.length - 1);
let asking = false, noting = false, told = true;

function draw() {
  steps.forEach((step, n) => {
    step.hidden = n !== here;
    step.querySelector(".asks").hidden = told;
    step.querySelector(".told").hidden = !told;
    step.querySelector(".notes").hidden = !noting;
  });
  document.querySelector("#count").textContent = `${here + 1} / ${steps.length}`;
  document.querySelector("#again").disabled = !moves(steps[here]) || !told;
  history.replaceState(null, "", `#${here + 1}`);
}
const moves = (step) => step.hasAttribute("data-moves") && step.querySelector("svg") !== null;
function show() { draw(); if (told && moves(steps[here])) play(steps[here], 0, 1); }
function on() {
  stop();
  if (!told) { told = true; show(); }
  else if (here < steps.length - 1) { here++; told = !asking; show(); }
}
async function back() {
  stop();
  if (here > 0) {
    const from = here;
    if (told && moves(steps[here]) && !await play(steps[here], 1, 0)) return;
    if (moves(steps[from])) at(steps[from], 1);
    here = from - 1;
  }
  told = true;
  draw();
}
function again() { if (told && moves(steps[here])) play(steps[here], 0, 1); }
function press(button, value) { document.querySelector(button).setAttribute("aria-pressed", String(value)); }
function ask_first() { stop(); asking = !asking; told = !asking; press("#ask", asking); draw(); }
function notes() { noting = !noting; press("#notes", noting); draw(); }
function whole() { if (document.fullscreenElement) document.exitFullscreen(); else document.documentElement.requestFullscreen?.(); }

addEventListener("keydown", (event) => {
  if (event.target.closest("input") || event.ctrlKey || event.metaKey || event.altKey) return;
  if (event.target.closest("button, a") && (event.key === " " || event.key === "Enter")) return;
  const does = { ArrowRight: on, PageDown: on, " ": on, ArrowLeft: back, PageUp: back, n: notes, q: ask_first, f: whole, r: again }[event.key];
  if (does) { event.preventDefault(); does(); }
});
const does = { on, back, again, ask: ask_first, notes, whole };
for (const [name, action] of Object.entries(does)) document.querySelector(`#${name}`).addEventListener("click", action);

// A hand on the slider leads the pieces; what is let go by the pointer gives the keys back.
story.addEventListener("input", (event) => { stop(); at(event.target.closest(".step"), Number(event.target.value)); });
story.addEventListener("pointerup", (event) => event.target.closest("input")?.blur());

const pointer = document.querySelector("#pointer");
story.addEventListener("pointermove", (event) => { pointer.hidden = false; pointer.style.left = `${event.clientX}px`; pointer.style.top = `${event.clientY}px`; });
story.addEventListener("pointerleave", () => { pointer.hidden = true; });

draw();
const waits = [...new Set([...story.querySelectorAll("[data-waits]")].map((p) => p.dataset.waits))];
for (const verb of waits) {
  const place = `/case/${encodeURIComponent(story.dataset.case)}/${verb}/part?client=${client}-${verb}`;
  let reply;
  do reply = await ask(place); while (reply.status === 200 && ["queued", "running"].includes(reply.told.stand));
  if (reply.status !== 200 || reply.told.stand !== "done") {
    const said = reply.told.refused;
    const words = said ? `Not computed: ${sentence(said)}` : "not computed";
    for (const p of story.querySelectorAll(`[data-waits=${verb}]`)) p.textContent = words;
  } else await renew();
}

// What has been computed takes its place while the story is told; the screen stays full.
async function renew() {
  const page = new DOMParser().parseFromString(await (await fetch(location.pathname)).text(), "text/html");
  for (const fresh of page.querySelectorAll(".step")) {
    const old = steps.find((step) => step.ariaLabel === fresh.ariaLabel);
    if (old?.querySelector("[data-waits]") && !fresh.querySelector("[data-waits]")) old.replaceWith(fresh);
  }
  steps = [...story.querySelectorAll(".step")];
  draw();
}
