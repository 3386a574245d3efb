// Where every animal stands along the voyage, and what it needs next.
import { h, svg, say, failureBox } from "./dom.js";
import { ask, get, path } from "./api.js";
import { t } from "./strings.js";
import { localMinute, span } from "./times.js";

const STAGES = ["planned", "released", "adrift", "retrieved", "loaded", "read", "judged"];

/** @param {HTMLElement} place @param {string[]} parts @param {import("./main.js").Frame} frame */
export async function show(place, parts, frame) {
  const study = await get("/api/study", { signal: frame.signal });
  if (study.animals.length === 0) {
    empty(place, study.info);
    return;
  }
  const overdue = study.animals.filter((/** @type {any} */ a) => a.overdueH > 0).length;
  const wanted = frame.params.get("stage");
  place.append(
    h("div", { class: "spread" },
      h("div", null,
        h("h1", null, t.study.sum(study.animals.length)),
        h("p", { class: overdue ? "overdue-sum" : "faint" }, overdue ? t.study.overdueSum(overdue) : t.study.localTime(study.info.timeZone))),
      h("div", { class: "row" },
        h("a", { class: "button main", href: "#/capture/new" }, t.study.add),
        h("a", { class: "button", href: "#/captures" }, t.study.bring))),
    filterRow(study.animals, wanted));
  const shown = study.animals.filter((/** @type {any} */ a) => !wanted || a.stage === wanted);
  place.append(shown.length ? voyage(shown, study.info, place, frame) : h("p", { class: "sheet" }, t.study.none));
  place.append(h("p", { class: "small" },
    h("a", { href: "#/packages" }, t.study.packages), " · ",
    h("a", { href: "#/history" }, t.study.history), frame.device.thisMachine ? [" · ", h("a", { href: "#/pair" }, t.study.pairing)] : null));
}

/** @param {HTMLElement} place @param {any} info */
function empty(place, info) {
  place.append(h("div", { class: "first" },
    h("h1", null, t.study.empty),
    h("p", null, t.study.emptyFirst),
    h("ol", null, t.study.emptySteps.map((step) => h("li", null, step))),
    h("div", { class: "row" },
      h("a", { class: "button main", href: "#/capture/new" }, t.study.add),
      h("a", { class: "button", href: "#/captures" }, t.study.bring)),
    info.site ? h("p", { class: "faint small" }, info.site) : null));
}

/** @param {any[]} animals @param {string|null} wanted */
function filterRow(animals, wanted) {
  const links = [null, ...STAGES].map((stage) => {
    const n = stage ? animals.filter((a) => a.stage === stage).length : animals.length;
    return h("li", null, h("a", {
      href: stage ? `#/study?stage=${stage}` : "#/study",
      "aria-current": wanted === stage ? "true" : null,
      class: n === 0 ? "none" : null,
    }, stage ? t.stages[stage] : t.study.all, " ", h("span", { class: "num" }, n)));
  });
  return h("nav", { class: "filter", "aria-label": t.study.filter }, h("ul", null, links));
}

/** @param {any[]} animals @param {any} info @param {HTMLElement} place @param {import("./main.js").Frame} frame */
function voyage(animals, info, place, frame) {
  const rows = animals.map((a) => h("tr", { class: a.overdueH > 0 ? "overdue" : null, "data-animal": a.animal },
    h("th", { scope: "row" }, h("a", { href: `#/capture/${encodeURIComponent(a.animal)}`, "aria-label": t.study.correctOf(a.animal) }, a.animal)),
    h("td", { class: "stands" }, track(a.stage), h("span", { class: "stage" }, t.stages[a.stage])),
    h("td", { class: "next" },
      a.overdueH > 0 ? h("strong", { class: "late" }, t.study.overdue(span(a.overdueH)), " ") : null,
      h("span", null, nextWords(a, info.timeZone))),
    h("td", { class: "act" }, action(a, place, frame)),
    h("td", { class: "pack" }, h("span", { class: "mhz" }, a.packageSerial ?? ""), a.frequencyMHz ? h("span", { class: "faint num mhz" }, ` ${a.frequencyMHz.toFixed(3)} MHz`) : null),
    h("td", { class: "when num" }, a.releasedUtc ? h("span", { class: "head" }, t.study.released, " ") : null, localMinute(a.releasedUtc, info.timeZone)),
    h("td", { class: "when num" }, a.plannedDetachmentUtc ? h("span", { class: "head" }, t.study.off, " ") : null, localMinute(a.plannedDetachmentUtc, info.timeZone))));
  return h("table", { class: "voyage" },
    h("caption", { class: "hidden" }, t.study.stands),
    h("thead", null, h("tr", null,
      h("th", { scope: "col" }, t.study.animal), h("th", { scope: "col" }, t.study.stands),
      h("th", { scope: "col", colspan: 2 }, t.study.next), h("th", { scope: "col" }, t.study.pack),
      h("th", { scope: "col" }, t.study.released), h("th", { scope: "col" }, t.study.off))),
    h("tbody", null, rows));
}

/** Times in the sentence are shown in local time. @param {any} a @param {string} zone */
function nextWords(a, zone) {
  return a.next ? a.next.replace(/\d{4}-\d\d-\d\dT[\d:.]+Z/, (/** @type {string} */ iso) => localMinute(iso, zone)) : t.study.nothing;
}

/** What the animal needs next, one tap away. @param {any} a @param {HTMLElement} place @param {import("./main.js").Frame} frame */
function action(a, place, frame) {
  const name = encodeURIComponent(a.animal);
  const prepare = a.stage === "planned" && /^before release/.test(a.next ?? "");
  const words = prepare ? t.titles.deck : t.study.actions[a.stage];
  const label = words ? `${words}: ${a.animal}` : null;
  const to = /** @type {Record<string, string>} */ ({
    planned: prepare ? `#/deck/${name}` : `#/capture/${name}`, adrift: `#/search/${name}`, retrieved: `#/load/${name}`, read: `#/judge/${name}`, judged: `#/judge/${name}`,
  })[a.stage];
  const main = a.stage === "loaded"
    ? h("button", { "aria-label": label, onclick: (/** @type {any} */ e) => read(a.animal, e.currentTarget, place, frame) }, words)
    : to ? h("a", { class: "button", href: to, "aria-label": label }, words) : null;
  const look = a.recordingSha256
    ? h("a", { class: "small", href: `#/recording/${name}`, "aria-label": t.study.recordingOf(a.animal) }, t.study.recording) : null;
  return h("div", { class: "row" }, main, look);
}

/** @param {string} animal @param {any} button @param {HTMLElement} place @param {import("./main.js").Frame} frame */
async function read(animal, button, place, frame) {
  button.disabled = true;
  button.textContent = t.study.reading;
  try {
    await ask("POST", path`/api/animals/${animal}/read`, {});
    say(t.study.readDone(animal));
    place.replaceChildren();
    await show(place, [], frame);
  } catch (failure) {
    button.disabled = false;
    button.textContent = t.study.actions.loaded;
    place.prepend(failureBox(failure));
  }
}

/** The seven stages as a line with knots: done ones filled, the present one a diamond. @param {string} stage */
function track(stage) {
  const at = STAGES.indexOf(stage);
  const x = (/** @type {number} */ i) => 7 + i * 15;
  return svg("svg", { class: "track", viewBox: "0 0 104 16", width: 104, height: 16, "aria-hidden": "true" },
    svg("line", { x1: x(0), x2: x(6), y1: 8, y2: 8, class: "to-come" }),
    svg("line", { x1: x(0), x2: x(at), y1: 8, y2: 8, class: "done" }),
    STAGES.map((_, i) => i === at
      ? svg("rect", { x: x(i) - 5, y: 3, width: 10, height: 10, transform: `rotate(45 ${x(i)} 8)`, class: "present" })
      : svg("circle", { cx: x(i), cy: 8, r: i < at ? 3.5 : 3, class: i < at ? "done" : "to-come" })));
}

