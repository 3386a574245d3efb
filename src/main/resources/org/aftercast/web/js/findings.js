// What all animals together say. Every number opens the animals or the choices behind it.
import { h, svg, fill, say, failureBox } from "./dom.js";
import { ask, get, who } from "./api.js";
import { t } from "./strings.js";
import { fisheryForms, planForm } from "./kept.js";

const pct = (/** @type {number} */ x) => `${(100 * x).toFixed(x > 0 && x < 0.0995 ? 1 : 0)} %`;
const num = (/** @type {number|null|undefined} */ x) => (x === null || x === undefined ? "–" : Number(x.toPrecision(3)).toString());

/** @param {HTMLElement} place @param {string[]} parts @param {import("./main.js").Frame} frame */
export async function show(place, parts, frame) {
  const f = t.findings;
  const [{ animals, estimate, blocks, methods }, kept] = await Promise.all([get("/api/findings", { signal: frame.signal }), get("/api/kept", { signal: frame.signal })]);
  const again = async () => { fill(place); await show(place, parts, frame); };
  place.append(h("div", { class: "spread" }, h("h1", null, f.title), reportButton(frame)));
  if (!estimate) {
    place.append(h("p", { class: "sheet" }, f.none), fisheryForms(kept, frame, again), planForm(kept, frame, again));
    return;
  }
  const source = h("div", { id: "source", class: "sheet source", tabindex: -1, hidden: true });
  const open = (/** @type {string} */ title, /** @type {any[]} */ ...content) => {
    fill(source, h("h2", null, title), content, h("button", { onclick: () => { source.hidden = true; } }, f.close));
    source.hidden = false;
    source.focus();
    source.scrollIntoView({ block: "nearest" });
  };
  const list = (/** @type {any[]} */ some) => h("ul", { class: "plain" }, some.map((a) => h("li", null,
    a.hasReading ? h("a", { href: `#/judge/${encodeURIComponent(a.animal)}` }, a.animal) : a.animal, ": ", a.fate === null ? f.hidden : [t.judge.fates[a.fate], ", ", t.judge.ends[a.end], ", ", f.atRisk(num(a.atRiskH))], h("span", { class: "faint" }, ` (${f.by[a.decidedBy]})`))));
  const number = (/** @type {any} */ words, /** @type {string} */ title, /** @type {() => any} */ content) => h("button", { class: "number", onclick: () => open(title, content()) }, words);
  place.append(headline(estimate, animals, number, list), source,
    h("div", { class: "two wide" }, survival(estimate, number, list, animals), robust(estimate, number), worse(estimate), recovery(estimate), flow(estimate)),
    ...further(blocks ?? []), limits(estimate), howAll(methods ?? []), fisheryForms(kept, frame, again), planForm(kept, frame, again));
}

/** The parts told in sentences and tables, as in the report. @param {any[]} blocks */
function further(blocks) {
  const f = t.findings;
  // The table of chosen times stands in the panel of the curve already, where its numbers open their animals.
  const shown = blocks.map((b) => (b.title || b.place === "risk" ? b : { ...b, tables: [] })).filter((b) => b.sentences.length + b.tables.length > 0);
  return shown.map((b) => h("section", { class: "sheet" }, h("h2", null, b.title || (b.place === "risk" ? f.worseMore : f.survivalMore)),
    b.sentences.map((/** @type {string} */ s) => h("p", null, s)),
    b.tables.map((/** @type {any} */ table) => h("div", { class: "scroll", tabindex: 0, role: "region", "aria-label": table.caption }, h("table", null, h("caption", { class: "small" }, table.caption),
      h("thead", null, h("tr", null, table.heads.map((/** @type {string} */ head, /** @type {number} */ i) => h("th", { scope: "col", class: table.numeric.includes(i) ? "num" : null }, head)))),
      h("tbody", null, table.rows.map((/** @type {string[]} */ row) => h("tr", null, row.map((cell, i) => i === 0 ? h("th", { scope: "row" }, cell) : h("td", { class: table.numeric.includes(i) ? "num" : null }, cell))))))))));
}

/** @param {import("./main.js").Frame} frame */
function reportButton(frame) {
  const f = t.findings;
  const place = h("div", { class: "row" });
  const links = () => [h("a", { class: "button", href: "/api/report/report.html", target: "_blank", rel: "noopener" }, f.reportHtml), h("a", { class: "button", href: "/api/report/report.pdf", target: "_blank", rel: "noopener" }, f.reportPdf)];
  const button = h("button", { class: "main", onclick: async () => {
    if (!who()) return say(t.frame.whoMissing);
    button.disabled = true;
    button.textContent = f.writing;
    try {
      await ask("POST", "/api/report", {});
      say(f.written);
      fill(place, button, links());
    } catch (failure) {
      place.after(failureBox(failure));
    }
    button.disabled = false;
    button.textContent = f.report;
    return undefined;
  } }, f.report);
  if (frame.device.role === "view") return null;
  fill(place, button);
  return place;
}

/** @param {any} e @param {any[]} animals @param {any} number @param {any} list */
function headline(e, animals, number, list) {
  const f = t.findings;
  const head = e.headline;
  const c = head.counts;
  const dead = animals.filter((a) => ["died", "dead-then-scavenged", "eaten"].includes(a.fate));
  const hidden = animals.filter((a) => a.fate === null);
  const undecided = animals.filter((a) => a.fate === "undecided");
  const alive = animals.filter((a) => a.fate === "alive-at-end");
  const method = () => [h("p", null, head.method.name), h("p", null, head.rule), h("h3", null, f.assumes), h("ul", null, head.method.assumptions.map((/** @type {string} */ a) => h("li", null, a)))];
  return h("section", { class: "sheet headline" },
    h("h2", null, f.headline(num(head.horizonH))),
    head.died
      ? h("div", { class: "big" }, number(pct(head.died.value), f.how, method), h("span", null, f.interval(Math.round(head.died.level * 100), pct(head.died.low), pct(head.died.high))))
      : h("p", null, f.noAnswer, " ", head.method.refusal),
    head.died ? bar(head) : null,
    h("p", { class: "counts" },
      number(f.animals(c.animals), f.animals(c.animals), () => list(animals)), " ",
      number(f.died(c.died), f.died(c.died), () => list(dead)), " ",
      number(f.alive(c.alive), f.alive(c.alive), () => list(alive)), " ",
      c.otherEnd ? number(f.otherEnd(c.otherEnd), f.otherEnd(c.otherEnd), () => list(dead)) : null, " ",
      number(f.unknown(c.unknown), f.unknown(c.unknown), () => [h("p", null, f.unknownHelp), list(undecided)])),
    hidden.length ? h("p", { class: "small faint" }, f.hiddenHelp(hidden.length)) : null,
    head.noDeaths ? h("p", null, f.noDeaths(pct(head.noDeaths.upperOneSided))) : null,
    head.vessel ? h("p", null, f.vessel(...[head.vessel.atVessel, head.vessel.total].flatMap((s) => [pct(s.value), pct(s.low), pct(s.high)]))) : null,
    head.died ? h("p", { class: "small faint" }, f.readIt(pct(head.died.low), pct(head.died.high))) : null);
}

/** The share with its interval and the bounds of what is not known, on one line from 0 to 100 %. @param {any} head */
function bar(head) {
  const X = (/** @type {number} */ v) => 10 + v * 580;
  const { died, best, worst } = head;
  return svg("svg", { class: "share", viewBox: "0 0 600 58", role: "img", "aria-label": t.findings.barLabel(pct(died.value), pct(died.low), pct(died.high)) },
    svg("line", { x1: 10, x2: 590, y1: 22, y2: 22, class: "rule" }),
    [0, 0.25, 0.5, 0.75, 1].map((v) => [svg("line", { x1: X(v), x2: X(v), y1: 18, y2: 26, class: "rule" }), svg("text", { x: X(v), y: 50, "text-anchor": v === 0 ? "start" : v === 1 ? "end" : "middle" }, `${v * 100} %`)]),
    best && worst ? svg("rect", { x: X(best.value), y: 30, width: Math.max(2, X(worst.value) - X(best.value)), height: 4, class: "bounds" }) : null,
    svg("rect", { x: X(died.low), y: 16, width: Math.max(2, X(died.high) - X(died.low)), height: 12, class: "span" }),
    svg("polygon", { points: `${X(died.value)},8 ${X(died.value) + 7},22 ${X(died.value)},36 ${X(died.value) - 7},22`, class: "point" }));
}

/** @param {any} e @param {any} number @param {any} list @param {any[]} animals */
function survival(e, number, list, animals) {
  const f = t.findings;
  const s = e.timeToDeath;
  if (!s.curve) return h("section", { class: "sheet" }, h("h2", null, f.survival), h("p", null, f.noAnswer, " ", s.method.refusal));
  return h("section", { class: "sheet" }, h("h2", null, f.survival), curve(s.curve, f.survivalLabel(s.curve.subjects, s.curve.events), f.aliveAxis),
    h("div", { class: "scroll", tabindex: 0, role: "region", "aria-label": f.survival }, h("table", null, h("thead", null, h("tr", null, f.survivalHeads.map((/** @type {string} */ head, /** @type {number} */ i) => h("th", { scope: "col", class: i ? "num" : null }, head)))),
      h("tbody", null, s.horizons.map((/** @type {any} */ r) => h("tr", null, h("th", { scope: "row" }, f.hours(num(r.hours))),
        h("td", { class: "num" }, number(r.stillWatched, f.watchedAt(num(r.hours)), () => list(animals.filter((a) => a.atRiskH >= r.hours)))), h("td", { class: "num" }, r.diedBefore),
        h("td", { class: r.survival ? "num" : "num words" }, r.survival ? `${pct(r.survival.value)} (${pct(r.survival.low)} – ${pct(r.survival.high)})` : r.remark)))))),
    s.censored.length ? [h("h3", null, f.censored), h("ul", { class: "small" }, s.censored.map((/** @type {any} */ c) => h("li", null, f.censoredRow(c.animals, c.reason, num(c.earliestH), num(c.latestH)))))] : null);
}

/** A step curve with its limits. @param {any} c @param {string} label @param {string} axis */
function curve(c, label, axis) {
  const most = Math.max(c.lastTime, ...c.steps.map((/** @type {any} */ s) => s.time), 1);
  const X = (/** @type {number} */ v) => 46 + (v / most) * 440;
  const Y = (/** @type {number} */ v) => 12 + (1 - v) * 150;
  let d = `M${X(0)} ${Y(1)}`;
  let upper = `M${X(0)} ${Y(1)}`;
  let lower = `M${X(0)} ${Y(1)}`;
  for (const s of c.steps) {
    d += `H${X(s.time)}V${Y(s.survival)}`;
    if (s.high !== null) upper += `H${X(s.time)}V${Y(s.high)}`;
    if (s.low !== null) lower += `H${X(s.time)}V${Y(s.low)}`;
  }
  d += `H${X(c.lastTime)}`;
  upper += `H${X(c.lastTime)}`;
  lower += `H${X(c.lastTime)}`;
  const ticks = [0, 0.25, 0.5, 0.75, 1].map((v) => v * most);
  return svg("svg", { class: "curve", viewBox: "0 0 500 200", role: "img", "aria-label": label },
    [0, 0.5, 1].map((v) => [svg("line", { x1: 46, x2: 486, y1: Y(v), y2: Y(v), class: "grid" }), svg("text", { x: 40, y: Y(v) + 4, "text-anchor": "end" }, `${v * 100} %`)]),
    ticks.map((v) => svg("text", { x: X(v), y: 178, "text-anchor": "middle" }, num(Math.round(v * 10) / 10))),
    svg("text", { x: 486, y: 196, "text-anchor": "end" }, t.findings.hoursAxis), svg("text", { x: 46, y: 9 }, axis),
    svg("path", { d: upper, class: "limit" }), svg("path", { d: lower, class: "limit" }), svg("path", { d, class: "step" }));
}

/** @param {any} e @param {any} number */
function robust(e, number) {
  const f = t.findings;
  const rows = e.robustness.rows;
  return h("section", { class: "sheet" }, h("h2", null, f.robust), h("p", { class: "small" }, f.robustHelp),
    h("table", { class: "compact" }, h("tbody", null, rows.map((/** @type {any} */ r) => h("tr", null, h("th", { scope: "row" }, r.what),
      h("td", { class: "num" }, r.died ? number(pct(r.died.value), r.what, () => h("p", null, f.interval(Math.round(r.died.level * 100), pct(r.died.low), pct(r.died.high)), " ", r.died.interval)) : "–"),
      h("td", { class: "num faint" }, r.change === null ? "" : `${r.change > 0 ? "+" : r.change < 0 ? "−" : "±"}${(Math.abs(r.change) * 100).toFixed(1)}`))))));
}

/** @param {any} e */
function worse(e) {
  const f = t.findings;
  const models = e.riskFactors.models;
  const method = e.riskFactors.method;
  return h("section", { class: "sheet" }, h("h2", null, f.worse),
    method.refusal ? h("p", null, f.noAnswer, " ", method.refusal) : null,
    models.map((/** @type {any} */ m) => h("div", { class: "model" },
      m.method.refusal ? h("p", null, h("b", null, m.columns.map(columnName).join(", ")), ": ", m.method.refusal) : m.terms.map((/** @type {any} */ term) => h("p", null,
        h("b", null, columnName(term.name)), ": ", f.odds(num(term.ratio), num(term.low), term.high === null ? f.noLimit : num(term.high)), h("span", { class: "faint small" }, ` ${f.against} ${term.against}`))),
      m.hazards.map((/** @type {any} */ term) => h("p", null, h("b", null, columnName(term.name)), ": ", f.rate(num(term.ratio), num(term.low), term.high === null ? f.noLimit : num(term.high)))),
      m.caution ? h("p", { class: "small caution" }, m.caution) : null)),
    models.length === 0 && !method.refusal ? h("p", { class: "faint" }, f.noModels) : null);
}

/** @param {string} name */
const columnName = (name) => t.columns[name]?.[0] ?? name;

/** @param {any} e */
function recovery(e) {
  const f = t.findings;
  return h("section", { class: "sheet" }, h("h2", null, f.recovery),
    e.recovery.length === 0 ? h("p", { class: "faint" }, f.noRecovery) : e.recovery.map((/** @type {any} */ r) => h("div", null, h("h3", null, r.measure),
      h("p", null, r.notSeen === r.animals ? f.allOpen(r.animals) : [r.median?.time == null ? f.noHalf : f.half(num(r.median.time), r.median.low == null ? "0" : num(r.median.low), r.median.high == null ? null : num(r.median.high), r.animals),
        r.notSeen ? ` ${f.notSeen(r.notSeen)}` : "", " ",
        r.pooled ? f.typical(num(r.pooled.typicalH), num(r.pooled.lowH), num(r.pooled.highH), r.pooled.animals) : f.noTypical]),
      r.notYetRecovered && r.animals - r.notSeen >= 3 ? curve(r.notYetRecovered, f.recoveryLabel(r.measure), f.notYetAxis) : null)));
}

/** @param {any} e */
function flow(e) {
  const f = t.findings;
  const stages = e.whoWasTagged.stages;
  const most = Math.max(1, ...stages.map((/** @type {any} */ s) => s.animals));
  const depth = new Map();
  for (const s of stages) depth.set(s.kind, s.kind === s.ofKind ? 0 : (depth.get(s.ofKind) ?? 0) + 1);
  return h("section", { class: "sheet" }, h("h2", null, f.flow),
    h("table", { class: "compact" }, h("tbody", null, stages.map((/** @type {any} */ s) => h("tr", null,
      h("th", { scope: "row" }, "\u2003".repeat(depth.get(s.kind)), s.name), h("td", { class: "num" }, s.animals),
      h("td", { class: "flowbar" }, svg("svg", { viewBox: "0 0 100 8", width: 100, height: 8, "aria-hidden": "true" }, svg("rect", { x: 0, y: 0, height: 8, width: (100 * s.animals) / most, class: "span" }))))))));
}

/** @param {any} e */
function limits(e) {
  return h("section", { class: "sheet" }, h("h2", null, t.findings.limits), h("ul", null, [...e.headline.method.assumptions, ...e.limits].map((/** @type {string} */ line) => h("li", null, line))));
}

/** Every method with what must hold for it, or why it gave no answer, as in the report. @param {any[]} methods */
function howAll(methods) {
  const f = t.findings;
  return h("section", { class: "sheet" }, h("details", null, h("summary", null, f.methods), h("p", { class: "small" }, f.methodsAbout),
    methods.map((m) => h("div", null, h("h3", null, `${m.topic}: ${m.name}`), m.refusal ? h("p", null, f.noAnswer, " ", m.refusal) : null,
      m.assumptions.length ? h("ul", { class: "small" }, m.assumptions.map((/** @type {string} */ a) => h("li", null, a))) : null))));
}
