// What a person, a child or a cat might do at a follower, and what must hold whatever it was: for random walks.
import assert from "node:assert/strict";
import { fieldsOf } from "../../themes/bench/script/reading.js";

/** An event that a person, a child or a cat might cause. */
export function anyEvent(roll, flow, state) {
  const step = state.step === null ? null : flow.procedures[state.frames.at(-1)?.procedure ?? flow.procedure].steps[state.step];
  const person = ["ordinary", "instructed", "skilled"][roll(3)];
  const still = Object.fromEntries(state.facts.holds.map((id) => [id, roll(4) > 0]));
  const fitting = {
    start: { type: "start", model: [...flow.models.map((model) => model.id), "unknown", "other"][roll(flow.models.length + 2)], person, alone: roll(8) > 0, caller: roll(2) > 0 },
    caution: { type: "acknowledge", hazard: state.screen.hazard },
    step: step?.kind === "do" ? { type: roll(2) ? "next" : "begin-wait" } : step?.kind === "measure" ? { type: "reading", typed: Object.fromEntries(fieldsOf(step).map((field) => [field.id, anyReading(roll, field)])) } : { type: "answer", way: roll(6) },
    wait: { type: "next" },
    resume: { type: "confirm", person, alone: roll(8) > 0, raised: [null, "another", "mistaken"][roll(3)], conditions: still },
    ending: { type: "restart" }, refused: { type: "restart" }, "hand-over": { type: roll(3) ? "back" : "restart" },
  }[state.screen.name];
  if (roll(10) < 7) return fitting;
  const odd = ["tick", "back", "reopen", "take-over", "next", "begin-wait", "answer", "reading", "acknowledge", "confirm", "nonsense"][roll(11)];
  return { ...fitting, hazard: flow.hazards[roll(flow.hazards.length)]?.id, way: roll(7), type: odd };
}

/** Mostly within reach, often at the edge of it, sometimes nonsense. */
function anyReading(roll, field) {
  const [from, to] = [Number(field.from), Number(field.to)];
  return ["48", "48.1", "x", "1,2.3", String(to + 1), String(from), String(to), String(Math.round(from + ((to - from) * roll(100)) / 100))][roll(8)];
}

export function anyTime(roll) {
  const lengths = [0, 50, 299, 300, 1000, 5000, 20_000, 60_000, 300_000];
  const ms = roll(400) === 0 ? 1_000_000 : lengths[roll(lengths.length)];
  const skew = roll(200) === 0 ? [3_600_000, -3_600_000][roll(2)] : 0;
  return { ms, skew };
}

/** No wait is left before the running clock of this page has run for it, breaks and closed pages left out. */
export function checkWait(before, after, event, clock, begun) {
  if (before.wait !== null && event.type !== "reopen") begun.counted += Math.max(0, clock.running - before.last.running);
  if (before.wait === null && after.wait !== null) begun.counted = 0;
  const over = after.log.slice(before.log.length).find((entry) => entry.what === "wait-over");
  if (over) assert.ok(begun.counted >= before.wait.needed, `left a wait of ${before.wait.needed} ms after ${begun.counted}`);
}

/** The log only grows; an answer that moved on stands in log and path. */
export function checkAnswers(before, after, event) {
  if (after.frames.length === 0 || before.frames.length === 0) return;
  assert.deepEqual(after.log.slice(0, before.log.length), before.log, "what was said is not lost");
  const moved = ["answer", "reading", "next"].includes(event.type) && after.log.some((entry, place) => place >= before.log.length && entry.what === "way");
  if (moved) assert.ok(after.path.length > before.path.length);
}

/** Nobody leaves a step, or ends a task, whose words were not in sight just before. */
export function checkSeen(flow, before, after) {
  for (const entry of after.log.slice(before.log.length)) {
    if (!["way", "ending"].includes(entry.what) || (entry.what === "ending" && entry.depth === 0)) continue;
    const step = flow.procedures[entry.procedure].steps[entry.step];
    const silent = ["carry-out", "by-model"].includes(step.kind) || step.ways[entry.way]?.kind === "otherwise";
    if (!silent) assert.ok(["step", "wait"].includes(before.screen.name) && before.step === entry.step, `${entry.step} was left unseen`);
  }
}
