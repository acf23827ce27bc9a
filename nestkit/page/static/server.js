/** Speaks with the server of this page: one token, JSON both ways, errors as sentences. */

const KEEP = "nestkit-token";

/** Take the token out of the address, where the command put it, so that it stands in no history. */
export function takeToken() {
  const found = /(?:^#|&)token=([^&]+)/.exec(location.hash);
  if (found) {
    sessionStorage.setItem(KEEP, found[1]);
    history.replaceState(null, "", location.pathname);
  }
  return sessionStorage.getItem(KEEP) !== null;
}

/** An answer that is no success: `text` and `remedy` are sentences, `body` the whole answer, `status` its number. */
export class Refused extends Error {
  constructor(status, body) {
    super(body.error || (body.mistakes ? "The job has mistakes." : `The answer was ${status}.`));
    this.status = status;
    this.body = body;
    this.remedy = body.remedy || "";
  }
}

/** Return what the server refused; a fault of this page itself goes on, to be told as such. */
export function refusal(fault) {
  if (!(fault instanceof Refused)) throw fault;
  return fault;
}

/** Return a refusal as a sentence or two. */
export function refusalText(fault) {
  const { message, remedy } = refusal(fault);
  return [message, remedy]
    .filter(Boolean)
    .map((words) => (/[.!?]$/.test(words) ? words : `${words}.`))
    .join(" ");
}

function headers(more = {}) {
  return { "X-Nestkit-Token": sessionStorage.getItem(KEEP) || "", ...more };
}

async function ask(path, options) {
  let answer;
  try {
    answer = await fetch(`/api/${path}`, { cache: "no-store", ...options });
  } catch (fault) {
    if (fault.name === "AbortError") throw fault;
    throw new Refused(0, {
      error: "nestkit does not answer.",
      remedy: "It may have been ended in its window. Start it again; what you typed is kept in this browser.",
    });
  }
  if (!answer.ok) throw new Refused(answer.status, await bodyOf(answer));
  return answer;
}

async function bodyOf(answer) {
  const text = await answer.text();
  try {
    return JSON.parse(text);
  } catch {
    return { error: `The answer was ${answer.status}: ${text.slice(0, 200)}` };
  }
}

/** Ask for something; `signal` may call it off. */
export async function get(path, signal) {
  return (await ask(path, { headers: headers(), signal })).json();
}

/** Send an object and return the answer. */
export async function post(path, body, signal) {
  const sent = {
    method: "POST",
    headers: headers({ "Content-Type": "application/json" }),
    body: JSON.stringify(body),
    signal,
  };
  return (await ask(path, sent)).json();
}

/** Send a file as it is. */
export async function upload(path, file) {
  const sent = { method: "POST", headers: headers({ "Content-Type": "application/octet-stream" }), body: file };
  return (await ask(path, sent)).json();
}

/** Fetch a file, with the token that a plain link could not carry, and hand it to the browser to keep. */
export async function download(path, name, body) {
  const sent = body
    ? { method: "POST", headers: headers({ "Content-Type": "application/json" }), body: JSON.stringify(body) }
    : { headers: headers() };
  const answer = await ask(path, sent);
  const address = URL.createObjectURL(await answer.blob());
  const link = document.createElement("a");
  link.href = address;
  link.download = name;
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(address), 60000);
}

/** Only the newest question of one kind counts: an older one is called off, its answer is thrown away. */
export class Newest {
  #running = null;

  /** Run `work(signal)`; return its result, or undefined if a newer one came. */
  async run(work) {
    this.#running?.abort();
    const mine = new AbortController();
    this.#running = mine;
    try {
      const result = await work(mine.signal);
      return this.#running === mine ? result : undefined;
    } catch (fault) {
      if (fault.name === "AbortError" || this.#running !== mine) return undefined;
      throw fault;
    }
  }
}
