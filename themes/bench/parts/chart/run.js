// A run on the chart: the way taken, where one is, and the ways still possible. Pure, but for the last function, which marks the drawing.
import { edgesOf, nodesOf, piece } from "./svg.js";
import { say } from "../follower/words.js";

/**
 * The step of the page's own procedure at which a run stands: while another is carried out, the step that carries it out. `null` before a run.
 * @param {any} flow @param {any} state @returns {string | null}
 */
export function hereOf(flow, state) {
  if (state.frames.length === 0) return null;
  const id = state.frames.length === 1 ? state.step : state.frames[1].caller;
  return flow.procedures[flow.procedure].steps[id] ? id : null;
}

/** Ways taken in the page's own procedure, as `step.index`. @param {any} flow @param {any} state @returns {Set<string>} */
export function takenWays(flow, state) {
  const own = state.path.filter((/** @type {any} */ entry) => entry.what === "way" && entry.depth === 0 && entry.procedure === flow.procedure);
  return new Set(own.map((/** @type {any} */ entry) => `${entry.step}.${entry.way}`));
}

/** The ways on from a step that a run may still take. @param {any} state @param {any} step @returns {number[]} indexes */
function waysOn(state, step) {
  const named = step.ways.some((/** @type {any} */ way) => way.kind === "model" && way.text === state.model);
  const done = state.counts[`${state.frames[0].id}/${step.id}`] ?? 0;
  const worn = step.atMost !== null && done >= step.atMost && step.id !== state.step;
  const open = (/** @type {any} */ way) => {
    if (worn) return way.kind === "otherwise";
    return way.kind !== "model" || state.model === null || way.text === state.model || (way.text === "others" && !named);
  };
  return step.ways.flatMap((/** @type {any} */ way, /** @type {number} */ index) => (open(way) ? [index] : []));
}

/**
 * What can still come, from where the run is.
 * @param {any} flow @param {any} state @returns {{steps: Set<string>, ways: Set<string>}}
 */
export function possible(flow, state) {
  const { steps } = flow.procedures[flow.procedure];
  const here = hereOf(flow, state);
  const seen = new Set(here === null ? [] : [here]);
  const ways = new Set();
  for (const id of seen) {
    for (const index of waysOn(state, steps[id])) {
      const { then } = steps[id].ways[index];
      if (!steps[then]) continue;
      ways.add(`${id}.${index}`);
      seen.add(then);
    }
  }
  return { steps: seen, ways };
}

/** Marks a run on a drawing. @param {SVGSVGElement} svg @param {any} flow @param {any} state @returns {SVGGraphicsElement | null} where one is */
export function markRun(svg, flow, state) {
  const here = hereOf(flow, state);
  const taken = takenWays(flow, state);
  const { steps, ways } = possible(flow, state);
  svg.classList.toggle("chart--run", here !== null);
  svg.querySelector(":scope > .chart__here")?.remove();
  for (const edge of edgesOf(svg)) {
    const { from, way } = edge.dataset;
    const name = `${from}.${way}`;
    edge.classList.toggle("is-taken", from === undefined ? here !== null : taken.has(name));
    edge.classList.toggle("is-open", ways.has(name));
  }
  const passed = new Set([...taken].map((name) => name.slice(0, name.lastIndexOf("."))));
  let found = null;
  for (const { id, group, link } of nodesOf(svg)) {
    const is = here === id;
    group.classList.toggle("is-here", is);
    group.classList.toggle("is-open", here !== null && steps.has(id));
    group.classList.toggle("is-passed", passed.has(id));
    if (is) link.setAttribute("aria-current", "step");
    else link.removeAttribute("aria-current");
    if (is) found = group;
  }
  if (found) svg.append(flag(found));
  return found;
}

/** A word beside the symbol, so that width and colour are not all that tells. @param {SVGGraphicsElement} group */
function flag(group) {
  const shape = /** @type {SVGGraphicsElement} */ (group.querySelector(".chart__shape"));
  const { x, y, height } = shape.getBBox();
  const move = group.getAttribute("transform");
  const mark = piece("g", { class: "chart__here", "aria-hidden": "true", ...(move ? { transform: move } : {}) });
  const [left, top] = [x - 34, y + height / 2 - 10];
  mark.append(piece("path", { d: `M${left} ${top}h32l8 10-8 10h-32z` }), piece("text", { x: left + 17, y: top + 14, "font-size": 12, "text-anchor": "middle" }, say("here", {}, "flowchart")));
  return mark;
}
