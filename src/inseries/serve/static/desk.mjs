// One page: ask, show what comes, follow a finger; the address holds the state.
import { ask, client, send } from "./wire.mjs";
import { startEditing } from "./edit.mjs";

const desk = document.querySelector(".desk");
const part = document.querySelector("#part");
const progress = document.querySelector("#progress");
const base = `/case/${encodeURIComponent(desk.dataset.case)}/${desk.dataset.verb}`;
const handles = [...document.querySelectorAll(".handle")];
let turn = 0;

// While a finger moves, what it asks is not in the address yet: back shall lead to before the move.
let moved = null;
function state() { return new URLSearchParams(moved ?? location.search); }

// Follow one look until it is over; a later turn leaves it.
async function follow(look, mine) {
  const asked = state();
  asked.set("look", look);
  asked.set("client", client);
  for (;;) {
    let reply;
    try { reply = await ask(`${base}/part?${asked}`); } catch {
      if (mine !== turn) return false;
      tell("the desk does not answer; trying again", null);
      await new Promise((go) => setTimeout(go, 1000));
      continue;
    }
    if (mine !== turn) return false;
    const told = reply.told;
    if (reply.status !== 200) { refuse(told); return false; }
    if (told.stand === "done") { show(told); return true; }
    if (told.stand === "failed") { refuse(told); return false; }
    if (told.stand === "stopped") { tell("stopped; the last answer stays, greyed", null); return false; }
    tell(told.look === "first" ? "a first look" : told.stage, told.look === "first" ? null : told.share);
  }
}

async function answer(looks) {
  const mine = ++turn;
  part.setAttribute("aria-busy", "true");
  part.classList.add("stale");
  for (const look of looks) if (!(await follow(look, mine)) && look === looks.at(-1)) return;
  if (mine === turn && looks.at(-1) === "full") { progress.hidden = true; part.setAttribute("aria-busy", "false"); }
}

function tell(stage, share) {
  progress.hidden = false;
  progress.querySelector("#stage").textContent = `${stage} …`;
  const bar = progress.querySelector("#share");
  if (share === null) bar.removeAttribute("value"); else bar.value = share;
}

function show(told) {
  const open = new Map([...part.querySelectorAll("details > summary")].map((s) => [s.textContent, s.parentElement.open]));
  part.innerHTML = told.html;
  part.classList.remove("stale");
  for (const s of part.querySelectorAll("details > summary")) s.parentElement.open = open.get(s.textContent) ?? s.parentElement.open;
  part.dataset.look = told.look;
}

// What fails shows its reason above the last good picture, greyed.
function refuse(told) {
  progress.hidden = true;
  part.querySelector(".refused")?.remove();
  const told_html = told.html ?? "";
  if (told_html) part.insertAdjacentHTML("afterbegin", told_html);
  else if (told.refused) {
    const p = document.createElement("p");
    p.className = "refused first-line";
    p.setAttribute("role", "alert");
    p.textContent = `${told.refused.where ? told.refused.where + ": " : ""}${told.refused.what}. ${told.refused.remedy ? "Try: " + told.refused.remedy : ""}`;
    part.prepend(p);
  }
}

const looks = () => (desk.dataset.coarse === "1" ? ["first", "full"] : ["full"]);
document.querySelector("#cancel").addEventListener("click", () => {
  turn++;
  tell("stopped; the last answer stays, greyed", null);
  send(`${base}/cancel`, Object.fromEntries(state()));
});

// Handles: a slider and a field each; while dragging only the first look is asked, latest wins.
function move(name, value, final) {
  const asked = state();
  if (value === "") asked.delete(name); else asked.set(name, value);
  moved = final ? null : `${asked}`;
  if (final && `?${asked}` !== location.search) history.pushState(null, "", `${location.pathname}${asked.size ? `?${asked}` : ""}`);
  links();
  if (final) { next = false; answer(looks()); } else drag();
}
// One look in flight and one queued: every move in between is skipped, the last never.
let flying = false;
let next = false;
async function drag() {
  if (flying) { next = true; return; }
  flying = true;
  do { next = false; await answer(["first"]); } while (next);
  flying = false;
}
for (const handle of handles) {
  const slider = handle.querySelector("[type=range]");
  const typed = handle.querySelector("[type=text]");
  slider.addEventListener("input", () => { typed.value = slider.value; slider.classList.remove("unset"); if (desk.dataset.coarse === "1") move(handle.dataset.name, slider.value, false); });
  slider.addEventListener("change", () => move(handle.dataset.name, slider.value, true));
  typed.addEventListener("change", () => { if (typed.value) slider.value = typed.value.replace(",", "."); slider.classList.toggle("unset", !typed.value); move(handle.dataset.name, typed.value.trim(), true); });
}
document.querySelector("#handles")?.addEventListener("submit", (event) => event.preventDefault());
document.querySelector("#as-is")?.addEventListener("click", () => { history.pushState(null, "", location.pathname); settle(); });

function settle() {
  moved = null;
  const asked = state();
  for (const handle of handles) {
    const value = asked.get(handle.dataset.name) ?? "";
    handle.querySelector("[type=text]").value = value;
    handle.querySelector("[type=range]").classList.toggle("unset", !value);
    if (value) handle.querySelector("[type=range]").value = value;
  }
  links();
  answer(looks());
}
function links() {
  document.querySelector("#paper").href = `${base}/page.pdf${location.search}`;
  document.querySelector("#json").href = `${base}/answer.json${location.search}`;
}
addEventListener("popstate", settle);

// Pin: the picture as it is now stays beside the next one.
document.querySelector("#pin").addEventListener("click", () => {
  const place = document.querySelector("#pinned");
  const picture = part.querySelector("figure");
  if (!picture) return;
  const kept = picture.cloneNode(true);
  const seed = `p${Date.now()}`;
  kept.innerHTML = kept.innerHTML.replace(/(id="|#)(?=[\w-]+)/g, `$1${seed}-`).replace(/#p\d+-([0-9a-f]{6})"/g, '#$1"');
  const said = document.createElement("p");
  said.textContent = `Pinned: ${[...state()].map(([k, v]) => `${k.replaceAll("_", " ")} ${v}`).join(", ") || "as it is"}`;
  place.replaceChildren(said, kept);
  place.hidden = false;
});

startEditing(desk.dataset.case, () => answer(looks()));
links();
if (desk.dataset.ready !== "1") answer(looks());
