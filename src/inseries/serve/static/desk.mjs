// One page: ask, show what comes, follow a finger; the address holds the state.
import { ask, client, send, sentence } from "./wire.mjs";
import { startEditing } from "./edit.mjs";
import { flag, follow as keepUp, lay } from "./grips.mjs";
import { AS_IS, apart, pin, together } from "./compare.mjs";
import { moveTo, remembered } from "./numbers.mjs";
import { notes, offer, startNotes } from "./notes.mjs";

const desk = document.querySelector(".desk");
const part = document.querySelector("#part");
const progress = document.querySelector("#progress");
const base = `/case/${encodeURIComponent(desk.dataset.case)}/${desk.dataset.verb}`;
const handles = [...document.querySelectorAll(".handle")];
const choice = document.querySelector("#pair");
// A day that is only looked at: where no option of the verb is a day, a picture tells it by itself.
const LOOKED_AT = { name: "day", word: "day looked at", unit: "d", low: 0, high: 14610, step: 1, drawn: "age" };
// What the address holds beside the options of the verb, and what of it the desk must be asked.
const SAID = ["pair", "rank_by"];
let turn = 0;
let line = new AbortController();
let answered = null;
// What is shown goes grey only when it is old for longer than a finger waits: greying is painting.
const GREY_MS = 400;
let greying = 0;

const grips = handles.map((h) => {
  const slider = h.querySelector("[type=range]");
  const { name, word, unit, drawn, mark } = h.dataset;
  return { name, word, unit, drawn, mark, low: Number(slider.min), high: Number(slider.max), step: Number(slider.step) };
});
const looked = () => (part.querySelector("g[data-told]") && !grips.some((g) => g.drawn === "age") ? [LOOKED_AT] : []);

// While a finger moves, what it asks is not in the address yet: back shall lead to before the move.
let moved = null;
function state() { return new URLSearchParams(moved ?? location.search); }
// What the desk is asked, and nothing that is only of this page.
function question() {
  const all = state();
  const names = [...handles.map((h) => h.dataset.name), ...SAID];
  return new URLSearchParams(names.filter((n) => all.get(n)).map((n) => [n, all.get(n)]));
}
function words(asked) {
  const told = handles.map((h) => [h.dataset, asked.get(h.dataset.name)]).filter(([, v]) => v);
  return told.map(([h, v]) => `${h.word} ${v}${h.unit ? ` ${h.unit}` : ""}`).join(", ") || "as it is";
}

// Follow one look until it is over; a later turn leaves it.
async function follow(look, mine) {
  const asked = question();
  asked.set("look", look);
  asked.set("client", client);
  for (;;) {
    let reply;
    try { reply = await ask(`${base}/part?${asked}`, line.signal); } catch {
      if (mine !== turn) return false;
      tell("the desk does not answer; trying again", null);
      await new Promise((go) => setTimeout(go, 1000));
      continue;
    }
    if (mine !== turn) return false;
    const told = reply.told;
    if (reply.status !== 200 || told.stand === "failed") { refuse(told); return false; }
    if (told.stand === "done") { show(told); return true; }
    if (told.stand === "stopped") { stopped(); return false; }
    tell(told.look === "first" ? "a first look" : told.stage, told.look === "first" ? null : told.share);
  }
}

async function answer(looks) {
  const mine = ++turn;
  line.abort();
  line = new AbortController();
  answered = `${question()}`;
  part.setAttribute("aria-busy", "true");
  clearTimeout(greying);
  greying = setTimeout(() => part.classList.add("stale"), GREY_MS);
  for (const look of looks) if (!(await follow(look, mine)) && look === looks.at(-1)) return;
  if (mine !== turn || looks.at(-1) !== "full") return;
  progress.hidden = true;
  part.setAttribute("aria-busy", "false");
  say();
}

function tell(stage, share) {
  progress.hidden = false;
  progress.querySelector("#stage").textContent = `${stage} …`;
  const bar = progress.querySelector("#share");
  bar.hidden = false;
  progress.querySelector("#cancel").hidden = false;
  if (share === null) bar.removeAttribute("value"); else bar.value = share;
}
function stopped() {
  tell("stopped; the last answer stays, greyed", null);
  for (const each of ["#share", "#cancel"]) progress.querySelector(each).hidden = true;
  part.setAttribute("aria-busy", "false");
}

// Heard once, when the numbers have come to rest.
function say() {
  const first = [...part.querySelectorAll(".findings > p:not(.aid, .run)")].slice(0, 2).map((p) => p.textContent);
  document.querySelector("#said").textContent = `${words(state())}: ${first.join(" ")}`;
}

function show(told) {
  const open = new Map([...part.querySelectorAll("details > summary")].map((s) => [s.textContent, s.parentElement.open]));
  // under a moving finger the next numbers are already on their way
  const before = moved === null ? remembered(part) : new Map();
  apart();
  exchange(part, told.html);
  clearTimeout(greying);
  part.classList.remove("stale");
  for (const s of part.querySelectorAll("details > summary")) s.parentElement.open = open.get(s.textContent) ?? s.parentElement.open;
  part.dataset.look = told.look;
  dress();
  moveTo(part, before);
}
// Only what is another: what stays the same is not laid out and painted again under a finger.
function exchange(place, html) {
  const made = document.createElement("template");
  made.innerHTML = html;
  const [was, now] = [place.querySelector(":scope > .answer"), made.content.querySelector(".answer")];
  if (!was || !now || was.children.length !== now.children.length) { place.replaceChildren(made.content); return; }
  for (const each of [...place.children]) if (each !== was) each.remove();
  was.dataset.level = now.dataset.level;
  const fresh = [...now.children];
  [...was.children].forEach((each, n) => renew(each, fresh[n]));
}
// Down to the words that are others; a picture is a new one as a whole.
function renew(was, now) {
  if (was.nodeType === Node.TEXT_NODE && now.nodeType === Node.TEXT_NODE) { if (was.data !== now.data) was.data = now.data; return; }
  const [old, fresh] = [[...was.childNodes], [...now.childNodes]];
  const told = [...(now.attributes ?? [])].some((a) => a.name !== "open" && was.getAttribute?.(a.name) !== a.value);
  if (told || was.nodeName !== now.nodeName || was.localName === "svg" || old.length !== fresh.length || !old.length) {
    if (!was.isEqualNode(now)) was.replaceWith(now);
    return;
  }
  old.forEach((each, n) => renew(each, fresh[n]));
}

// What a finger may take hold of, the pinned picture, and flags, laid over what is shown.
function dress() {
  together({ pinned: pinWords(), now: words(state()) });
  place();
}
function place() {
  const asked = state();
  lay([...grips, ...looked()], (name) => asked.get(name), move);
  flag(notes());
}

// What fails shows its reason above the last good picture, greyed.
function refuse(told) {
  progress.hidden = true;
  part.setAttribute("aria-busy", "false");
  part.querySelector(".refused")?.remove();
  if (told.html) { part.insertAdjacentHTML("afterbegin", told.html); return; }
  const why = told.refused ?? { what: "the desk answered in a way that this page does not know", where: "", value: "", remedy: "" };
  const p = document.createElement("p");
  p.className = "refused first-line";
  p.setAttribute("role", "alert");
  p.textContent = sentence(why);
  part.prepend(p);
}

const looks = () => desk.dataset.looks.split(" ");
document.querySelector("#cancel").addEventListener("click", () => {
  turn++;
  stopped();
  send(`${base}/cancel`, Object.fromEntries(question()));
});

// Every change of the state goes this way: a slider, a field, a handle in a picture, a choice.
function move(name, value, final) {
  const asked = state();
  if (value === "" || value === null) asked.delete(name); else asked.set(name, value);
  moved = final ? null : `${asked}`;
  if (final && `?${asked}` !== location.search) history.pushState(null, "", `${location.pathname}${asked.size ? `?${asked}` : ""}`);
  fields();
  links();
  if (name === LOOKED_AT.name) { place(); return; }
  if (final) { next = false; answer(looks()); } else if (looks().length > 1) drag();
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
  slider.addEventListener("input", () => { move(handle.dataset.name, slider.value, false); place(); });
  slider.addEventListener("change", () => move(handle.dataset.name, slider.value, true));
  typed.addEventListener("change", () => move(handle.dataset.name, typed.value.trim(), true));
}
document.querySelector("#handles")?.addEventListener("submit", (event) => event.preventDefault());
document.querySelector("#as-is")?.addEventListener("click", () => {
  const asked = state();
  for (const handle of handles) asked.delete(handle.dataset.name);
  go(asked);
});
function go(asked) {
  history.pushState(null, "", `${location.pathname}${asked.size ? `?${asked}` : ""}`);
  settle();
}

// Fields and sliders say what the state says.
function fields() {
  const asked = state();
  for (const handle of handles) {
    const value = asked.get(handle.dataset.name) ?? "";
    const [slider, typed] = [handle.querySelector("[type=range]"), handle.querySelector("[type=text]")];
    if (typed.value !== value) typed.value = value;
    slider.classList.toggle("unset", !value);
    if (value) slider.value = value.replace(",", ".");
  }
  offer(asked.get(LOOKED_AT.name) ?? grips.filter((g) => g.drawn === "age").map((g) => asked.get(g.name)).find(Boolean));
  if (!choice) return;
  const [first = "", second = ""] = (asked.get("pair") ?? "").split(",");
  Object.assign(choice.elements.first, { value: first });
  Object.assign(choice.elements.second, { value: second });
  Object.assign(choice.elements.rank_by, { value: asked.get("rank_by") ?? "" });
}

function settle() {
  moved = null;
  fields();
  links();
  document.querySelector("#swipe").checked = state().get("over") === "1";
  pinning();
  if (`${question()}` === answered) dress(); else answer(looks());
}
function links() {
  const asked = question();
  document.querySelector("#paper").href = `${base}/page.pdf?${asked}`;
  document.querySelector("#json").href = `${base}/answer.json?${asked}`;
}
addEventListener("popstate", settle);

// Pin: these options stay in the address, and their picture beside what comes next.
function pinWords() {
  const told = state().get("pin") ?? "";
  return words(new URLSearchParams(told === AS_IS ? "" : told));
}
function pinning() { pin(base, state().get("pin"), pinWords(), dress); }
document.querySelector("#pin").addEventListener("click", () => {
  const asked = state();
  asked.set("pin", `${question()}` || AS_IS);
  go(asked);
});
document.querySelector("#unpin").addEventListener("click", () => {
  const asked = state();
  for (const each of ["pin", "over"]) asked.delete(each);
  go(asked);
  document.querySelector("#pin").focus();
});
document.querySelector("#swipe").addEventListener("change", (event) => {
  const asked = state();
  if (event.target.checked) asked.set("over", "1"); else asked.delete("over");
  go(asked);
});

// Two routes beside one another, in an order that is asked for; nothing is computed anew.
choice?.addEventListener("change", () => {
  const { first, second, rank_by: by } = choice.elements;
  const asked = state();
  const both = first.value && second.value && first.value !== second.value;
  if (both) asked.set("pair", `${first.value},${second.value}`); else asked.delete("pair");
  if (by.value) asked.set("rank_by", by.value); else asked.delete("rank_by");
  if (first.value && !second.value) { second.focus(); return; }
  history.pushState(null, "", `${location.pathname}${asked.size ? `?${asked}` : ""}`);
  links();
  answer(["full"]);
});
choice?.addEventListener("submit", (event) => event.preventDefault());

new ResizeObserver(keepUp).observe(part);
part.addEventListener("scroll", keepUp, true);
part.addEventListener("toggle", keepUp, true);
startEditing(desk.dataset.case, () => answer(looks()));
startNotes(`/case/${encodeURIComponent(desk.dataset.case)}`, desk.dataset.verb, place);
fields();
links();
document.querySelector("#swipe").checked = state().get("over") === "1";
answered = `${question()}`;
if (desk.dataset.ready !== "1") answer(looks());
dress();
pinning();
