// Pieces of a drawing.

const SPACE = "http://www.w3.org/2000/svg";

/**
 * An element of SVG. Functions among the attributes listen.
 * @param {string} tag @param {Record<string, unknown>} attributes @param {...(Node | string)} children
 */
export function piece(tag, attributes = {}, ...children) {
  const element = document.createElementNS(SPACE, tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (typeof value === "function") element.addEventListener(name, /** @type {EventListener} */ (value));
    else element.setAttribute(name, String(value));
  }
  element.append(...children);
  return /** @type {SVGGraphicsElement} */ (element);
}

/** A drawing's steps stay the same as long as the page. @type {WeakMap<SVGSVGElement, Node[]>} */
const NODES = new WeakMap();

/**
 * The steps of a drawing, not those of drawings opened in it.
 * @typedef {{id: string, number: number, words: string, group: SVGGraphicsElement, link: SVGAElement}} Node
 * @param {SVGSVGElement} svg @returns {Node[]}
 */
export function nodesOf(svg) {
  const known = NODES.get(svg);
  if (known) return known;
  const groups = /** @type {SVGGraphicsElement[]} */ ([...svg.querySelectorAll(":scope > .chart__node[data-step]")]);
  const nodes = groups.map((group) => {
    const link = /** @type {SVGAElement} */ (group.querySelector("a"));
    const words = link.getAttribute("aria-label") ?? "";
    return { id: group.dataset.step ?? "", number: parseInt(words, 10), words, group, link };
  });
  NODES.set(svg, nodes);
  return nodes;
}

/** Its lines. @param {SVGSVGElement} svg @returns {SVGGraphicsElement[]} */
export function edgesOf(svg) {
  return [...svg.querySelectorAll(":scope > .chart__edge")].map((edge) => /** @type {SVGGraphicsElement} */ (edge));
}
