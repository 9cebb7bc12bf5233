// A hundred thousand random events over flows with loops, tasks, waits, readings and breaks. An observer of its own, written apart from the
// follower's facts, watches what was shown and acknowledged, when, and what was done to the machine.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { advance, begin } from "../../themes/bench/script/flow-state.js";
import { anyEvent, anyTime, checkAnswers, checkSeen, checkWait } from "./anybody.mjs";
import { nastyFlow } from "./flows.mjs";
import { Observer, random } from "./observer.mjs";

const EVENTS = 100_000;

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
