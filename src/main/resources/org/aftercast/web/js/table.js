// The capture table as CSV, out and in.
import { h, fill, failureBox } from "./dom.js";
import { ask, who } from "./api.js";
import { t } from "./strings.js";

/** @param {HTMLElement} place */
export function show(place) {
  const s = t.table;
  const outcome = h("div");
  const file = h("input", { type: "file", id: "table-file", accept: ".csv,text/csv" });
  const existing = h("select", { id: "table-existing" }, h("option", { value: "refuse" }, s.refuse), h("option", { value: "replace" }, s.replace));
  const enter = async () => {
    if (!who()) return fill(outcome, failureBox({ message: t.frame.whoMissing }));
    if (!file.files.length) return fill(outcome, failureBox({ message: s.choose }));
    try {
      const result = await ask("POST", `/api/captures?existing=${existing.value}`, file.files[0], { type: "text/csv" });
      fill(outcome, h("div", { class: "message", role: "status" }, h("strong", null, s.done(result)),
        result.warnings.length ? h("ul", null, result.warnings.map((/** @type {string} */ w) => h("li", null, w))) : null,
        h("p", null, h("a", { href: "#/study" }, t.capture.back))));
    } catch (failure) {
      fill(outcome, failureBox(failure));
    }
    return undefined;
  };
  place.append(h("h1", null, s.title),
    h("div", { class: "two" },
      h("section", { class: "sheet" }, h("h2", null, s.out), h("p", null, s.outText), h("a", { class: "button", href: "/api/captures.csv", download: "captures.csv" }, s.download)),
      h("section", { class: "sheet" }, h("h2", null, s.bring), h("p", null, s.bringText),
        h("div", { class: "field" }, h("label", { for: "table-file" }, s.file), file),
        h("div", { class: "field" }, h("label", { for: "table-existing" }, s.existing), existing),
        h("button", { class: "main", onclick: enter }, s.enter), outcome)));
}
