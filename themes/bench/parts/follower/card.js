// The card that each screen is drawn on: which job, the stop card, the screen, what else can be done, and what is one tap away.
import { stepOf } from "../../script/run-state.js";
import { make } from "./make.js";
import { pathWords } from "./record.js";
import { knownNow } from "./screens.js";
import { say } from "./words.js";

/** @typedef {import("./screens.js").View} View */

/**
 * The card of one screen: head, what is said, the ways on as a named group, the foot.
 * @param {View} view @param {import("./screens.js").Drawing} drawing
 * @param {{name: string, banner: Node[], note: (() => void) | null}} more `name` of the screen; `banner` below the heading; `note`: opens a note, `null` beside the run
 */
export function drawCard(view, drawing, { name, banner, note }) {
  const title = make("h2", { class: "follower__title", id: "follower-title", tabindex: "-1" }, drawing.title);
  const ways = make("div", { class: "follower__ways", role: "group", "aria-labelledby": "follower-title" }, ...drawing.ways);
  const choices = ways.querySelectorAll("[data-choice]");
  choices.forEach((button, place) => choices.length > 1 && place < 9 && button.prepend(make("kbd", { class: "follower__key", "aria-hidden": "true" }, String(place + 1))));
  const body = make("div", { class: "follower__body" }, make("p", { class: "follower__kind" }, drawing.kind), title, ...banner, ...drawing.body);
  const low = ["step", "wait"].includes(name) && choices.length <= 4 && !drawing.form;
  const card = make(drawing.form ? "form" : "div", { class: low ? "follower__card follower__card--low" : "follower__card", "data-screen": name, novalidate: true },
    head(view), body, ways, note === null ? null : foot(view, { note }));
  if (drawing.form) card.addEventListener("submit", (event) => { event.preventDefault(); drawing.form?.(/** @type {HTMLFormElement} */ (card)); });
  return card;
}

/** In which job one is, and the stop card. @param {View} view */
function head({ flow, state }) {
  const ids = state.frames.length > 0 ? state.frames.map((/** @type {any} */ frame) => frame.procedure) : [flow.procedure];
  const crumbs = ids.map((/** @type {string} */ id, /** @type {number} */ place) => make("li", { "aria-current": place === ids.length - 1 ? "step" : null }, flow.procedures[id].title));
  return make("div", { class: "follower__head" }, make("ol", { class: "follower__crumbs" }, ...crumbs), make("a", { class: "follower__stop", href: "../stop.html", title: say("stop-card-for") }, say("stop-card")));
}

/** @param {string} key @param {() => void} click @param {string} words */
function minor(key, click, words = say(key)) {
  return make("button", { type: "button", class: "follower__minor", "data-minor": key, click }, words);
}

/** Back, a note, handing over: under every screen of a run. @param {View} view @param {{note: () => void}} does */
function foot({ state, send, handOver }, { note }) {
  if (state.frames.length === 0) return make("div", { class: "follower__foot" });
  const atRest = ["ending", "hand-over"].includes(state.screen.name);
  return make("div", { class: "follower__foot" },
    state.history.length > 0 && state.screen.name !== "resume" ? minor("back", () => send({ type: "back" })) : null,
    minor("note", note), atRest ? null : minor("hand-over", handOver));
}

/** The path so far, what is known now, and what is done seldom: one tap away on every screen of a run. @param {View} view @param {{again: (button: HTMLElement) => void, hand: () => void, open: string[], only: boolean}} more `only`: the run is another tab's, to look at */
export function sheets(view, { again, hand, open, only }) {
  const { state, send, shelf } = view;
  const swap = minor("hand", hand, say(shelf.hand === "left" ? "hand-right" : "hand-left"));
  const sheet = (/** @type {string} */ name, /** @type {string} */ title, /** @type {(Node | null)[]} */ ...content) => {
    const kind = `follower__sheet follower__sheet--${name}`;
    return make("details", { class: kind, open: (name !== "more" && open.includes(kind)) || (name === "path" && (only || state.screen.name === "ending")) }, make("summary", {}, title), ...content);
  };
  const known = sheet("known", say("known-now"), knownNow(view));
  const taken = sheet("path", `${say("path-so-far")} (${state.path.length})`, path(view, only));
  if (only) return [taken, known];
  if (state.frames.length === 0) return [sheet("more", say("more"), make("div", { class: "follower__more" }, swap)), quoted(view)];
  const restart = minor("start-again", () => again(restart));
  const over = ["resume", "ending"].includes(state.screen.name) ? null : minor("take-over", () => send({ type: "take-over" }));
  return [
    taken, known,
    sheet("more", say("more"), make("div", { class: "follower__more" }, over, minor("other-runs", () => shelf.open(null)), restart, swap)),
    quoted(view),
  ];
}

/** What was answered, in words; a tap goes back to it. @param {View} view @param {boolean} only to look at */
function path({ flow, state, send }, only) {
  if (state.path.length === 0) return make("p", {}, say("path-empty"));
  const entries = state.path.map((/** @type {any} */ entry, /** @type {number} */ place) => {
    const { asked, said } = pathWords(flow, entry);
    const back = state.history.findIndex((/** @type {any} */ one) => one.path === place);
    const words = [make("span", { class: "follower__asked" }, asked), " ", make("strong", {}, said), entry.told ? make("span", { class: "follower__small" }, ` (${say("told")})`) : null];
    const kind = entry.depth > 0 ? "follower__inner" : null;
    if (only || back < 0 || state.screen.name === "resume") return make("li", { class: kind }, ...words);
    const go = () => send({ type: "back", times: state.history.length - back });
    return make("li", { class: kind }, make("button", { type: "button", class: "follower__answer", title: say("change-answer"), click: go }, ...words));
  });
  return make("ol", { class: "follower__path" }, ...entries);
}

/** A short address of this screen: the step where it may be named, and the revision. @param {View} view */
function quoted({ flow, state }) {
  const { id, revision } = flow.procedures[flow.procedure];
  const seen = ["step", "wait", "ending"].includes(state.screen.name) && state.frames.length === 1;
  const step = seen ? stepOf(flow, state)?.id : null;
  const words = say("quote", { id: step ? `${id}#step-${step}` : id, revision: revision ?? "-" });
  return make("p", { class: "follower__small follower__quote", "data-quote": true }, words);
}
