// Which packages are sought and which searches ended, and how.
import { h } from "./dom.js";
import { t } from "./strings.js";
import { localMinute } from "./times.js";

/** Whether the study says that it is not sought any longer. @param {any} outcome */
export function isOver(outcome) {
  return Boolean(outcome && outcome.outcome !== "not-found");
}

/** The list to choose from: those at sea, then the ended ones with their outcome. @param {HTMLElement} place @param {any[]} animals @param {(sought: any[]) => HTMLElement|null} order */
export function choose(place, animals, order) {
  const s = t.search;
  const ended = animals.filter((a) => a.searchOutcome && a.searchOutcome !== "not-found");
  const sought = animals.filter((a) => (a.stage === "adrift" || a.stage === "released") && !ended.includes(a));
  const link = (/** @type {any} */ a, /** @type {string} */ words) => h("li", null, h("a", { class: "button", href: `#/search/${encodeURIComponent(a.animal)}` }, `${a.animal} · ${a.packageSerial ?? ""} (${words})`));
  place.append(h("h1", null, t.places.search), h("p", null, s.about));
  place.append(sought.length === 0 ? h("p", { class: "sheet" }, s.none)
    : h("ul", { class: "choose" }, sought.map((a) => link(a, [t.stages[a.stage], s.outcomes[a.searchOutcome]].filter(Boolean).join(", ")))));
  const first = order(sought);
  if (first) place.append(first);
  // the abandoned ones are still out there: they come first
  ended.sort((a, b) => Number(b.searchOutcome === "abandoned") - Number(a.searchOutcome === "abandoned"));
  if (ended.length > 0) place.append(h("details", { class: "sheet", open: sought.length === 0 || ended[0].searchOutcome === "abandoned" }, h("summary", null, s.overList(ended.length)), h("ul", { class: "choose" }, ended.map((a) => link(a, s.outcomes[a.searchOutcome])))));
}

/** What the study has on record about how the search ended, in no or one part. @param {any} answer @param {string} zone */
export function recorded(answer, zone) {
  const s = t.search;
  const { outcome, outcomeBy } = answer;
  if (!isOver(outcome) || answer.ended?.length) return [];
  const when = outcome.endedUtc ?? outcomeBy?.atUtc;
  return [h("div", { class: "message outcome", role: "status" },
    h("strong", null, s.recorded[outcome.outcome], when ? s.onDay(localMinute(when, zone)) : "", outcomeBy ? s.byWhom(outcomeBy.who) : "", "."),
    outcome.searchH ? s.spent(String(outcome.searchH)) : "",
    outcome.foundLatDeg === null ? "" : s.foundAt(`${outcome.foundLatDeg}°`, `${outcome.foundLonDeg}°`),
    outcome.searchNotes ? ` ${outcome.searchNotes}` : "",
    answer.rows.length === 0 ? ` ${s.againHelp}` : "")];
}
