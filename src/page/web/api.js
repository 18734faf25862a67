// The server's answers. Every address is relative to the page's own, which holds the session's key.

export class Refused extends Error {
  // faults: [{where, what, remedy}]; status: of HTTP, 0 where the program cannot be reached.
  constructor(faults, status) {
    super(faults.map((f) => `${f.where}: ${f.what}; ${f.remedy}`).join("\n"));
    this.faults = faults;
    this.status = status;
  }
}

const kGone = {
  where: "evenleg",
  what: "the program cannot be reached",
  remedy: "see whether it still runs in its terminal; what was entered before is in the house file",
};

async function answered(path, options) {
  let response;
  try {
    response = await fetch(path, options);
  } catch (reason) {
    if (reason.name === "AbortError") throw reason;
    throw new Refused([kGone], 0);
  }
  const body = await response.json().catch(() => null);
  if (response.ok && body) return body;
  throw new Refused(body?.error ?? [kGone], response.status);
}

export const get = (path, signal) => answered(path, { signal, cache: "no-store" });

export const post = (path, body, signal) =>
  answered(path, {
    method: "POST",
    signal,
    headers: { "content-type": "application/json" },
    body: JSON.stringify(body),
  });

// Calls hear(name, data) for each event; told(true) when connected, told(false) when lost.
export function listen(hear, told) {
  const source = new EventSource("api/events");
  source.onopen = () => told(true);
  source.onerror = () => told(false);
  for (const name of ["house", "audit"]) {
    source.addEventListener(name, (event) => hear(name, JSON.parse(event.data)));
  }
  return source;
}
