// What every module needs: one way to ask and one way to send.
const form = document.querySelector("meta[name=desk-form]").content;
export const client = sessionStorage.client ??= crypto.randomUUID();

export async function ask(address, signal) {
  const reply = await fetch(address, { headers: { accept: "application/json" }, signal });
  return { status: reply.status, told: await told(reply) };
}

export async function send(address, content) {
  const reply = await fetch(address, {
    method: "POST",
    headers: { "content-type": "application/json", accept: "application/json", "x-desk-form": form },
    body: JSON.stringify(content),
    keepalive: true,
  });
  return { status: reply.status, told: await told(reply) };
}

async function told(reply) {
  const text = await reply.text();
  try { return JSON.parse(text); } catch { return { refused: { what: text.slice(0, 200), where: "", value: "", remedy: "" } }; }
}

// A refusal in the words of the command line.
export function sentence(refused) {
  const place = refused.where ? `${refused.where}: ` : "";
  const value = refused.value ? ` (got ${refused.value})` : "";
  const remedy = refused.remedy ? ` Try: ${refused.remedy}` : "";
  return `${place}${refused.what}${value}.${remedy}`;
}
