// Somebody who stands beside a run and sees its screens and its log, written apart from the follower's own facts.
import assert from "node:assert/strict";

/** A small generator with a seed, so that a failure can be seen again (Marsaglia's xorshift, 32 bits). */
export function random(seed) {
  let x = seed;
  return (below) => {
    x ^= x << 13;
    x ^= x >>> 17;
    x ^= x << 5;
    return (x >>> 0) % below;
  };
}

/** What somebody standing beside would know. It sees screens and events only. */
export class Observer {
  constructor(flow) {
    this.flow = flow;
    this.reset();
  }

  reset() {
    this.shown = new Map();
    this.mains = "unknown";
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
