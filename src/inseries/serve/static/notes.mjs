// Notes tied to this page: written, shown, taken away.
import { send, sentence } from "./wire.mjs";

const place = document.querySelector("#notes");

export const notes = () => [...place.querySelectorAll("li[data-day]")].map((li) => ({
  day: Number(li.dataset.day), text: li.querySelector("p").textContent, number: li.dataset.number,
}));

// A day that is marked is offered for the next note.
export function offer(day) {
  const field = place.querySelector("[name=day]");
  if (document.activeElement !== field) field.value = day ?? "";
}

export function startNotes(base, page, changed) {
  const form = place.querySelector("form");
  const refusal = form.querySelector(".refusal");
  const list = place.querySelector("ul");
  const who = () => localStorage.deskWho ?? "";

  async function post(address, content, then) {
    const reply = await send(address, { page, who: who(), ...content }).catch(() => null);
    const refused = reply ? reply.told.refused : { what: "the desk does not answer; what you typed stays here", where: "" };
    refusal.textContent = reply?.status === 200 ? "" : sentence(refused);
    refusal.hidden = !refusal.textContent;
    if (reply?.status !== 200) return;
    list.innerHTML = reply.told.html;
    then();
    changed();
  }

  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const given = Object.fromEntries(new FormData(form));
    post(`${base}/note`, given, () => { form.elements.text.value = ""; form.elements.text.focus(); });
  });
  list.addEventListener("click", (event) => {
    const number = event.target.dataset?.away;
    if (number) post(`${base}/no-note`, { number: Number(number) }, () => form.elements.text.focus());
  });
}
