// A follower with a clock of its own, for tests: one event after another, each a second after the last unless told.
import { advance, begin } from "../../themes/bench/script/flow-state.js";

export class Run {
  constructor(flow, { model = flow.models.length > 0 ? "unknown" : undefined, person = "ordinary", caller = false } = {}) {
    this.flow = flow;
    this.clock = { wall: Date.UTC(2026, 0, 15, 9), running: 1000 };
    this.state = begin(flow, this.clock);
    this.send({ type: "start", model, person, alone: true, caller });
  }

  /** Lets both clocks run. */
  pass(ms) {
    this.clock = { wall: this.clock.wall + ms, running: this.clock.running + ms };
    return this;
  }

  send(event, ms = 1000) {
    this.pass(ms);
    this.state = advance(this.flow, this.state, event, this.clock);
    return this;
  }

  tick(ms) {
    return this.send({ type: "tick" }, ms);
  }

  /** Time with somebody at the page, so that it is no break. */
  work(seconds) {
    for (let left = seconds; left > 0; left -= 60) this.send({ type: "here" }, Math.min(60, left) * 1000);
    return this;
  }

  acknowledge(ms) {
    return this.send({ type: "acknowledge", hazard: this.state.screen.hazard }, ms);
  }

  acknowledgeAll() {
    while (this.state.screen.name === "caution") this.acknowledge();
    return this;
  }

  answer(text, ms) {
    const step = this.flow.procedures[this.state.frames.at(-1).procedure].steps[this.state.step];
    return this.send({ type: "answer", way: step.ways.findIndex((way) => (text === "unsure" ? way.kind === "unsure" : way.text === text)) }, ms);
  }

  read(value, ms) {
    const event = { type: "reading", typed: typeof value === "string" ? { value } : value };
    this.send(event, ms);
    // Near the edge of a band the follower asks to measure again.
    return this.state.refusal?.reason === "near" ? this.send(event, ms) : this;
  }

  next(ms) {
    return this.send({ type: "next" }, ms);
  }

  back(ms) {
    return this.send({ type: "back" }, ms);
  }

  get at() {
    return this.state.screen.name === "caution" ? `caution ${this.state.screen.hazard}` : `${this.state.screen.name} ${this.state.step}`;
  }
}
