// Every package and who carries it.
import { h } from "./dom.js";
import { get } from "./api.js";
import { t } from "./strings.js";

/** @param {HTMLElement} place @param {string[]} parts @param {import("./main.js").Frame} frame */
export async function show(place, parts, frame) {
  const { packages } = await get("/api/packages", { signal: frame.signal });
  place.append(h("h1", null, t.packages.title), h("p", null, t.packages.text(frame.info.frequencySpacingKHz)));
  if (packages.length === 0) {
    place.append(h("p", { class: "sheet" }, t.packages.none));
    return;
  }
  const rows = packages.map((/** @type {any} */ row) => {
    const p = row.floatPackage;
    const numbers = [p.frequencyMHz?.toFixed(3), p.pingsPerMin, p.batteryH, p.packageMassG, p.buoyancyG];
    return h("tr", null, h("th", { scope: "row" }, p.serial), numbers.map((n, i) => h("td", { class: "num", "data-head": t.packages.heads[i + 1] }, n ?? "–")),
      h("td", { "data-head": t.packages.heads[6] }, row.animal ? h("a", { href: `#/capture/${encodeURIComponent(row.animal)}` }, row.animal) : t.packages.free, row.stage ? ` (${t.stages[row.stage]})` : ""));
  });
  place.append(h("div", { class: "scroll", tabindex: 0, role: "region", "aria-label": t.packages.title }, h("table", { class: "packages" },
    h("thead", null, h("tr", null, t.packages.heads.map((head, i) => h("th", { scope: "col", class: i > 0 && i < 6 ? "num" : null }, head)))), h("tbody", null, rows))));
}
