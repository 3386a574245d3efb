// What the study keeps besides its animals: its plan, control animals, and the fishery that it stands for.
import { h, fill, say, failureBox } from "./dom.js";
import { ask, get, who } from "./api.js";
import { t } from "./strings.js";

const pct = (/** @type {number} */ x) => (x > 0 && x < 0.0005 ? "< 0.1 %" : `${(100 * x).toFixed(x > 0 && x < 0.0995 ? 1 : 0)} %`);

/**
 * Buttons that keep what a form says, or take it back.
 * @param {string} what @param {any} base what was kept when the page was loaded, or null @param {() => any} value
 * @param {import("./main.js").Frame} frame @param {() => Promise<void>} again
 */
function keeping(what, base, value, frame, again) {
  const f = t.findings.kept;
  if (frame.device.role === "view") return null;
  const place = h("div", { class: "keeping" });
  const send = async (/** @type {any} */ given, /** @type {string} */ done) => {
    if (!who()) return say(t.frame.whoMissing);
    try {
      await ask("POST", `/api/kept/${what}`, { value: given, base });
      await again();
      say(done);
    } catch (failure) {
      place.querySelector(".message")?.remove();
      place.append(failureBox(failure));
    }
    return undefined;
  };
  place.append(h("div", { class: "row" }, h("button", { class: "main", id: `keep-${what}`, onclick: () => send(value(), f.done) }, f.keep[what]),
    base ? h("button", { id: `take-back-${what}`, onclick: () => send(null, f.gone) }, f.takeBack) : null));
  return place;
}

/** @param {string} id @param {string} label @param {any} value @param {Record<string, any>} [more] */
function field(id, label, value, more = {}) {
  const input = h("input", { id, type: "text", inputmode: "decimal", autocomplete: "off", value: value ?? "", ...more });
  return { input, row: h("div", { class: "field" }, h("label", { for: id }, label), input) };
}

/**
 * Control animals, and how the groups and the number released stand in the fishery.
 * @param {any} kept @param {import("./main.js").Frame} frame @param {() => Promise<void>} again
 */
export function fisheryForms(kept, frame, again) {
  const f = t.findings.kept;
  const c = kept.controls;
  const controls = { animals: field("controls-animals", f.controlAnimals, c?.animals), died: field("controls-died", f.controlDied, c?.died), notes: field("controls-notes", f.notes, c?.controlNotes, { inputmode: null }) };
  const y = kept.fishery;
  const columns = [...new Set([...Object.keys(kept.groups), ...(y?.groupColumn ? [y.groupColumn] : [])])];
  const choice = h("select", { id: "fishery-column", onchange: () => groups() }, h("option", { value: "" }, f.noGroups), columns.map((name) => h("option", { value: name, selected: name === y?.groupColumn }, t.columns[name]?.[0] ?? name)));
  const shares = h("div", { class: "fields" });
  /** @type {{name: () => string, input: any}[]} */
  let rows = [];
  const groups = () => {
    const old = choice.value && choice.value === y?.groupColumn ? y.groupShares : {};
    const names = choice.value ? [...new Set([...(kept.groups[choice.value] ?? []), ...Object.keys(old)])] : [];
    const known = names.map((name, i) => ({ name: () => name, ...field(`fishery-share-${i}`, f.shareOf(name), old[name]) }));
    const other = { name: field("fishery-other", f.otherName, "", { inputmode: null }), share: field("fishery-share-other", f.otherShare, "") };
    rows = choice.value ? [...known, { name: () => other.name.input.value.trim(), input: other.share.input }] : [];
    fill(shares, known.map((k) => k.row), choice.value ? [other.name.row, other.share.row] : []);
    from.row.hidden = !choice.value;
  };
  const from = field("fishery-from", f.sharesFrom, y?.sharesFrom || "");
  const released = field("fishery-released", f.released, y?.released);
  const low = field("fishery-low", f.releasedLow, y?.releasedLow);
  const high = field("fishery-high", f.releasedHigh, y?.releasedHigh);
  const what = field("fishery-what", f.releasedWhat, y?.releasedWhat, { inputmode: null });
  groups();
  const fishery = () => ({
    groupColumn: choice.value || null,
    groupShares: Object.fromEntries(rows.filter((r) => r.name() && r.input.value.trim() !== "").map((r) => [r.name(), r.input.value.trim()])),
    sharesFrom: choice.value ? from.input.value : "", released: released.input.value, releasedLow: low.input.value, releasedHigh: high.input.value, releasedWhat: what.input.value,
  });
  return h("section", { class: "sheet" }, h("details", { id: "fishery", open: Boolean(c || y) }, h("summary", null, f.title), h("p", { class: "small" }, f.about),
    h("h3", null, f.controls), h("p", { class: "small" }, f.controlsAbout), h("div", { class: "fields" }, controls.animals.row, controls.died.row, controls.notes.row),
    keeping("controls", c, () => ({ animals: controls.animals.input.value, died: controls.died.input.value, controlNotes: controls.notes.input.value }), frame, again),
    h("h3", null, f.fishery), h("p", { class: "small" }, f.fisheryAbout),
    h("div", { class: "field" }, h("label", { for: "fishery-column" }, f.column), choice), shares, h("div", { class: "fields" }, from.row),
    h("p", { class: "small" }, f.releasedAbout), h("div", { class: "fields" }, released.row, low.row, high.row, what.row),
    keeping("fishery", y, fishery, frame, again)));
}

/**
 * How many animals a study needs: a form whose answer follows each change, and that can be kept as the study's plan.
 * @param {any} kept @param {import("./main.js").Frame} frame @param {() => Promise<void>} again
 */
export function planForm(kept, frame, again) {
  const f = t.findings.plan;
  const answer = h("div", { "aria-live": "polite" });
  const fields = Object.entries(f.fields).map(([name, [label, value]]) => ({ name, ...field(`plan-${name}`, label, kept.plan ? kept.plan[name] : value, { oninput: () => later() }) }));
  let timer = 0;
  const later = () => { clearTimeout(timer); timer = setTimeout(show, 350); };
  const asked = () => fields.filter((x) => x.input.value.trim() !== "").map((x) => `${x.name}=${encodeURIComponent(x.input.value.trim())}`).join("&");
  const table = (/** @type {string} */ caption, /** @type {string[]} */ heads, /** @type {any[][]} */ rows) => h("div", { class: "scroll", tabindex: 0, role: "region", "aria-label": caption }, h("table", null, h("caption", { class: "small" }, caption),
    h("thead", null, h("tr", null, heads.map((head) => h("th", { scope: "col", class: "num" }, head)))),
    h("tbody", null, rows.map((row) => h("tr", null, row.map((cell, i) => h(i ? "td" : "th", { scope: i ? null : "row", class: "num" }, cell)))))));
  let asking = 0;
  const show = async () => {
    const mine = ++asking;
    try {
      const p = await get(`/api/plan?${asked()}`);
      if (mine !== asking) return; // a later question is on its way
      fill(answer, h("ul", null, p.inWords.map((/** @type {string} */ s) => h("li", null, s))),
        table(f.table, f.heads, p.rows.map((/** @type {any} */ r) => [r.animals, `± ${pct(r.halfWidth)}`, `± ${pct(r.halfWidthIfTagged)}`, pct(r.coverage), pct(r.noDeath), r.power === null ? "–" : pct(r.power)])),
        p.recordLengths.length ? table(f.lengths, f.lengthHeads, p.recordLengths.map((/** @type {any} */ r) => [r.hours, pct(r.missed), pct(r.seenShare)])) : null,
        h("img", { class: "plan-figure", src: `/api/plan/figure/plan.svg?${asked()}`, alt: f.figure }),
        h("p", { class: "small" }, f.figureAs, ["svg", "png", "pdf"].map((kind) => [" ", h("a", { href: `/api/plan/figure/plan.${kind}?${asked()}`, download: `plan.${kind}` }, kind.toUpperCase())])),
        h("h3", null, t.findings.assumes), h("ul", { class: "small" }, p.method.assumptions.map((/** @type {string} */ s) => h("li", null, s))));
    } catch (failure) {
      if (mine === asking) fill(answer, failureBox(failure));
    }
  };
  return h("section", { class: "sheet" }, h("details", { id: "plan", ontoggle: () => { if (!answer.firstChild) show(); } }, h("summary", null, f.title), h("p", { class: "small" }, f.about),
    kept.plan ? h("p", null, f.isKept(kept.plan.number)) : null, h("div", { class: "two" }, fields.map((x) => x.row)),
    keeping("plan", kept.plan, () => Object.fromEntries(fields.map((x) => [x.name, x.input.value.trim()])), frame, again), answer));
}
