// Every change, newest first.
import { h } from "./dom.js";
import { get } from "./api.js";
import { t } from "./strings.js";

/** @param {HTMLElement} place @param {string[]} parts @param {import("./main.js").Frame} frame */
export async function show(place, parts, frame) {
  const animal = frame.params.get("animal");
  const { entries, total } = await get(`/api/history${animal ? `?animal=${encodeURIComponent(animal)}` : ""}`, { signal: frame.signal });
  place.append(h("h1", null, t.history.title), h("p", null, t.history.text));
  if (entries.length < total) place.append(h("p", { class: "faint" }, t.history.more(entries.length, total)));
  if (total === 0) {
    place.append(h("p", { class: "sheet" }, t.history.none));
    return;
  }
  place.append(h("div", { class: "scroll", tabindex: 0, role: "region", "aria-label": t.history.title }, h("table", { class: "history" },
    h("thead", null, h("tr", null, t.history.heads.map((head) => h("th", { scope: "col" }, head)))),
    h("tbody", null, entries.map((/** @type {any} */ e) => h("tr", null,
      h("td", { class: "at" }, e.atUtc.replace("T", " ").slice(0, 19)), h("td", null, e.who), h("td", null, e.what),
      h("td", null, `${t.history.tables[e.table] ?? e.table} ${brief(e.key)}`), h("td", { class: "small" }, changes(e))))))));
}

/** Checksums by their beginning. @param {string} text */
const brief = (text) => text.replace(/[0-9a-f]{64}/g, (hash) => `${hash.slice(0, 10)}…`);

/** @param {any} e */
function changes(e) {
  if (e.hidden) return t.history.hidden;
  const before = e.before ? JSON.parse(e.before) : {};
  const after = e.after ? JSON.parse(e.after) : {};
  const names = [...new Set([...Object.keys(before), ...Object.keys(after)])].filter((n) => before[n] !== after[n] && !(before[n] == null && after[n] == null));
  const short = (/** @type {any} */ v) => (v == null ? "–" : brief(String(v)).length > 60 ? `${brief(String(v)).slice(0, 60)}…` : brief(String(v)));
  return h("ul", { class: "plain" }, names.map((n) => h("li", null, h("b", null, t.columns[n]?.[0] ?? n), ": ", e.what === "changed" ? `${short(before[n])} → ${short(after[n])}` : short(e.what === "added" ? after[n] : before[n]))));
}
