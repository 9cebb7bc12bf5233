// A run handed over: what people did, followed again on the other device, leads to the same place with the same facts.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { advance, begin } from "../../themes/bench/script/flow-state.js";
import { deedsOf, packed, unpacked } from "../../themes/bench/script/packet.js";
import { fieldsOf } from "../../themes/bench/script/reading.js";
import { random } from "./observer.mjs";
import { nastyFlow } from "./flows.mjs";

const COMPILED = JSON.parse(readFileSync(new URL("fixtures/marks.json", import.meta.url), "utf8"));
const nasty = () => ({ ...nastyFlow(), edition: "0123456789abcdef" });

/** A random run of a sensible person: every event fits its screen; now and then a break, a step back, a remark. */
function randomRun(flow, roll, events) {
  let clock = { wall: Date.UTC(2026, 0, 15), running: 0 };
  let state = begin(flow, clock);
  for (let count = 0; count < events; count++) {
    const ms = roll(30) === 0 ? 1_000_000 : 1000 + 1000 * roll(roll(3) === 0 ? 2000 : 60);
    clock = { wall: clock.wall + ms, running: clock.running + ms };
    const step = state.step === null ? null : flow.procedures[state.frames.at(-1).procedure].steps[state.step];
    const person = ["ordinary", "instructed", "skilled"][roll(3)];
    const fitting = {
      start: { type: "start", model: [...flow.models.map((model) => model.id), "unknown"][roll(flow.models.length + 1)], person, alone: true, caller: roll(2) > 0, ticket: "T-17", serial: "S/2 é", counter: "12 345" },
      caution: { type: "acknowledge", hazard: state.screen.hazard },
      step: step?.kind === "do" ? { type: roll(2) ? "next" : "begin-wait" } : step?.kind === "measure" ? { type: "reading", typed: Object.fromEntries(fieldsOf(step).map((field) => [field.id, [field.from, field.to, "x", "40"][roll(4)]])) } : { type: "answer", way: roll(5) },
      wait: { type: "next" },
      resume: { type: "confirm", person, alone: roll(8) > 0, caller: roll(2) > 0, raised: ["another", "mistaken"][roll(2)], conditions: Object.fromEntries(state.facts.holds.map((id) => [id, roll(4) > 0])) },
      "hand-over": { type: "back" }, ending: { type: "here" }, refused: { type: "here" },
    }[state.screen.name];
    const event = roll(12) === 0 ? [{ type: "back" }, { type: "take-over" }, { type: "note", text: `Rattles – ${count}` }, { type: "tick" }][roll(4)] : fitting;
    state = advance(flow, state, event, clock);
  }
  return state;
}

/** What must be the same on the other device. Times within a second, and ages, are not: both sides ask again. */
function seen(before) {
  const state = advance(before.flow, before.state, { type: "reopen" }, { wall: before.state.last.wall + 1000, running: 0 });
  const { frames, step, model, caller, about, counts, facts, screen } = state;
  const path = state.path.map(({ at, ...rest }) => rest);
  const log = state.log.map(({ at, seconds, doubt, ...rest }) => rest);
  const { holds, mayHold, person, checked, uncheckedCure } = facts;
  return { frames, step, model, caller, about, counts, path, log, holds, mayHold, person, checked, uncheckedCure, screen };
}

for (const [name, flow] of [["nasty", nasty()], ["compiled", COMPILED]]) {
  test(`1,000 random runs of the ${name} flow arrive whole, and short`, () => {
    const roll = random(42);
    const sizes = [];
    let taken = 0;
    for (let count = 0; count < 1000; count++) {
      const state = randomRun(flow, roll, 2 + roll(60));
      if (state.frames.length === 0) continue;
      const text = packed(flow, state);
      const there = unpacked(flow, text);
      assert.ok("run" in there, `run ${count}: ${there.reason}`);
      assert.deepEqual(seen({ flow, state: there.run }), seen({ flow, state }), `run ${count}`);
      assert.deepEqual(seen({ flow, state: unpacked(flow, packed(flow, there.run)).run }), seen({ flow, state }), "handed on once more");
      sizes.push(text.length / Math.max(1, deedsOf(flow, state).length));
      taken++;
    }
    assert.ok(taken > 700, `${taken} runs were under way`);
    const mean = sizes.reduce((sum, size) => sum + size, 0) / sizes.length;
    assert.ok(mean < 25, `${mean.toFixed(1)} letters a deed`);
  });
}

test("every changed, lost or swapped letter of 200 packets is noticed", () => {
  const flow = nasty();
  const roll = random(7);
  let slips = 0;
  for (let count = 0; count < 200; count++) {
    const text = packed(flow, randomRun(flow, roll, 30));
    for (let at = 0; at < text.length; at++) {
      const other = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_ %"[roll(66)];
      const wrong = [text.slice(0, at) + other + text.slice(at + 1), text.slice(0, at) + text.slice(at + 1), text.slice(0, at), text.slice(0, at) + (text[at + 1] ?? "") + text[at] + text.slice(at + 2)];
      for (const slip of wrong.filter((one) => one !== text)) {
        assert.equal(unpacked(flow, slip).reason, "cut", slip);
        slips++;
      }
    }
  }
  assert.ok(slips > 20_000, `${slips} slips`);
});

test("a packet of something else says of what", () => {
  const flow = nasty();
  const text = packed(flow, randomRun(flow, random(3), 12));
  assert.deepEqual(unpacked({ ...flow, edition: "fedcba9876543210" }, text), { reason: "edition", revision: 1 });
  const other = { ...flow, procedure: "isolate" };
  assert.deepEqual(unpacked(other, text), { reason: "procedure", id: "nasty" });
});
