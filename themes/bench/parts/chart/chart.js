// The flowchart comes alive: its window, its tools, the run on it, a step in words. Each of these stands in a file of its own.
import { make } from "../follower/make.js";
import { say as sayOf } from "../follower/words.js";
import { finder } from "./find.js";
import { Folds } from "./fold.js";
import { lensChoice } from "./lens.js";
import { hereOf, markRun } from "./run.js";
import { StepSheet } from "./step-sheet.js";
import { View } from "./view.js";

const say = (/** @type {string} */ key, values = {}) => sayOf(key, values, "flowchart");

/** @param {HTMLElement} section */
export function startChart(section) {
  const region = section.querySelector(".chart-scroll");
  const svg = region?.querySelector("svg");
  if (!(region instanceof HTMLElement) || !(svg instanceof SVGSVGElement)) return;
  const data = JSON.parse(document.getElementById("chart--data")?.textContent ?? "{}");
  const status = make("p", { class: "chart-tools__status", role: "status" });
  const view = new View(region, svg);
  const tell = (/** @type {string} */ words, /** @type {Element | null} */ node) => {
    status.textContent = words;
    view.show(node);
  };
  const sheet = new StepSheet(svg, view, () => running() !== null);
  new Folds(svg, view, data.drawings ?? {}, tell);
  const tools = make("div", { class: "chart-tools", role: "group", "aria-label": say("tools") },
    make("div", { class: "chart-tools__fields" }, finder(svg, tell), lensChoice(svg, data.lenses ?? [], tell)),
    buttons(view), status);
  region.before(tools);
  region.after(sheet.sheet, make("p", { class: "aside chart-tools__help" }, say("help")));
  section.classList.add("is-alive");
  view.show(svg.querySelector("[id$='chart--start']"));
  followRun(svg, view);
}

/** The run that the follower shows, if there is one. @returns {any} */
function running() {
  const run = /** @type {any} */ (document).stepwardRun;
  return run && hereOf(run.flow, run.state) !== null ? run : null;
}

/** @param {SVGSVGElement} svg @param {View} view */
function followRun(svg, view) {
  /** @type {string | null} */
  let last = null;
  const mark = () => {
    const run = /** @type {any} */ (document).stepwardRun;
    if (!run) return;
    const here = markRun(svg, run.flow, run.state);
    const step = here?.dataset.step ?? null;
    if (step !== last) view.show(here);
    last = step;
  };
  document.addEventListener("stepward:run", mark);
  mark();
}

/** Everything that dragging, the wheel and two fingers do, by single clicks. @param {View} view */
function buttons(view) {
  /** @type {[string, string, () => void][]} */
  const all = [
    ["left", "\u2190", () => view.move(-1, 0)], ["up", "\u2191", () => view.move(0, -1)], ["down", "\u2193", () => view.move(0, 1)], ["right", "\u2192", () => view.move(1, 0)],
    ["zoom-out", "\u2212", () => view.zoomBy(-1)], ["zoom-in", "+", () => view.zoomBy(1)],
  ];
  const drawn = all.map(([key, sign, act]) => make("button", { type: "button", "aria-label": say(key), title: say(key), click: act }, sign));
  const named = [["zoom-whole", () => view.whole()], ["zoom-width", () => view.wide()], ["zoom-full", () => view.zoomTo(1)]].map(([key, act]) => make("button", { type: "button", click: act }, say(String(key))));
  return make("div", { class: "chart-tools__buttons" }, ...drawn, ...named);
}
