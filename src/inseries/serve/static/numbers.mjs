// Numbers of a picture or a table move to their new value instead of jumping.
const LENGTH_MS = 260;
const still = matchMedia("(prefers-reduced-motion: reduce)");
const NUMBER = /\d+(?:\.\d+)?/g;
let running = 0;

function pieces(place) {
  const seen = new Map();
  const found = new Map();
  for (const node of place.querySelectorAll(".picture svg text, .tables td")) {
    if (node.closest(".pinned-picture") || node.children.length || node.textContent.length > 60) continue;
    const shape = node.textContent.replace(NUMBER, "#");
    if (!shape.includes("#")) continue;
    const n = (seen.get(shape) ?? 0) + 1;
    seen.set(shape, n);
    found.set(`${shape} ${n}`, node);
  }
  return found;
}

// What stood before, to be handed back once the new is there.
export function remembered(place) {
  if (still.matches) return new Map();
  return new Map([...pieces(place)].map(([key, node]) => [key, node.textContent.match(NUMBER)]));
}

export function moveTo(place, before) {
  const mine = ++running;
  if (still.matches || !before.size) return;
  const moving = [];
  for (const [key, node] of pieces(place)) {
    const was = before.get(key);
    const text = node.textContent;
    const now = text.match(NUMBER);
    if (was && was.length === now.length && was.some((v, i) => v !== now[i])) moving.push({ node, text, was: was.map(Number), now });
  }
  if (!moving.length) return;
  const start = performance.now();
  function frame(time) {
    const share = mine === running ? Math.min((time - start) / LENGTH_MS, 1) : 1;
    const eased = 1 - (1 - share) ** 3;
    for (const { node, text, was, now } of moving) {
      let n = -1;
      node.textContent = share === 1 ? text : text.replace(NUMBER, () => {
        n += 1;
        const decimals = now[n].split(".")[1]?.length ?? 0;
        return (was[n] + (Number(now[n]) - was[n]) * eased).toFixed(decimals);
      });
    }
    if (share < 1) requestAnimationFrame(frame);
  }
  frame(start);
}
