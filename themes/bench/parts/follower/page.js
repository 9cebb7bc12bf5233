// What the follower takes from the page it stands on: a step's words, a hazard's sign, the chart, the whole text.
import { make } from "./make.js";
import { say } from "./words.js";

/** A step's words: from the page, or for a procedure carried out from the data. @param {any} flow @param {string} procedure @param {any} step @returns {Node[]} */
export function wordsOf(flow, procedure, step) {
  const texts = step.words.map((/** @type {string} */ text) => make("p", {}, text));
  const source = procedure === flow.procedure ? document.querySelector(`#step-${CSS.escape(step.id)} .step__words`) : null;
  if (source === null) return texts.length > 0 ? [make("div", { class: "follower__words" }, ...texts)] : [];
  const copy = /** @type {HTMLElement} */ (source.cloneNode(true));
  for (const element of [copy, ...copy.querySelectorAll("[id]")]) element.removeAttribute("id");
  copy.classList.add("follower__words");
  // On the card they stand below its own heading, with no level between.
  for (const heading of copy.querySelectorAll("h4, h5, h6")) heading.setAttribute("aria-level", String(Number(heading.tagName[1]) - 1));
  return [copy];
}

/** The sign of a hazard as the page draws it. @param {any} hazard @returns {Node | null} */
export function signOf(hazard) {
  const drawn = document.querySelector(`[data-hazard="${CSS.escape(hazard.id)}"] .sign`);
  return drawn === null ? null : drawn.cloneNode(true);
}

/** Tells the flowchart's script, now or when it comes, where one is. @param {any} flow @param {any} state */
export function markChart(flow, state) {
  Object.assign(document, { stepwardRun: { flow, state } });
  document.dispatchEvent(new Event("stepward:run"));
}

/** The whole text of the page, put away while somebody follows: no step's words stand in sight before its cautions. */
export class WholeText {
  /** @param {any} flow */
  constructor(flow) {
    const ids = Object.keys(flow.procedures[flow.procedure].steps);
    this.sections = ids.map((id) => document.getElementById(`step-${id}`)).filter((section) => section !== null);
    this.away = false;
    this.button = make("button", { type: "button", class: "follower__minor", click: () => this.putAway(!this.away) });
    this.note = make("div", { class: "follower__away" }, make("p", {}, say("whole-text-away")), this.button);
    this.sections[0]?.before(this.note);
  }

  /** @param {boolean} away */
  putAway(away) {
    this.away = away;
    for (const section of this.sections) section.classList.toggle("is-put-away", away);
    this.button.textContent = say(away ? "whole-text-show" : "whole-text-hide");
    this.button.setAttribute("aria-expanded", String(!away));
  }

  /** During a run it stays away. @param {boolean} allowed */
  offer(allowed) {
    if (!allowed) this.putAway(true);
    this.button.hidden = !allowed;
  }
}
