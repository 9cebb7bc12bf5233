// Draws the flow state into the page and hands it what people do. Keeps each run in the browser's storage, where that is allowed.
import { advance, begin } from "../../script/flow-state.js";
import { forget, heldElsewhere, hold, keep, keptRuns, letGo, otherRunOf, probe, readRun, underWay } from "../../script/runs.js";
import { drawAside } from "./asides.js";
import { foot, head, sheets } from "./card.js";
import { Awake, deviceStore, handOverScript, newId, now, tabKeeps, tabKept } from "./device.js";
import { make } from "./make.js";
import { markChart, signOf, WholeText, wordsOf } from "./page.js";
import { clockWords, drawScreen } from "./screens.js";
import { say } from "./words.js";

/** Shown on a wait; also how often its time is saved, so that a dead phone loses little, and how often a tab says that it has the run. */
const TICK_MS = 1000;
const HAND = "stepward:hand";

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
    this.store = deviceStore();
    this.room = probe(this.store);
    this.tab = newId();
    this.openKey = `stepward:open:${flow.procedure}`;
    this.wholeText = new WholeText(flow);
    this.awake = new Awake();
    /** Where the run is kept; `null` before there is one. @type {string | null} */
    this.id = null;
    /** @type {any} */
    this.state = begin(flow, now());
    /** What is shown instead of the run. @type {import("./asides.js").Aside | null} */
    this.aside = null;
    /** Another run for the same machine. @type {any} */
    this.same = null;
    /** What was typed before it was refused for that. @type {any} */
    this.typed = null;
    this.armed = false;
    this.byLink = false;
    try {
      this.hand = localStorage.getItem(HAND) === "left" ? "left" : "right";
    } catch {
      this.hand = "right";
    }
  }

  open() {
    this.byLink = /^#step-/.test(location.hash);
    const asked = this.fromAddress();
    if (!asked) this.reopenLast();
    this.draw();
    this.section.hidden = false;
    this.wholeText.putAway(true);
    this.section.addEventListener("keydown", (event) => this.keyPressed(event));
    addEventListener("hashchange", () => this.linked());
    addEventListener("storage", () => this.aside?.name === "elsewhere" && this.lookAgain());
    // A reload may begin before the old page hides; one that does not come takes the run again within a second.
    for (const leaving of ["beforeunload", "pagehide"]) addEventListener(leaving, () => this.id !== null && letGo(this.store, this.flow.procedure, this.id, this.tab));
    addEventListener("pageshow", (event) => event.persisted && this.id !== null && this.openRun(this.id));
    setInterval(() => this.tick(), TICK_MS);
    // On its way out a page is hidden too: then it takes nothing any more.
    document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && this.tick());
    if (this.byLink || asked) this.section.scrollIntoView();
  }

  /** A run in the address, or one kept here that the address names. */
  fromAddress() {
    const [, what, text] = /^#(run|open)=([\w-]*)$/.exec(location.hash) ?? [];
    if (what === undefined) return false;
    // The run is not opened anew by a reload.
    history.replaceState(null, "", location.pathname + location.search);
    if (what === "open") this.openRun(text);
    else this.openPacket(text);
    return true;
  }

  /** The run that this tab had open, or the only one that is under way. */
  reopenLast() {
    const { procedure, edition } = this.flow;
    const last = tabKept(this.openKey);
    const runs = keptRuns(this.store).filter((one) => one.procedure === procedure && (underWay(one.state) || one.state.edition !== edition));
    const only = runs.length === 1 && !heldElsewhere(this.store, procedure, runs[0].id, this.tab, Date.now()) ? runs[0].id : null;
    const id = last !== null && readRun(this.store, procedure, last) !== null ? last : only;
    if (id !== null) this.openRun(id);
  }

  /** Opens a kept run, or with `null` the screen before the first step. @param {string | null} id */
  openRun(id) {
    const { procedure } = this.flow;
    if (this.id !== null && this.id !== id) letGo(this.store, procedure, this.id, this.tab);
    const saved = id === null ? null : readRun(this.store, procedure, id);
    Object.assign(this, { id: saved === null ? null : id, aside: null, same: null, armed: false, state: begin(this.flow, now()) });
    tabKeeps(this.openKey, this.id);
    if (saved !== null && id !== null) this.show(saved, id);
    if (!this.section.hidden) {
      this.redraw();
      this.arrive();
    }
  }

  /** @param {any} saved @param {string} id */
  show(saved, id) {
    const { procedure, edition } = this.flow;
    const known = saved.schema === this.state.schema && saved.edition === edition;
    if (!known || !underWay(saved)) {
      this.aside = { name: "closed", why: known ? "over" : "edition", saved };
    } else if (!hold(this.store, procedure, id, this.tab, Date.now())) {
      this.state = { ...this.state, ...saved };
      this.onlyLook(false);
    } else {
      this.state = advance(this.flow, { ...this.state, ...saved }, { type: "reopen" }, now());
    }
  }

  /** @param {boolean} free whether the other tab is gone */
  onlyLook(free) {
    this.aside = { name: "elsewhere", free, take: () => this.openRun(this.id) };
  }

  /** What the other tab has done, and whether it is still there. */
  lookAgain() {
    if (this.id === null) return;
    const saved = readRun(this.store, this.flow.procedure, this.id);
    if (saved !== null) this.state = { ...this.state, ...saved };
    this.onlyLook(!heldElsewhere(this.store, this.flow.procedure, this.id, this.tab, Date.now()));
    this.redraw();
  }

  /** A run that travelled in a link. @param {string} text */
  async openPacket(text) {
    this.aside = { name: "packet" };
    try {
      await handOverScript();
      const opened = { flow: this.flow, text, result: /** @type {any} */ (null) };
      document.dispatchEvent(new CustomEvent("stepward:unpack", { detail: opened }));
      this.take(opened.result, text);
    } catch {
      this.aside = { name: "refusedLink", reason: "other" };
    }
    this.redraw();
    this.arrive();
  }

  /** @param {any} result of unpacking @param {string} text */
  take(result, text) {
    const same = result.run ? otherRunOf(this.store, result.run.about.serial, this.flow.procedure, "-") : null;
    if (!result.run || same) {
      this.aside = { name: "refusedLink", text, ...(same ? { reason: "same", same } : result) };
      return;
    }
    this.aside = null;
    this.id = newId();
    this.state = advance(this.flow, result.run, { type: "reopen" }, now());
    this.save();
  }

  save() {
    tabKeeps(this.openKey, this.id);
    if (this.id === null) return;
    const { procedure, procedures } = this.flow;
    const state = { ...this.state, title: procedures[procedure].title };
    const kept = keep(this.store, { id: this.id, procedure, state }, this.tab, Date.now());
    if (kept === "elsewhere") this.lookAgain();
    else if (this.room === "works" && kept === "failed") this.room = "failed";
  }

  /** @param {any} event */
  send(event) {
    if (this.aside !== null && event.type !== "machine") return;
    const before = this.state;
    this.same = event.type === "start" ? otherRunOf(this.store, event.serial ?? "", this.flow.procedure, "-") : null;
    if (this.same !== null) {
      this.state = { ...before, typed: event, refusal: null };
      this.redraw();
      this.section.querySelector(".follower__problem")?.scrollIntoView({ block: "center" });
      return;
    }
    this.state = advance(this.flow, before, event, now());
    this.armed = false;
    if (this.id === null && this.state.frames.length > 0) this.id = newId();
    this.save();
    const moved = this.state.changed !== before.changed;
    this.redraw();
    if (moved) this.arrive();
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
    if (this.aside?.name === "elsewhere") {
      const free = this.id !== null && !heldElsewhere(this.store, this.flow.procedure, this.id, this.tab, Date.now());
      if (free !== this.aside.free) this.lookAgain();
      return;
    }
    const open = this.id !== null && this.aside?.name !== "closed";
    if (open && this.id !== null && !hold(this.store, this.flow.procedure, this.id, this.tab, Date.now())) {
      this.lookAgain();
      return;
    }
    const before = this.state;
    this.state = advance(this.flow, before, { type: "tick" }, now());
    if (this.state.wait === null) return;
    this.save();
    const over = (/** @type {any} */ state) => state.wait.counted >= state.wait.needed;
    if (this.state.screen.name !== "wait" || this.aside !== null) return;
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

  /** A link to a step leads to the follower, at its start or where the run is. */
  linked() {
    if (!this.fromAddress()) {
      if (!/^#step-/.test(location.hash) || !this.wholeText.away) return;
      this.byLink = true;
      this.redraw();
    }
    this.heading()?.focus();
    this.section.scrollIntoView();
  }

  /** Shows something beside the run, or the run again. @param {import("./asides.js").Aside | null} aside */
  beside(aside) {
    this.aside = aside;
    this.redraw();
    this.arrive();
    if (aside?.name === "note") /** @type {HTMLElement | null} */ (this.section.querySelector("textarea"))?.focus();
  }

  /** The link, the code, the text and the record: drawn by a script of their own. */
  async handOver() {
    this.beside({ name: "packet" });
    try {
      await handOverScript();
      this.drawPacket();
    } catch {
      if (this.aside?.name === "packet") this.beside({ name: "packet", failed: true });
    }
  }

  drawPacket() {
    const into = this.section.querySelector("[data-packet]");
    const send = (/** @type {any} */ event) => { this.send(event); this.drawPacket(); };
    if (into) document.dispatchEvent(new CustomEvent("stepward:hand-over", { detail: { flow: this.flow, state: this.state, into, send, address: location.href.split("#")[0] } }));
  }

  /** @returns {import("./screens.js").View} */
  view() {
    const { flow, state } = this;
    const runs = keptRuns(this.store).filter((one) => one.id !== this.id || one.procedure !== flow.procedure);
    return {
      flow, state, notices: this.notices(), sign: signOf, words: (procedure, step) => wordsOf(flow, procedure, step),
      send: (event) => this.send(event), close: () => this.beside(null), handOver: () => this.handOver(),
      shelf: {
        procedure: flow.procedure, room: this.room, same: this.same, runs, store: this.store, tab: this.tab, wall: Date.now(), hand: this.hand,
        open: (/** @type {string | null} */ id) => this.openRun(id),
        forget: (/** @type {any} */ kept) => { forget(this.store, kept.procedure, kept.id); this.redraw(); },
      },
    };
  }

  draw() {
    const view = this.view();
    const { state, aside } = this;
    const drawing = aside === null ? drawScreen(view) : drawAside(view, aside);
    const open = [...this.section.querySelectorAll("details[open]")].map((one) => one.className);
    const title = make("h2", { class: "follower__title", id: "follower-title", tabindex: "-1" }, drawing.title);
    const ways = make("div", { class: "follower__ways", role: "group", "aria-labelledby": "follower-title" }, ...drawing.ways);
    const choices = ways.querySelectorAll("[data-choice]");
    choices.forEach((button, place) => choices.length > 1 && place < 9 && button.prepend(make("kbd", { class: "follower__key", "aria-hidden": "true" }, String(place + 1))));
    const body = make("div", { class: "follower__body" }, make("p", { class: "follower__kind" }, drawing.kind), title, ...this.banner(), ...drawing.body);
    const name = aside?.name ?? state.screen.name;
    const low = ["step", "wait"].includes(name) && choices.length <= 4 && !drawing.form;
    const card = make(drawing.form ? "form" : "div", { class: low ? "follower__card follower__card--low" : "follower__card", "data-screen": name, novalidate: true },
      head(view), body, ways, aside === null ? foot(view, { note: () => this.beside({ name: "note" }) }) : null);
    if (drawing.form) card.addEventListener("submit", (event) => { event.preventDefault(); drawing.form?.(/** @type {HTMLFormElement} */ (card)); });
    this.section.replaceChildren(card, ...(aside === null || aside.name === "elsewhere" ? sheets(view, { again: (button) => this.restart(button), hand: () => this.changeHand(), open }) : []));
    this.section.setAttribute("aria-labelledby", "follower-title");
    this.section.dataset.hand = this.hand;
    this.wholeText.offer(state.frames.length === 0);
    markChart(this.flow, state);
    this.awake.keep(state.screen.name === "wait" && aside === null);
  }

  /** On a run that cannot be kept. */
  banner() {
    return this.state.frames.length > 0 && this.room !== "works" ? [make("p", { class: "follower__notice", "data-room": this.room }, say(`store-${this.room}`))] : [];
  }

  /** Said before the first step. */
  notices() {
    const procedure = this.flow.procedures[this.flow.procedure];
    const today = new Date().toISOString().slice(0, 10);
    return [
      this.byLink && say("link-to-step"),
      procedure.status !== "released" && say("not-released"),
      procedure.reviewBy !== null && procedure.reviewBy < today && say("review-overdue", { day: procedure.reviewBy }),
    ].filter((text) => typeof text === "string");
  }

  /** A run is not thrown away by one tap. @param {HTMLElement} button */
  restart(button) {
    if (!this.armed) {
      this.armed = true;
      button.textContent = say("confirm-start-again");
      return;
    }
    if (this.id !== null) forget(this.store, this.flow.procedure, this.id);
    this.openRun(null);
  }

  changeHand() {
    this.hand = this.hand === "left" ? "right" : "left";
    try {
      localStorage.setItem(HAND, this.hand);
    } catch {
      // Then it holds for this page.
    }
    this.redraw();
  }

  /** 1 to 9 choose, Enter takes the one way on, Backspace goes back, Escape closes; only while the focus is in the follower and not in a field. @param {KeyboardEvent} event */
  keyPressed(event) {
    const target = /** @type {HTMLElement} */ (event.target);
    if (event.key === "Escape" && this.escaped()) return event.preventDefault();
    const typing = target.matches("textarea, input:not([type=radio])");
    if (typing || event.ctrlKey || event.altKey || event.metaKey || event.repeat) return;
    const find = (/** @type {string} */ selector) => this.section.querySelectorAll(selector);
    const main = find(".follower__way--main");
    const chosen = /^[1-9]$/.test(event.key) ? find("[data-choice]")[Number(event.key) - 1]
      : event.key === "Backspace" ? find("[data-minor=back]")[0]
      : event.key === "Enter" && target.matches(".follower__title") && main.length === 1 ? main[0] : null;
    if (chosen instanceof HTMLElement) {
      event.preventDefault();
      chosen.click();
    }
  }

  /** Closes what is open beside the run. */
  escaped() {
    if (this.aside !== null && ["note", "packet"].includes(this.aside.name) && this.state.frames.length > 0) {
      this.beside(null);
      return true;
    }
    const open = this.section.querySelector("details[open]");
    if (!open) return false;
    open.removeAttribute("open");
    /** @type {HTMLElement | null} */ (open.querySelector("summary"))?.focus();
    return true;
  }
}
