// Draws the flow state into the page and hands it what people do. Keeps each run in the browser's storage, where that is allowed.
import { advance, begin } from "../../script/flow-state.js";
import { otherModelOf, otherRunOf, underWay } from "../../script/runs.js";
import { drawAside } from "./asides.js";
import { drawCard, sheets } from "./card.js";
import { Awake, handOverScript, newId, now, tabKeeps, tabKept } from "./device.js";
import { listenToKeys } from "./keys.js";
import { make } from "./make.js";
import { modelName } from "./record.js";
import { markChart, signOf, WholeText, wordsOf } from "./page.js";
import { clockWords, drawScreen } from "./screens.js";
import { Shelf } from "./shelf.js";
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
    this.shelf = new Shelf(flow.procedure);
    this.openKey = `stepward:open:${flow.procedure}`;
    this.wholeText = new WholeText(flow);
    this.awake = new Awake();
    /** Where the run is kept; `null` before there is one. @type {string | null} */
    this.id = null;
    /** @type {any} */
    this.state = begin(flow, now());
    /** What is shown instead of the run. @type {import("./asides.js").Aside | null} */
    this.aside = null;
    /** A run of another procedure for the same machine. @type {any} */
    this.same = null;
    /** A serial number and model that do not go together, and the model it had before. @type {{said: string, was: string} | null} */
    this.doubt = null;
    /** Runs that were left on this page while they waited: when, by the running clock. @type {Map<string, number>} */
    this.waiting = new Map();
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
    listenToKeys(this.section, () => this.closeAside());
    addEventListener("hashchange", () => this.linked());
    addEventListener("storage", () => (this.aside?.name === "elsewhere" ? this.lookAgain() : this.tick()));
    // A reload may begin before the old page hides; one that does not come takes the run again within a second.
    for (const leaving of ["beforeunload", "pagehide"]) addEventListener(leaving, () => this.id !== null && this.shelf.letGo(this.id));
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
    const runs = this.shelf.runs().filter((one) => one.procedure === procedure && (underWay(one.state) || one.state.edition !== edition));
    const only = runs.length === 1 && this.shelf.isFree(runs[0].id) ? runs[0].id : null;
    const id = last !== null && this.shelf.read(last) !== null ? last : only;
    if (id !== null) this.openRun(id);
  }

  /** Opens a kept run, or with `null` the screen before the first step. @param {string | null} id @param {"take" | "look" | null} how whether it is taken from another tab, or only looked at @param {any} typed what was typed for a run of its own */
  openRun(id, how = null, typed = null) {
    if (this.id !== null && this.id !== id) this.leave(this.id);
    const saved = id === null ? null : this.shelf.read(id);
    Object.assign(this, { id: saved === null ? null : id, aside: null, same: null, doubt: null, armed: false, state: begin(this.flow, now()) });
    tabKeeps(this.openKey, this.id);
    if (saved !== null && id !== null) this.show(saved, id, how, typed);
    else if (typed !== null) this.state.typed = typed;
    if (!this.section.hidden) {
      this.redraw();
      this.arrive();
    }
  }

  /** Lets go of a run; one that waits is kept with its time, which both clocks go on counting on this page. @param {string} id */
  leave(id) {
    if (this.aside === null && this.state.wait !== null) {
      this.state = advance(this.flow, this.state, { type: "tick" }, now());
      this.save();
      this.waiting.set(id, this.state.last.running);
    }
    this.shelf.letGo(id);
  }

  /** Whether the clock of this page has run since the run was left. @param {string} id @param {any} saved */
  waitsHere(id, saved) {
    return saved.wait !== null && this.waiting.get(id) === saved.last.running;
  }

  /** @param {any} saved @param {string} id @param {"take" | "look" | null} how @param {any} typed */
  show(saved, id, how, typed) {
    const known = saved.schema === this.state.schema && saved.edition === this.flow.edition;
    if (!known || !underWay(saved)) {
      this.aside = { name: "closed", why: known ? "over" : "edition", saved };
    } else if (how === "look" || !this.shelf.hold(id, how === "take")) {
      this.state = { ...this.state, ...saved };
      this.onlyLook(typed);
    } else {
      this.state = advance(this.flow, { ...this.state, ...saved }, { type: "reopen", samePage: this.waitsHere(id, saved) }, now());
    }
  }

  /** The run as another tab has it; to take it over is an act of its own. @param {any} typed what was typed for a second run on the same machine */
  onlyLook(typed) {
    const free = this.id !== null && this.shelf.isFree(this.id);
    this.aside = { name: "elsewhere", free, typed, take: () => this.openRun(this.id, "take"), other: () => this.openRun(null, null, typed) };
  }

  /** What the other tab has done, and whether it is still there. */
  lookAgain() {
    if (this.id === null) return;
    const saved = this.shelf.read(this.id);
    if (saved !== null) this.state = { ...this.state, ...saved };
    this.onlyLook(this.aside?.typed ?? null);
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
    const same = result.run ? otherRunOf(this.shelf.store, result.run.about.serial, this.flow.procedure, "-") : null;
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
    if (this.shelf.keep(this.id, { ...this.state, title: procedures[procedure].title }) === "elsewhere") this.lookAgain();
  }

  /** @param {any} event */
  send(event) {
    if (this.aside !== null && event.type !== "machine") return;
    const before = this.state;
    if (event.type === "start" && this.asksFirst(event)) return;
    this.state = advance(this.flow, before, event, now());
    this.armed = false;
    if (this.id === null && this.state.frames.length > 0) this.id = newId();
    this.save();
    const moved = this.state.changed !== before.changed;
    this.redraw();
    if (moved) this.arrive();
    else this.section.querySelector(".follower__problem")?.scrollIntoView({ block: "center" });
  }

  /** Whether something about the machine is said before a run begins: it has one under way, or was another model before. @param {any} event */
  asksFirst(event) {
    const { procedure } = this.flow;
    this.same = otherRunOf(this.shelf.store, event.serial ?? "", procedure, "-");
    if (this.same?.procedure === procedure) {
      this.openRun(this.same.id, "look", event);
      return true;
    }
    const was = otherModelOf(this.shelf.store, event.serial ?? "", event.model ?? null);
    const said = `${event.serial} ${event.model}`;
    // Said again it is meant, and goes into the record.
    if (was !== null && this.doubt?.said === said) event.remark = say("other-model-kept", { model: modelName(this.flow, was) });
    this.doubt = was === null ? null : { said, was };
    if (this.same === null && (was === null || event.remark)) return false;
    this.state = { ...this.state, typed: event, refusal: null };
    this.redraw();
    this.section.querySelector(".follower__problem")?.scrollIntoView({ block: "center" });
    return true;
  }

  /** A screen that cannot be drawn must not leave the one before it standing: the readable page takes over. What is drawn anew keeps the focus. */
  redraw() {
    const focused = this.section.contains(document.activeElement) ? document.activeElement : null;
    try {
      this.draw();
    } catch (problem) {
      this.section.replaceChildren(make("p", { class: "follower__problem", role: "alert" }, say("failed")));
      this.wholeText.offer(true);
      this.wholeText.putAway(false);
      console.error(problem);
    }
    if (focused !== null && !this.section.contains(document.activeElement)) {
      const name = focused.getAttribute("name");
      const field = name && this.section.querySelector(`[name="${name}"]${focused.matches(":checked") ? ":checked" : ""}`);
      (/** @type {HTMLElement | null} */ (field) || this.heading())?.focus({ preventScroll: true });
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
      const free = this.id !== null && this.shelf.isFree(this.id);
      if (free !== this.aside.free) this.lookAgain();
      return;
    }
    const open = this.id !== null && this.aside?.name !== "closed";
    if (open && this.id !== null && !this.shelf.hold(this.id)) {
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

  /** Back from a note or the hand-over to the run. */
  closeAside() {
    const closes = this.aside !== null && ["note", "packet"].includes(this.aside.name) && this.state.frames.length > 0;
    if (closes) this.beside(null);
    return closes;
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
    const runs = this.shelf.runs().filter((one) => one.id !== this.id || one.procedure !== flow.procedure);
    return {
      flow, state, notices: this.notices(), sign: signOf, words: (procedure, step) => wordsOf(flow, procedure, step),
      send: (event) => this.send(event), close: () => this.beside(null), handOver: () => this.handOver(),
      shelf: {
        procedure: flow.procedure, room: this.shelf.room, same: this.same, doubt: this.doubt, runs, store: this.shelf.store, tab: this.shelf.tab, wall: Date.now(), hand: this.hand,
        open: (/** @type {string | null} */ id) => this.openRun(id),
        waitsHere: (/** @type {any} */ kept) => this.waitsHere(kept.id, kept.state),
        forget: (/** @type {any} */ kept) => { this.shelf.forget(kept.id, kept.procedure); this.redraw(); },
      },
    };
  }

  draw() {
    const view = this.view();
    const { state, aside } = this;
    const drawing = aside === null ? drawScreen(view) : drawAside(view, aside);
    const open = [...this.section.querySelectorAll("details[open]")].map((one) => one.className);
    const card = drawCard(view, drawing, { name: aside?.name ?? state.screen.name, banner: this.banner(), note: aside === null ? () => this.beside({ name: "note" }) : null });
    this.section.replaceChildren(card, ...(aside === null || aside.name === "elsewhere" ? sheets(view, { again: (button) => this.restart(button), hand: () => this.changeHand(), open, only: aside !== null }) : []));
    this.section.setAttribute("aria-labelledby", "follower-title");
    this.section.dataset.hand = this.hand;
    this.wholeText.offer(state.frames.length === 0);
    markChart(this.flow, state);
    this.awake.keep(state.screen.name === "wait" && aside === null);
  }

  /** On a run that cannot be kept. */
  banner() {
    return this.state.frames.length > 0 && this.shelf.room !== "works" ? [make("p", { class: "follower__notice", "data-room": this.shelf.room }, say(`store-${this.shelf.room}`))] : [];
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
    if (this.id !== null) this.shelf.forget(this.id);
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
}
