// The JSON interface (docs/api.md). Every failure becomes an ApiFailure with the server's words.

export class ApiFailure extends Error {
  /** @param {string} kind @param {string} message @param {{field: string|null, text: string}[]} problems */
  constructor(kind, message, problems) {
    super(message);
    this.kind = kind;
    this.problems = problems;
  }
}

/** @returns {string} whose changes these are */
export function who() {
  return localStorage.getItem("aftercast.who") ?? "";
}

/** @param {string} code */
export function setWho(code) {
  localStorage.setItem("aftercast.who", code);
}

/**
 * @param {string} method
 * @param {string} path
 * @param {any} [body] JSON, or a Blob or string with its type
 * @param {{signal?: AbortSignal, type?: string}} [options]
 * @returns {Promise<any>}
 */
export async function ask(method, path, body, options = {}) {
  /** @type {RequestInit} */
  const request = { method, signal: options.signal, credentials: "same-origin" };
  let address = path;
  if (who()) {
    address += (path.includes("?") ? "&" : "?") + "who=" + encodeURIComponent(who());
  }
  if (body !== undefined) {
    const raw = body instanceof Blob || typeof body === "string";
    request.body = raw ? body : JSON.stringify(body);
    request.headers = { "Content-Type": raw ? options.type ?? "application/octet-stream" : "application/json" };
  }
  let response;
  try {
    response = await fetch(address, request);
  } catch (failure) {
    if (/** @type {any} */ (failure).name === "AbortError") throw failure;
    throw new ApiFailure("unreachable", "The server does not answer. What was saved is safe; what is on this page is kept on this device.", []);
  }
  const type = response.headers.get("Content-Type") ?? "";
  const answer = type.includes("application/json") ? await response.json() : await response.text();
  if (!response.ok) {
    const error = answer?.error;
    throw new ApiFailure(error?.kind ?? "failed", error?.message ?? `The server answered ${response.status}.`, error?.problems ?? []);
  }
  return answer;
}

/** @param {string} path @param {{signal?: AbortSignal}} [options] */
export const get = (path, options) => ask("GET", path, undefined, options);

/** A path with its parts made safe. @param {TemplateStringsArray} texts @param {...any} parts */
export function path(texts, ...parts) {
  return texts.reduce((whole, text, i) => whole + encodeURIComponent(String(parts[i - 1])) + text);
}
