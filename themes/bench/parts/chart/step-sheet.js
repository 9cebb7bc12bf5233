// A step of the chart in words, under the drawing: with its cautions before it, and the way back. During a run only the follower shows a step's own words.
import { make } from "../follower/make.js";
import { say as sayOf } from "../follower/words.js";
import { edgesOf, nodesOf } from "./svg.js";

const say = (/** @type {string} */ key, values = {}) => sayOf(key, values, "flowchart");

export class StepSheet {
  /** @param {SVGSVGElement} svg @param {import("./view.js").View} view @param {() => boolean} running */
  constructor(svg, view, running) {
    this.svg = svg;
    this.view = view;
    this.running = running;
    this.sheet = make("div", { class: "chart-step", role: "region", hidden: true });
    this.sheet.addEventListener("click", (event) => this.followed(event));
    this.sheet.addEventListener("keydown", (event) => event.key === "Escape" && this.back());
    svg.addEventListener("click", (event) => this.clicked(event));
    /** @type {import("./svg.js").Node | null} */
    this.node = null;
  }

  /** @param {Event} event @returns {string | null} the step that a plain click on a link asks for */
  asked(event) {
    const click = /** @type {MouseEvent} */ (event);
    const link = event.target instanceof Element ? event.target.closest("a") : null;
    const step = /^#step-(.+)$/.exec(link?.getAttribute("href") ?? "");
    return step === null || click.ctrlKey || click.metaKey || click.shiftKey ? null : step[1];
  }

  /** @param {Event} event */
  clicked(event) {
    const step = this.asked(event);
    if (step !== null && this.show(step)) event.preventDefault();
  }

  /** @param {Event} event */
  followed(event) {
    const step = this.asked(event);
    if (step === null || !this.show(step)) return;
    event.preventDefault();
  }

  /** @param {string} id @returns {boolean} whether there is such a step */
  show(id) {
    const node = nodesOf(this.svg).find((one) => one.id === id);
    const section = document.getElementById(`step-${id}`);
    if (!node || !section) return false;
    this.node = node;
    for (const one of nodesOf(this.svg)) one.group.classList.toggle("is-shown", one === node);
    const brief = this.running();
    const copy = copyOf(section, brief);
    const title = copy.querySelector("h3");
    title?.setAttribute("tabindex", "-1");
    this.sheet.setAttribute("aria-label", node.words);
    this.sheet.replaceChildren(
      make("p", { class: "chart-step__head" }, make("button", { type: "button", click: () => this.back() }, say("back")), make("span", { class: "aside" }, say(brief ? "step-brief" : "step-to-read"))),
      copy, this.sources(id),
    );
    this.sheet.hidden = false;
    this.view.show(node.group);
    (title ?? this.sheet).focus({ preventScroll: true });
    this.sheet.scrollIntoView({ block: "nearest" });
    return true;
  }

  /** The steps that lead to one. @param {string} id */
  sources(id) {
    const nodes = nodesOf(this.svg);
    const from = new Set(edgesOf(this.svg).filter((edge) => edge.dataset.to === id).map((edge) => edge.dataset.from));
    const links = nodes.filter((node) => from.has(node.id)).map((node) => make("li", {}, make("a", { href: `#step-${node.id}` }, node.words)));
    return make("div", { class: "chart-step__from" }, make("p", {}, say("comes-from")), links.length > 0 ? make("ul", {}, ...links) : make("p", {}, say("nowhere")));
  }

  back() {
    this.sheet.hidden = true;
    this.node?.group.classList.remove("is-shown");
    this.view.region.scrollIntoView({ block: "nearest" });
    this.view.show(this.node?.group ?? null);
    this.node?.link.focus({ preventScroll: true });
  }
}

/** A step's section without its names, so that the page has each of them once. @param {HTMLElement} section @param {boolean} brief */
function copyOf(section, brief) {
  const copy = make("div", { class: "step" }, ...[...section.childNodes].map((child) => child.cloneNode(true)));
  for (const element of copy.querySelectorAll("[id], [aria-labelledby]")) {
    element.removeAttribute("id");
    element.removeAttribute("aria-labelledby");
  }
  if (brief) copy.querySelectorAll(".step__work").forEach((work) => work.remove());
  return copy;
}
