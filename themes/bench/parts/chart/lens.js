// Shows one part of the chart by itself: the rest turns pale. Signs of hazards never do.
import { make } from "../follower/make.js";
import { say as sayOf } from "../follower/words.js";
import { edgesOf, nodesOf } from "./svg.js";

const say = (/** @type {string} */ key, values = {}) => sayOf(key, values, "flowchart");

/** @typedef {{kind: string, id: string, name: string, steps: number[], ways: string[]}} Lens */

/** @param {SVGSVGElement} svg @param {Lens | null} lens */
export function look(svg, lens) {
  const numbers = new Map(nodesOf(svg).map((node) => [node.id, node.number]));
  svg.classList.toggle("chart--lens", lens !== null);
  const on = new Set(lens?.steps);
  for (const { number, group } of nodesOf(svg)) {
    group.classList.toggle("is-off", lens !== null && !on.has(number));
    for (const sign of group.querySelectorAll("[data-sign]")) sign.classList.toggle("is-match", lens?.kind === "hazard" && (/** @type {SVGElement} */ (sign).dataset.sign ?? "").split(" ").includes(lens.id));
  }
  const ways = new Set(lens?.ways);
  for (const edge of edgesOf(svg)) {
    const { from = "", to = "", way } = edge.dataset;
    const inside = from === "" ? on.has(numbers.get(to) ?? 0) : ways.has(`${numbers.get(from)}.${way}`);
    edge.classList.toggle("is-off", lens !== null && !inside);
  }
}

/**
 * The list to choose from, or `null` where there is nothing to choose.
 * @param {SVGSVGElement} svg @param {Lens[]} lenses @param {(words: string, first: Element | null) => void} tell
 */
export function lensChoice(svg, lenses, tell) {
  if (lenses.length === 0) return null;
  const choice = /** @type {HTMLSelectElement} */ (make("select", { id: "chart--lens" }, make("option", { value: "" }, say("show-all"))));
  for (const kind of new Set(lenses.map((lens) => lens.kind))) {
    const group = make("optgroup", { label: say(`show-${kind}`) });
    lenses.forEach((lens, place) => lens.kind === kind && group.append(make("option", { value: place }, lens.name)));
    choice.append(group);
  }
  choice.addEventListener("change", () => {
    const lens = choice.value === "" ? null : lenses[Number(choice.value)];
    look(svg, lens);
    const nodes = nodesOf(svg);
    const first = lens && nodes.find((node) => node.number === Math.min(...lens.steps));
    tell(lens ? say("shown", { count: lens.steps.length, all: nodes.length, name: lens.name }) : "", first?.group ?? null);
  });
  return make("p", { class: "chart-tools__field" }, make("label", { for: "chart--lens" }, say("show")), choice);
}
