// Three ways to begin a case.
import { send, sentence } from "./wire.mjs";

async function begin(content, place) {
  const { status, told } = await send("/cases", content);
  if (status === 200) { location.href = told.address; return; }
  place.textContent = sentence(told.refused);
  place.hidden = false;
}

document.querySelector("#five").addEventListener("submit", (event) => {
  event.preventDefault();
  begin(Object.fromEntries(new FormData(event.target)), document.querySelector("#five-refusal"));
});
for (const button of document.querySelectorAll("[data-invented]")) {
  button.addEventListener("click", () => begin({ invented: button.dataset.invented }, document.querySelector("#look-refusal")));
}

const drop = document.querySelector("#drop");
async function bring(file) {
  const place = document.querySelector("#drop-refusal");
  if (!file) return;
  if (file.size > 1_000_000) { place.textContent = "The text is too large for a case. Try: one case of one baby."; place.hidden = false; return; }
  begin({ id: file.name.replace(/\.toml$/i, ""), text: await file.text() }, place);
}
document.querySelector("#file").addEventListener("change", (event) => bring(event.target.files[0]));
drop.addEventListener("dragover", (event) => { event.preventDefault(); drop.classList.add("over"); });
drop.addEventListener("dragleave", () => drop.classList.remove("over"));
drop.addEventListener("drop", (event) => { event.preventDefault(); drop.classList.remove("over"); bring(event.dataTransfer.files[0]); });
