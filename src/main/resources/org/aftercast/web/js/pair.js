// A device on the boat's network says who it is.
import { h, svg, fill, failureBox } from "./dom.js";
import { ask, get, setWho, who } from "./api.js";
import { t } from "./strings.js";

/** @param {HTMLElement} place @param {string[]} parts @param {import("./main.js").Frame} frame */
export async function show(place, parts, frame) {
  if (frame.device.thisMachine) {
    await codes(place, frame);
    return;
  }
  const outcome = h("div");
  const name = h("input", { id: "pair-name", value: who(), maxlength: 60, autocomplete: "off" });
  const code = h("input", { id: "pair-code", inputmode: "numeric", autocomplete: "one-time-code", maxlength: 12, value: frame.params.get("code") ?? "" });
  const pair = async (/** @type {Event} */ event) => {
    event.preventDefault();
    try {
      await ask("POST", "/api/pair", { name: name.value, code: code.value });
      if (!who()) setWho(name.value.trim());
      location.hash = "#/study";
    } catch (failure) {
      fill(outcome, failureBox(failure));
    }
  };
  place.append(h("h1", null, t.pair.title), h("p", null, t.pair.text), outcome,
    h("form", { class: "sheet narrow", onsubmit: pair },
      h("div", { class: "field" }, h("label", { for: "pair-name" }, t.pair.name), name),
      h("div", { class: "field" }, h("label", { for: "pair-code" }, t.pair.code), code),
      h("button", { class: "main" }, t.pair.pair)),
    h("p", { class: "faint small" }, t.pair.gps));
}

/** On the machine that serves: what another device scans or types. @param {HTMLElement} place @param {import("./main.js").Frame} frame */
async function codes(place, frame) {
  const p = t.pair;
  const { shared, addresses, codes: all } = await get("/api/pairing", { signal: frame.signal });
  place.append(h("h1", null, p.othersTitle), h("p", null, shared ? p.othersText : p.notShared));
  if (!shared) return;
  place.append(h("ul", { class: "plain" }, addresses.map((/** @type {string} */ a) => h("li", { class: "num" }, a))),
    h("div", { class: "pairing" }, all.map((/** @type {any} */ c) => h("section", { class: "sheet" }, h("h2", null, p.roles[c.role]), h("p", { class: "small" }, p.rolesText[c.role]),
      h("p", { class: "code-digits num" }, `${c.code.slice(0, 4)} ${c.code.slice(4)}`), c.qr.length ? square(c.qr, p.square(p.roles[c.role])) : null))),
    h("p", { class: "faint small" }, p.trust), h("p", { class: "faint small" }, p.gps));
}

/** Dark on light in every theme, as cameras want it. @param {string[]} rows @param {string} label */
function square(rows, label) {
  let d = "";
  rows.forEach((row, y) => [...row].forEach((module, x) => { if (module === "#") d += `M${x} ${y}h1v1h-1z`; }));
  return svg("svg", { class: "qr", viewBox: `0 0 ${rows.length} ${rows.length}`, role: "img", "aria-label": label, "shape-rendering": "crispEdges" },
    svg("rect", { width: rows.length, height: rows.length, class: "light" }), svg("path", { d, class: "dark" }));
}
