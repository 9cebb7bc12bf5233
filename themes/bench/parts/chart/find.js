// Finds steps by their words, their number or their signs.
import { make } from "../follower/make.js";
import { say as sayOf } from "../follower/words.js";
import { nodesOf } from "./svg.js";

const say = (/** @type {string} */ key, values = {}) => sayOf(key, values, "flowchart");

/** @param {string} text */
function plain(text) {
  return text.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase();
}

/** Whether every word of the question begins a word of the text. @param {string} text @param {string} question */
export function matches(text, question) {
  const words = plain(text).split(/[^\p{L}\p{N}]+/u);
  const asked = plain(question).split(/[^\p{L}\p{N}]+/u).filter((word) => word !== "");
  return asked.length > 0 && asked.every((word) => words.some((one) => one.startsWith(word)));
}

/** @param {SVGSVGElement} svg @param {(words: string, node: Element | null) => void} tell */
export function finder(svg, tell) {
  /** @type {import("./svg.js").Node[]} */
  let found = [];
  let at = 0;
  const input = /** @type {HTMLInputElement} */ (make("input", { id: "chart--find", type: "search", autocomplete: "off" }));
  const text = (/** @type {import("./svg.js").Node} */ node) => `${node.words} ${[...node.group.querySelectorAll("[data-sign]")].map((sign) => sign.getAttribute("aria-label")).join(" ")}`;
  const mark = () => {
    for (const { group } of nodesOf(svg)) group.classList.toggle("is-found", group === found[at]?.group);
    if (input.value.trim() === "") tell("", null);
    else if (found.length === 0) tell(say("found-none"), null);
    else tell(say("found", { place: at + 1, count: found.length, n: found[at].number }), found[at].group);
  };
  const next = make("button", { type: "button", click: () => { at = found.length === 0 ? 0 : (at + 1) % found.length; mark(); } }, say("find-next"));
  input.addEventListener("input", () => {
    found = nodesOf(svg).filter((node) => matches(text(node), input.value));
    at = 0;
    mark();
  });
  const form = make("form", { class: "chart-tools__field" }, make("label", { for: "chart--find" }, say("find")), input, next);
  // Enter goes to the step that was found.
  form.addEventListener("submit", (event) => { event.preventDefault(); found[at]?.link.focus({ preventScroll: true }); });
  return form;
}
