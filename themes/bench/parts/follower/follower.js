// Draws the flow state into the page and hands it what people do. Keeps the run in the browser's storage, where that is allowed.
import { advance, begin, procedureOf, stepOf } from "../../script/flow-state.js";
import { make } from "./make.js";
import { pathWords } from "./record.js";
import { clockWords, drawScreen, knownNow } from "./screens.js";
import { say } from "./words.js";

/** Shown on a wait; also how often its time is saved, so that a dead phone loses little. */
const TICK_MS = 1000;

/** Starts the follower in its section. @param {HTMLElement} section */
export function startFollower(section) {
  const data = document.getElementById("flow-data");
  if (!data) throw new Error("the page holds no flow data");
  new Follower(section, JSON.parse(data.textContent ?? "")).open();
}

class Follower {
  /** @param {HTMLElement} section @param {any} flow */
  constructor(section, flow) {
    this.section = section;
    this.flow = flow;
    this.key = `stepward:run:${flow.procedure}`;
    this.stored = storageWorks();
    this.wholeText = new WholeText(flow);
    /** @type {any} */
    this.state = begin(flow, now());
    /** @type {WakeLockSentinel | null} */
    this.awake = null;
    this.armed = false;
  }

  open() {
    const saved = this.load();
    this.state = saved ?? this.state;
    this.byLink = /^#step-/.test(location.hash);
    this.draw();
    this.section.hidden = false;
    this.wholeText.putAway(true);
    this.section.addEventListener("keydown", (event) => this.keyPressed(event));
    addEventListener("hashchange", () => this.linked());
    setInterval(() => this.tick(), TICK_MS);
    document.addEventListener("visibilitychange", () => this.tick());
    if (this.byLink) this.section.scrollIntoView();
  }

  /** A link to a step leads to the follower, at its start or where the run is. */
  linked() {
    if (!/^#step-/.test(location.hash) || !this.wholeText.away) return;
    this.byLink = true;
    this.draw();
    this.heading()?.focus();
    this.section.scrollIntoView();
  }

  /** The saved run, reopened; `null` if there is none that can be read. */
  load() {
    try {
      const text = localStorage.getItem(this.key);
      const saved = text === null ? null : JSON.parse(text);
      return saved?.schema === this.state.schema ? advance(this.flow, saved, { type: "reopen" }, now()) : null;
    } catch {
      return null;
    }
  }

  save() {
    try {
      if (this.state.frames.length > 0) localStorage.setItem(this.key, JSON.stringify(this.state));
      else localStorage.removeItem(this.key);
    } catch {
      this.stored = false;
    }
  }

  /** @param {any} event */
  send(event) {
    const before = this.state;
    this.state = advance(this.flow, before, event, now());
    this.armed = false;
    this.save();
    const moved = this.state.changed !== before.changed;
    this.redraw();
    if (moved || event.type === "restart") this.arrive();
    else this.section.querySelector(".follower__problem")?.scrollIntoView({ block: "center" });
  }

  /** A screen that cannot be drawn must not leave the one before it standing: the readable page takes over. */
  redraw() {
    try {
      this.draw();
    } catch (problem) {
      this.section.replaceChildren(make("p", { class: "follower__problem", role: "alert" }, say("failed")));
      this.wholeText.offer(true);
      this.wholeText.putAway(false);
      console.error(problem);
    }
  }

  /** A new screen: its heading takes the focus, and is on the screen. */
  arrive() {
    this.heading()?.focus({ preventScroll: true });
    const top = this.section.getBoundingClientRect().top;
    if (top < 0 || top > innerHeight / 3) this.section.scrollIntoView();
  }

  tick() {
    const before = this.state;
    this.state = advance(this.flow, before, { type: "tick" }, now());
    if (this.state.wait === null) return;
    this.save();
    const over = (/** @type {any} */ state) => state.wait.counted >= state.wait.needed;
    if (this.state.screen.name !== "wait") return;
    if (before.wait === null || over(before) !== over(this.state) || before.wait.doubt !== this.state.wait.doubt) this.redraw();
    else if (!over(this.state)) this.setClock();
  }

  setClock() {
    const time = this.section.querySelector(".follower__time");
    if (time) time.textContent = clockWords(this.state.wait);
  }

  heading() {
    return /** @type {HTMLElement | null} */ (this.section.querySelector(".follower__title"));
  }

  draw() {
    const { flow, state } = this;
    const view = { flow, state, send: (/** @type {any} */ event) => this.send(event), words: (/** @type {string} */ procedure, /** @type {any} */ step) => wordsOf(flow, procedure, step), sign: signOf, notices: this.notices() };
    const drawing = drawScreen(view);
    const open = [...this.section.querySelectorAll("details[open]")].map((one) => one.className);
    const title = make("h2", { class: "follower__title", id: "follower-title", tabindex: "-1" }, drawing.title);
    const ways = make("div", { class: "follower__ways", role: "group", "aria-labelledby": "follower-title" }, ...drawing.ways);
    ways.querySelectorAll("[data-choice]").forEach((button, place) => numbered(button, place, ways.querySelectorAll("[data-choice]").length));
    const body = make("div", { class: "follower__body" }, make("p", { class: "follower__kind" }, drawing.kind), title, ...drawing.body);
    const card = make(drawing.form ? "form" : "div", { class: "follower__card", "data-screen": state.screen.name, novalidate: true }, this.head(), body, ways, this.foot());
    if (drawing.form) card.addEventListener("submit", (event) => { event.preventDefault(); drawing.form?.(/** @type {HTMLFormElement} */ (card)); });
    this.section.replaceChildren(card, ...this.sheets(view, open));
    this.section.setAttribute("aria-labelledby", "follower-title");
    this.wholeText.offer(state.frames.length === 0);
    markChart(flow, state);
    this.stayAwake(state.screen.name === "wait");
  }

  /** Said before the first step. */
  notices() {
    const procedure = this.flow.procedures[this.flow.procedure];
    const today = new Date().toISOString().slice(0, 10);
    return [
      this.state.notice?.name === "older-edition" && say("olderEdition"),
      this.byLink && say("linkToStep"),
      !this.stored && say("storageBlocked"),
      procedure.status !== "released" && say("notReleased"),
      procedure.reviewBy !== null && procedure.reviewBy < today && say("reviewOverdue", { day: procedure.reviewBy }),
    ].filter((text) => text !== false);
  }

  /** In which job one is, and the stop card. */
  head() {
    const ids = this.state.frames.length > 0 ? this.state.frames.map((/** @type {any} */ frame) => frame.procedure) : [this.flow.procedure];
    const crumbs = ids.map((/** @type {string} */ id, /** @type {number} */ place) => make("li", { "aria-current": place === ids.length - 1 ? "step" : null }, this.flow.procedures[id].title));
    return make("div", { class: "follower__head" }, make("ol", { class: "follower__crumbs" }, ...crumbs), make("a", { class: "follower__stop", href: "../stop.html", title: say("stopCardFor") }, say("stopCard")));
  }

  foot() {
    const { state } = this;
    const running = state.frames.length > 0;
    const button = (/** @type {"back"} */ key, /** @type {() => void} */ click) => make("button", { type: "button", class: "follower__minor", "data-minor": key, click }, say(key));
    const back = running && state.history.length > 0 && state.screen.name !== "resume" ? button("back", () => this.send({ type: "back" })) : null;
    const over = running && !["resume", "ending"].includes(state.screen.name) ? button(/** @type {any} */ ("takeOver"), () => this.send({ type: "take-over" })) : null;
    const again = running ? make("button", { type: "button", class: "follower__minor", "data-minor": "restart", click: (/** @type {Event} */ event) => this.restart(/** @type {HTMLElement} */ (event.currentTarget)) }, say("startAgain")) : null;
    return make("div", { class: "follower__foot" }, back, over, again);
  }

  /** A run is not thrown away by one tap. @param {HTMLElement} button */
  restart(button) {
    if (this.armed || this.state.screen.name === "ending") this.send({ type: "restart" });
    else {
      this.armed = true;
      button.textContent = say("confirmStartAgain");
    }
  }

  /** The path so far and what is known now: one tap away on every screen of a run. @param {any} view @param {string[]} open */
  sheets(view, open) {
    const { flow, state } = this;
    if (state.frames.length === 0) return [];
    const entries = state.path.map((/** @type {any} */ entry) => {
      const { asked, said } = pathWords(flow, entry);
      return make("li", { class: entry.depth > 0 ? "follower__inner" : null }, make("span", { class: "follower__asked" }, asked), " ", make("strong", {}, said));
    });
    const sheet = (/** @type {string} */ name, /** @type {string} */ title, /** @type {Node} */ content) =>
      make("details", { class: `follower__sheet follower__sheet--${name}`, open: open.includes(`follower__sheet follower__sheet--${name}`) || (name === "path" && state.screen.name === "ending") }, make("summary", {}, title), content);
    const path = entries.length > 0 ? make("ol", { class: "follower__path" }, ...entries) : make("p", {}, say("pathEmpty"));
    return [sheet("path", `${say("pathSoFar")} (${entries.length})`, path), sheet("known", say("knownNow"), knownNow(view))];
  }

  /** 1 to 9 choose an answer, Backspace goes back; only while the focus is in the follower and not in a field. @param {KeyboardEvent} event */
  keyPressed(event) {
    const target = /** @type {HTMLElement} */ (event.target);
    const typing = target.matches("textarea, input:not([type=radio])");
    if (typing || event.ctrlKey || event.altKey || event.metaKey || event.repeat) return;
    const chosen = /^[1-9]$/.test(event.key) ? this.section.querySelectorAll("[data-choice]")[Number(event.key) - 1] : event.key === "Backspace" ? this.section.querySelector("[data-minor=back]") : null;
    if (chosen instanceof HTMLElement) {
      event.preventDefault();
      chosen.click();
    }
  }

  /** A screen that stays lit keeps the running clock running. @param {boolean} wanted */
  async stayAwake(wanted) {
    try {
      if (wanted && (this.awake === null || this.awake.released)) this.awake = await navigator.wakeLock?.request("screen") ?? null;
      if (!wanted && this.awake !== null) await this.awake.release();
    } catch {
      this.awake = null;
    }
  }
}

/** @returns {import("../../script/clock.js").Clock} */
function now() {
  return { wall: Date.now(), running: performance.now() };
}

function storageWorks() {
  try {
    localStorage.setItem("stepward:try", "1");
    localStorage.removeItem("stepward:try");
    return true;
  } catch {
    return false;
  }
}

/** Several answers carry their number. @param {Element} button @param {number} place @param {number} all */
function numbered(button, place, all) {
  if (all > 1 && place < 9) button.prepend(make("kbd", { class: "follower__key", "aria-hidden": "true" }, String(place + 1)));
}

/** A step's words: from the page, or for a procedure carried out from the data. @param {any} flow @param {string} procedure @param {any} step @returns {Node[]} */
function wordsOf(flow, procedure, step) {
  const texts = step.words.map((/** @type {string} */ text) => make("p", {}, text));
  const source = procedure === flow.procedure ? document.querySelector(`#step-${CSS.escape(step.id)} .step__words`) : null;
  if (source === null) return texts.length > 0 ? [make("div", { class: "follower__words" }, ...texts)] : [];
  const copy = /** @type {HTMLElement} */ (source.cloneNode(true));
  for (const element of [copy, ...copy.querySelectorAll("[id]")]) element.removeAttribute("id");
  copy.classList.add("follower__words");
  return [copy];
}

/** The sign of a hazard as the page draws it. @param {any} hazard @returns {Node | null} */
function signOf(hazard) {
  const drawn = document.querySelector(`[data-hazard="${CSS.escape(hazard.id)}"] .sign`);
  return drawn === null ? null : drawn.cloneNode(true);
}

/** Marks where one is on the chart, and the ways taken. @param {any} flow @param {any} state */
function markChart(flow, state) {
  document.querySelectorAll(".chart .is-here, .chart .is-taken").forEach((mark) => mark.classList.remove("is-here", "is-taken"));
  if (state.frames.length === 0) return;
  const own = state.path.filter((/** @type {any} */ entry) => entry.procedure === flow.procedure && entry.depth === 0);
  for (const entry of own.filter((/** @type {any} */ entry) => entry.what === "way")) {
    const edges = document.querySelectorAll(`.chart__edge[data-from="${entry.step}"][data-way="${entry.way}"]`);
    edges.forEach((edge) => edge.classList.add("is-taken"));
  }
  const here = state.frames.length === 1 ? stepOf(flow, state)?.id : state.frames[1].caller;
  if (here && procedureOf(flow, { frames: [] }).steps[here]) document.getElementById(`chart-${here}`)?.classList.add("is-here");
}

/** The whole text of the page, put away while somebody follows: no step's words stand in sight before its cautions. */
class WholeText {
  /** @param {any} flow */
  constructor(flow) {
    const ids = Object.keys(flow.procedures[flow.procedure].steps);
    this.sections = ids.map((id) => document.getElementById(`step-${id}`)).filter((section) => section !== null);
    this.away = false;
    this.button = make("button", { type: "button", class: "follower__minor", click: () => this.putAway(!this.away) });
    this.note = make("div", { class: "follower__away" }, make("p", {}, say("wholeTextAway")), this.button);
    this.sections[0]?.before(this.note);
  }

  /** @param {boolean} away */
  putAway(away) {
    this.away = away;
    for (const section of this.sections) section.classList.toggle("is-put-away", away);
    this.button.textContent = say(away ? "wholeTextShow" : "wholeTextHide");
    this.button.setAttribute("aria-expanded", String(!away));
  }

  /** During a run it stays away. @param {boolean} allowed */
  offer(allowed) {
    if (!allowed) this.putAway(true);
    this.button.hidden = !allowed;
  }
}
