// Makes elements. Texts go in as text, never as markup.

/**
 * @param {string} tag
 * @param {Record<string, unknown>} attributes `true` is an empty attribute; `false`, `null` and `undefined` are left out
 * @param {...(Node | string | null | false | undefined)} children
 * @returns {HTMLElement}
 */
export function make(tag, attributes = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (typeof value === "function") element.addEventListener(name, /** @type {EventListener} */ (value));
    else if (value === true) element.setAttribute(name, "");
    else if (value !== false && value !== null && value !== undefined) element.setAttribute(name, String(value));
  }
  element.append(...children.filter((child) => child !== null && child !== false && child !== undefined).map((child) => /** @type {Node | string} */ (child)));
  return element;
}

/** The safety alert symbol, drawn: a triangle with an exclamation mark. @returns {SVGElement} */
export function alertSymbol() {
  const space = "http://www.w3.org/2000/svg";
  const svg = document.createElementNS(space, "svg");
  for (const [name, value] of [["viewBox", "0 0 24 22"], ["class", "caution__alert"], ["aria-hidden", "true"]]) svg.setAttribute(name, value);
  const path = document.createElementNS(space, "path");
  path.setAttribute("fill-rule", "evenodd");
  path.setAttribute("d", "M12 0 24 22H0ZM10.6 7.5 11.2 15.4h1.6L13.4 7.5ZM12 16.8a1.4 1.4 0 1 0 0 2.8 1.4 1.4 0 0 0 0-2.8Z");
  svg.append(path);
  return svg;
}
