// A hundred thousand random events over flows with loops, tasks, waits, readings and breaks. An observer of its own, written apart from the
// follower's facts, watches what was shown and acknowledged, when, and what was done to the machine.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { advance, begin } from "../../themes/bench/script/flow-state.js";
import { fieldsOf } from "../../themes/bench/script/reading.js";
import { nastyFlow } from "./flows.mjs";

const EVENTS = 100_000;

/** A small generator with a seed, so that a failure can be seen again (Marsaglia's xorshift, 32 bits). */
function random(seed) {
  let x = seed;
  return (below) => {
    x ^= x << 13;
    x ^= x >>> 17;
    x ^= x << 5;
    return (x >>> 0) % below;
  };
}

/** What somebody standing beside would know. It sees screens and events only. */
class Observer {
  constructor(flow) {
    this.flow = flow;
    this.reset();
  }

  reset() {
    this.shown = new Map();
    this.waitedMs = 0;
    this.isolatedSince = null;
    this.mains = "unknown";
    this.answers = 0;
  }

  hazard(id) {
    return this.flow.hazards.find((one) => one.id === id);
  }

  /** Every event that the follower took, with the log lines it wrote. */
  saw(before, after, clock) {
    if (after.log.length < before.log.length || after.frames.length === 0) this.reset();
    for (const entry of after.log.slice(after.log.length < before.log.length ? 0 : before.log.length)) this.line(entry, clock);
  }

  line(entry, clock) {
    if (entry.what === "caution") this.shown.set(entry.hazard, { at: clock, steps: 0 });
    if (entry.what === "resume") this.shown.clear();
    if (["way", "carry-out", "ending"].includes(entry.what)) this.left(entry);
  }

  left(entry) {
    const step = this.flow.procedures[entry.procedure].steps[entry.step];
    const way = step.ways[entry.way];
    const countsAsStep = step.kind !== "by-model" && way?.kind !== "otherwise" && way?.kind !== "outcome";
    if (countsAsStep) for (const one of this.shown.values()) one.steps += 1;
    for (const id of [...step.sets, ...(way?.sets ?? [])]) {
      if (id === "mains-on") this.mains = "on";
      for (const hazard of this.flow.hazards) if (hazard.returnsWith.includes(id)) this.shown.delete(hazard.id);
    }
    if ([...step.sets, ...(way?.sets ?? [])].includes("isolated")) this.mains = "off";
  }

  /** The words of a step are in sight. */
  inSight(step, state, clock, arrivedNow) {
    for (const { hazard: id } of step.exposes) {
      const shown = this.shown.get(id);
      assert.ok(shown, `${step.id}: ${id} was never shown, or no longer counts`);
      if (arrivedNow) {
        assert.ok(shown.steps <= 6, `${step.id}: ${id} is ${shown.steps} steps old`);
        assert.ok(clock.running - shown.at.running <= 900_000, `${step.id}: ${id} is too old`);
      }
      if (this.hazard(id).requires.includes("isolated")) assert.equal(this.mains, "off", `${step.id} with the mains on`);
    }
    for (const id of step.cautions) assert.ok(this.shown.has(id), `${step.id}: its own caution ${id}`);
  }
}

/** An event that a person, a child or a cat might cause. */
function anyEvent(roll, flow, state) {
  const step = state.step === null ? null : flow.procedures[state.frames.at(-1)?.procedure ?? flow.procedure].steps[state.step];
  const person = ["ordinary", "instructed", "skilled"][roll(3)];
  const still = Object.fromEntries(state.facts.holds.map((id) => [id, roll(4) > 0]));
  const fitting = {
    start: { type: "start", model: [...flow.models.map((model) => model.id), "unknown", "other"][roll(flow.models.length + 2)], person, alone: roll(8) > 0, caller: roll(2) > 0 },
    caution: { type: "acknowledge", hazard: state.screen.hazard },
    step: step?.kind === "do" ? { type: roll(2) ? "next" : "begin-wait" } : step?.kind === "measure" ? { type: "reading", typed: Object.fromEntries(fieldsOf(step).map((field) => [field.id, anyReading(roll, field)])) } : { type: "answer", way: roll(6) },
    wait: { type: "next" },
    resume: { type: "confirm", person, alone: roll(8) > 0, conditions: still },
    ending: { type: "restart" }, refused: { type: "restart" }, "hand-over": { type: roll(3) ? "back" : "restart" },
  }[state.screen.name];
  if (roll(10) < 7) return fitting;
  const odd = ["tick", "back", "reopen", "take-over", "next", "begin-wait", "answer", "reading", "acknowledge", "confirm", "nonsense"][roll(11)];
  return { ...fitting, hazard: ["toner", "hot-fuser", "high-voltage"][roll(3)], way: roll(7), type: odd };
}

/** Mostly within reach, often at the edge of it, sometimes nonsense. */
function anyReading(roll, field) {
  const [from, to] = [Number(field.from), Number(field.to)];
  return ["48", "48.1", "x", "1,2.3", String(to + 1), String(from), String(to), String(Math.round(from + ((to - from) * roll(100)) / 100))][roll(8)];
}

function anyTime(roll) {
  const lengths = [0, 50, 299, 300, 1000, 5000, 20_000, 60_000, 300_000];
  const ms = roll(400) === 0 ? 1_000_000 : lengths[roll(lengths.length)];
  const skew = roll(200) === 0 ? [3_600_000, -3_600_000][roll(2)] : 0;
  return { ms, skew };
}

const COMPILED = JSON.parse(readFileSync(new URL("fixtures/marks.json", import.meta.url), "utf8"));
const WALKS = [
  [1, nastyFlow(), ["fuser", "inner", "inner2", "cool", "warm", "dust", "close", "hand-over", "is-safe", "power"]],
  [20260115, nastyFlow(), ["fuser", "inner", "inner2", "cool", "warm", "dust", "close", "hand-over", "is-safe", "power"]],
  [777, COMPILED, ["gap", "memory", "out", "in", "yes-done", "stop"]],
];

for (const [seed, flow, places] of WALKS) {
  test(`${EVENTS} random events through ${flow.procedure}, seed ${seed}`, () => {
    const roll = random(seed);
    const observer = new Observer(flow);
    let clock = { wall: Date.UTC(2026, 0, 15), running: 0 };
    let state = begin(flow, clock);
    const met = new Map();
    const begun = { counted: 0 };
    for (let count = 0; count < EVENTS; count++) {
      const { ms, skew } = anyTime(roll);
      const event = anyEvent(roll, flow, state);
      clock = event.type === "reopen" ? { wall: clock.wall + ms + skew, running: roll(1000) } : { wall: clock.wall + ms + skew, running: clock.running + ms };
      const frozen = JSON.stringify(state);
      const after = advance(flow, state, event, clock);
      assert.equal(JSON.stringify(state), frozen, "the state handed in is not changed");
      if (roll(500) === 0) assert.deepEqual(JSON.parse(JSON.stringify(after)), after, "a state can be stored");
      checkWait(state, after, event, clock, begun);
      observer.saw(state, after, clock);
      checkAnswers(state, after, event);
      checkSeen(flow, state, after);
      const arrivedNow = after.screen.name !== state.screen.name || after.step !== state.step || after.log.length !== state.log.length;
      if (["step", "wait", "ending"].includes(after.screen.name)) {
        const step = flow.procedures[after.frames.at(-1).procedure].steps[after.step];
        observer.inSight(step, after, clock, arrivedNow && after.screen.name === "step" && event.type !== "reading");
        met.set(step.id, (met.get(step.id) ?? 0) + 1);
      }
      state = after;
    }
    for (const id of places) {
      assert.ok(met.get(id) > 0, `the walk never came to ${id}: it shows nothing about it`);
    }
  });
}

/** No wait is left before the running clock of this page has run for it, breaks and closed pages left out. */
function checkWait(before, after, event, clock, begun) {
  if (before.wait !== null && event.type !== "reopen") begun.counted += Math.max(0, clock.running - before.last.running);
  if (before.wait === null && after.wait !== null) begun.counted = 0;
  const over = after.log.slice(before.log.length).find((entry) => entry.what === "wait-over");
  if (over) assert.ok(begun.counted >= before.wait.needed, `left a wait of ${before.wait.needed} ms after ${begun.counted}`);
}

/** The log only grows; an answer that moved on stands in log and path. */
function checkAnswers(before, after, event) {
  if (after.frames.length === 0 || before.frames.length === 0) return;
  assert.deepEqual(after.log.slice(0, before.log.length), before.log, "what was said is not lost");
  const moved = ["answer", "reading", "next"].includes(event.type) && after.log.some((entry, place) => place >= before.log.length && entry.what === "way");
  if (moved) assert.ok(after.path.length > before.path.length);
}

/** Nobody leaves a step, or ends a task, whose words were not in sight just before. */
function checkSeen(flow, before, after) {
  for (const entry of after.log.slice(before.log.length)) {
    if (!["way", "ending"].includes(entry.what) || (entry.what === "ending" && entry.depth === 0)) continue;
    const step = flow.procedures[entry.procedure].steps[entry.step];
    const silent = ["carry-out", "by-model"].includes(step.kind) || step.ways[entry.way]?.kind === "otherwise";
    if (!silent) assert.ok(["step", "wait"].includes(before.screen.name) && before.step === entry.step, `${entry.step} was left unseen`);
  }
}
