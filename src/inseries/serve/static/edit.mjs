// The case as fields: written half a second after the last keystroke, refused at the field, never lost.
import { ask, send, sentence } from "./wire.mjs";

const PAUSE_MS = 500;

export function startEditing(name, changed) {
  const place = document.querySelector("#editor");
  const base = `/case/${encodeURIComponent(name)}`;
  const timers = new Map();
  let line = Promise.resolve();

  function who() { return localStorage.deskWho ?? ""; }
  function say(words) { const p = place.querySelector(".saved"); if (p) p.textContent = words; }

  function whoField() {
    const field = place.querySelector("#who");
    if (field) field.value = who();
  }

  // The new piece of page, with what is being typed elsewhere kept, and the focus where it was.
  function redraw(told) {
    const open = new Set([...place.querySelectorAll("details[open]")].map((d) => d.dataset.keep));
    const at = document.activeElement?.id;
    const half = [...place.querySelectorAll(".field")].filter(dirty).map((f) => [id(f), input(f).value, refusal(f).textContent]);
    const adding = [...place.querySelectorAll("#add-entry [name]")].map((i) => i.value);
    place.innerHTML = told.html;
    for (const d of place.querySelectorAll("details")) d.open = open.has(d.dataset.keep);
    for (const [where, value, why] of half) {
      const field = [...place.querySelectorAll(".field")].find((f) => id(f) === where);
      if (!field || field.dataset.saw === value) continue;
      input(field).value = value;
      if (why) complain(field, why);
    }
    [...place.querySelectorAll("#add-entry [name]")].forEach((i, n) => { i.value = adding[n] ?? i.value; });
    whoField();
    if (at) document.getElementById(at)?.focus();
  }

  const input = (field) => field.querySelector("input, select");
  const refusal = (field) => field.querySelector(".refusal");
  const id = (field) => `${field.dataset.table}/${field.dataset.index}/${field.dataset.key}`;
  const dirty = (field) => input(field).value !== field.dataset.saw;

  function complain(field, words) {
    const p = refusal(field);
    p.textContent = words;
    p.hidden = !words;
    const control = field.querySelector("input, select");
    if (words) control?.setAttribute("aria-invalid", "true"); else control?.removeAttribute("aria-invalid");
  }

  function soon(field) {
    clearTimeout(timers.get(id(field)));
    timers.set(id(field), setTimeout(() => queue(() => write(field)), PAUSE_MS));
  }

  // One change at a time, in the order in which they were made.
  function queue(work) { line = line.then(work, work); return line; }

  async function write(field, saw = field.dataset.saw) {
    clearTimeout(timers.get(id(field)));
    const value = input(field).value;
    if (value === field.dataset.saw && saw === field.dataset.saw) { complain(field, ""); return; }
    const { table, index, key, anchor } = field.dataset;
    const change = { table, index: Number(index), key, anchor, value, saw, who: who() };
    await post(`${base}/set`, change, field, () => input(field).value === value);
  }

  async function post(address, change, field, still = () => true) {
    let reply;
    try { reply = await send(address, change); } catch {
      say("not written: the desk does not answer; what you typed stays here");
      setTimeout(() => queue(() => post(address, change, field, still)), 1500);
      return;
    }
    const { status, told } = reply;
    if (status === 200) {
      if (still()) { complain(field, ""); if (field.dataset.key) field.dataset.saw = change.value; redraw(told); }
      else if (field.dataset.key) field.dataset.saw = change.value;
      say("written");
      changed();
    } else if (status === 409) {
      decide(told.clash, field);
    } else {
      complain(field, sentence(told.refused));
      say("not written; what you typed stays in its field");
    }
  }

  // The merge question: nothing is lost, a person decides.
  function decide(clash, field) {
    const dialog = document.querySelector("#clash");
    dialog.querySelector("#theirs").textContent = clash.theirs || "nothing";
    dialog.querySelector("#yours").textContent = clash.yours || "nothing";
    dialog.querySelector("#keep-theirs").onclick = () => { dialog.close(); input(field).value = clash.theirs; field.dataset.saw = clash.theirs; queue(refresh); };
    dialog.querySelector("#keep-yours").onclick = () => { dialog.close(); field.dataset.saw = clash.theirs; queue(() => write(field)); };
    dialog.showModal();
  }

  async function refresh() {
    const { status, told } = await ask(`${base}/draft`);
    if (status === 200) redraw(told);
    changed();
  }

  place.addEventListener("input", (event) => {
    const field = event.target.closest(".field");
    if (field) soon(field);
    if (event.target.id === "who") localStorage.deskWho = event.target.value;
  });
  place.addEventListener("change", (event) => {
    const field = event.target.closest(".field");
    if (field) queue(() => write(field));
    const more = event.target.closest(".more");
    if (more && event.target.classList.contains("value") && event.target.value) {
      const key = more.querySelector(".key").value;
      if (!key) return;
      const { table, index, anchor } = more.dataset;
      queue(() => post(`${base}/set`, { table, index: Number(index), key, anchor, value: event.target.value, saw: "", who: who() }, more));
    }
  });
  place.addEventListener("submit", (event) => {
    event.preventDefault();
    const given = Object.fromEntries(new FormData(event.target));
    const kind = given.what.startsWith("event:") ? given.what.slice(6) : "";
    const change = { table: kind ? "events" : "readings", age_h: given.age_h, kind, key: kind ? "" : given.what, value: given.value, who: who() };
    queue(() => post(`${base}/add`, change, event.target));
  });
  place.addEventListener("click", (event) => {
    const what = event.target.dataset?.do;
    if (what === "undo" || what === "redo") queue(() => post(`${base}/${what}`, { who: who() }, bar()));
    const more = event.target.closest(".more");
    if (what === "drop" && more) {
      const { table, index, anchor } = more.dataset;
      queue(() => post(`${base}/drop`, { table, index: Number(index), anchor, who: who() }, more));
    }
  });
  // Undo and redo refuse beside their buttons.
  function bar() {
    const row = place.querySelector("[data-do=undo]").parentElement;
    if (!row.querySelector(".refusal")) row.insertAdjacentHTML("beforeend", '<span class="refusal" role="alert" hidden></span>');
    return row;
  }
  addEventListener("keydown", (event) => {
    if (!(event.ctrlKey || event.metaKey) || event.key.toLowerCase() !== "z") return;
    if (document.activeElement?.closest(".field")) return;
    event.preventDefault();
    queue(() => post(`${base}/${event.shiftKey ? "redo" : "undo"}`, { who: who() }, bar()));
  });
  addEventListener("pagehide", () => {
    for (const field of place.querySelectorAll(".field")) if (dirty(field) && refusal(field).hidden) write(field);
  });
  whoField();
}
