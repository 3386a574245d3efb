// Small helpers to make elements. No text is ever put in as HTML.

/**
 * Makes an element. Attributes that are functions become listeners (onclick: f); null and false are left out.
 * @param {string} tag
 * @param {Record<string, any> | null} [attributes]
 * @param {...any} children text, elements, arrays of them; null and false are left out
 * @returns {any}
 */
export function h(tag, attributes, ...children) {
  const element = document.createElement(tag);
  apply(element, attributes);
  append(element, children);
  return element;
}

/**
 * As h, for SVG.
 * @param {string} tag
 * @param {Record<string, any> | null} [attributes]
 * @param {...any} children
 * @returns {any}
 */
export function svg(tag, attributes, ...children) {
  const element = document.createElementNS("http://www.w3.org/2000/svg", tag);
  apply(element, attributes);
  append(element, children);
  return element;
}

/** @param {Element} element @param {Record<string, any> | null | undefined} attributes */
function apply(element, attributes) {
  for (const [name, value] of Object.entries(attributes ?? {})) {
    if (value === null || value === undefined || value === false) continue;
    if (typeof value === "function") element.addEventListener(name.slice(2), value);
    else if (value === true) element.setAttribute(name, "");
    else element.setAttribute(name, String(value));
  }
}

/** @param {Element} element @param {any[]} children */
function append(element, children) {
  for (const child of children.flat(Infinity)) {
    if (child === null || child === undefined || child === false) continue;
    element.append(child instanceof Node ? child : String(child));
  }
}

/** Replaces everything within an element. @param {Element} element @param {...any} children */
export function fill(element, ...children) {
  element.replaceChildren();
  append(element, children);
}

let serial = 0;
/** An id that stands once on the page. @param {string} stem */
export function freshId(stem) {
  serial += 1;
  return `${stem}-${serial}`;
}

/** Says something for a few seconds, also to screen readers. @param {string} text */
export function say(text) {
  const place = /** @type {HTMLElement} */ (document.getElementById("notice"));
  place.textContent = text;
  setTimeout(() => {
    if (place.textContent === text) place.textContent = "";
  }, 6000);
}

/**
 * A box for something gone wrong, with its list of problems.
 * @param {any} failure
 */
export function failureBox(failure) {
  const problems = failure?.problems ?? [];
  return h("div", { class: "message alarm", role: "alert" },
    h("strong", null, failure?.message ?? String(failure)),
    problems.length > 0 && !(problems.length === 1 && String(failure?.message).endsWith(problems[0].text))
      ? h("ul", null, problems.map((/** @type {any} */ p) => h("li", null, p.field ? `${p.field}: ${p.text}` : p.text)))
      : null);
}
