// A device on the boat's network says who it is.
import { h, fill, failureBox } from "./dom.js";
import { ask, setWho, who } from "./api.js";
import { t } from "./strings.js";

/** @param {HTMLElement} place */
export function show(place) {
  const outcome = h("div");
  const name = h("input", { id: "pair-name", value: who(), maxlength: 60, autocomplete: "off" });
  const code = h("input", { id: "pair-code", inputmode: "numeric", autocomplete: "one-time-code", maxlength: 12 });
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
