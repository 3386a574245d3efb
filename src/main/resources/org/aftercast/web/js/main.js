// The frame around every page: names of the places, who is here, how it looks.
import { h, fill, failureBox } from "./dom.js";
import { get, who, setWho } from "./api.js";
import { t } from "./strings.js";

/** @typedef {{info: any, device: any, signal: AbortSignal, params: URLSearchParams}} Frame */

/** Pages by the first part of the address after the #; each is loaded when it is first wanted. */
const PAGES = /** @type {Record<string, () => Promise<{show: (place: HTMLElement, parts: string[], frame: Frame) => any}>>} */ ({
  study: () => import("./study.js"),
  capture: () => import("./capture.js"),
  recording: () => import("./recording.js"),
  judge: () => import("./judge.js"),
  findings: () => import("./findings.js"),
  load: () => import("./load.js"),
  search: () => import("./search.js"),
  deck: () => import("./deck.js"),
  captures: () => import("./table.js"),
  packages: () => import("./packages.js"),
  history: () => import("./history.js"),
  pair: () => import("./pair.js"),
});

const PLACES = ["study", "search", "load", "recording", "judge", "findings"];

/** Pages that show another person something else. */
const DEPENDS_ON_WHO = new Set(["judge", "recording", "findings", "history"]);

const THEMES = ["day", "glare", "night"];
let leaving = new AbortController();

function theme() {
  const asked = localStorage.getItem("aftercast.theme") ?? "day";
  return THEMES.includes(asked) ? asked : "day";
}

function here() {
  const [address, query] = location.hash.replace(/^#\/?/, "").split("?");
  const parts = address.split("/").filter(Boolean).map(decodeURIComponent);
  return { page: parts[0] ?? "study", parts: parts.slice(1), params: new URLSearchParams(query ?? "") };
}

/** @param {any} study @param {any} device @param {string} page */
function top(study, device, page) {
  const bar = /** @type {HTMLElement} */ (document.getElementById("top"));
  const places = PLACES.filter((name) => name in PAGES);
  fill(bar,
    h("div", { class: "study" }, study?.info.title ?? "Aftercast"),
    h("nav", { "aria-label": t.frame.places },
      h("ul", null, places.map((name) => h("li", null,
        h("a", { href: `#/${name}`, "aria-current": name === page ? "page" : null }, t.places[name]))))),
    h("div", { class: "tools" },
      h("label", null, t.frame.who,
        h("input", { id: "who", value: who(), maxlength: 60, autocomplete: "off", placeholder: t.frame.whoHint, oninput: (/** @type {any} */ e) => setWho(e.target.value.trim()), onchange: () => { if (DEPENDS_ON_WHO.has(here().page)) show(); } })),
      h("label", null, h("span", { class: "hidden" }, t.frame.theme),
        h("select", { id: "theme", onchange: (/** @type {any} */ e) => setTheme(e.target.value) },
          THEMES.map((name) => h("option", { value: name, selected: name === theme() }, t.themes[name]))))));
  document.querySelector(".invented")?.remove();
  if (study?.info.origin === "invented") {
    bar.after(h("div", { class: "invented", role: "note" }, t.frame.invented));
  }
  if (device?.shared && device.role === "view") bar.append(h("span", { class: "small faint" }, t.frame.viewOnly));
}

/** @param {string} name */
function setTheme(name) {
  localStorage.setItem("aftercast.theme", name);
  document.documentElement.dataset.theme = name;
  window.dispatchEvent(new CustomEvent("aftercast-theme"));
}

async function show() {
  leaving.abort();
  leaving = new AbortController();
  const { signal } = leaving;
  const place = /** @type {HTMLElement} */ (document.getElementById("content"));
  place.removeAttribute("data-ready");
  const { page, parts, params } = here();
  document.documentElement.dataset.theme = theme();
  try {
    const device = await get("/api/device");
    if (device.role === "nobody" && page !== "pair") {
      location.hash = "#/pair";
      return;
    }
    const study = device.role === "nobody" ? null : await get("/api/study");
    if (signal.aborted) return;
    top(study, device, page);
    const load = PAGES[page];
    if (!load) {
      fill(place, h("h1", null, t.frame.noPage), h("p", null, h("a", { href: "#/study" }, t.frame.toStudy)));
      return;
    }
    const module = await load();
    if (signal.aborted) return;
    document.title = `${t.places[page] ?? t.titles[page] ?? "Aftercast"} – ${study?.info.title ?? "Aftercast"}`;
    fill(place);
    await module.show(place, parts, { info: study?.info, device, signal, params });
  } catch (failure) {
    if (signal.aborted) return;
    fill(place, h("h1", null, t.frame.wentWrong), failureBox(failure),
      h("p", null, h("button", { onclick: show }, t.frame.again)));
  } finally {
    if (!signal.aborted) place.setAttribute("data-ready", page);
  }
}

window.addEventListener("hashchange", async () => {
  await show();
  window.scrollTo(0, 0);
  document.getElementById("content")?.focus();
});
document.querySelector("[data-skip]")?.addEventListener("click", (event) => {
  event.preventDefault();
  document.getElementById("content")?.focus();
});
show();
