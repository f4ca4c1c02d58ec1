// The story: arrow keys walk it; pictures not yet computed are asked for, one after the other.
import { ask, client } from "./wire.mjs";

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
  history.replaceState(null, "", `#${here + 1}`);
}
function on() {
  if (!told) told = true;
  else if (here < steps.length - 1) { here++; told = !asking; }
  draw();
}
function back() {
  if (here > 0) here--;
  told = true;
  draw();
}
function press(button, value) { document.querySelector(button).setAttribute("aria-pressed", String(value)); }
function ask_first() { asking = !asking; told = !asking; press("#ask", asking); draw(); }
function notes() { noting = !noting; press("#notes", noting); draw(); }
function whole() { if (document.fullscreenElement) document.exitFullscreen(); else document.documentElement.requestFullscreen?.(); }

addEventListener("keydown", (event) => {
  if (event.target.closest("button, a") && (event.key === " " || event.key === "Enter")) return;
  const does = { ArrowRight: on, PageDown: on, " ": on, ArrowLeft: back, PageUp: back, n: notes, q: ask_first, f: whole }[event.key];
  if (does) { event.preventDefault(); does(); }
});
document.querySelector("#on").addEventListener("click", on);
document.querySelector("#back").addEventListener("click", back);
document.querySelector("#ask").addEventListener("click", ask_first);
document.querySelector("#notes").addEventListener("click", notes);
document.querySelector("#whole").addEventListener("click", whole);

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
    for (const p of story.querySelectorAll(`[data-waits=${verb}]`)) p.textContent = reply.told.refused?.what ?? "not computed";
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
