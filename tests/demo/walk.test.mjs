// A hundred thousand random events over every flow of the demo: answers, back, breaks, another person, clocks changed, pages closed, a second run put
// aside on the same page, and the run handed to another device by its link. Somebody who stands beside it (`observer.mjs`, written apart from the follower's own
// facts) sees that no exposing step's words come before its cautions, no wait is cut short, and no answer is lost. Pages as in `flows.mjs`.
import assert from "node:assert/strict";
import { test } from "node:test";
import { advance, begin } from "../../themes/bench/script/flow-state.js";
import { packed, unpacked } from "../../themes/bench/script/packet.js";
import { anyEvent, anyTime, checkAnswers, checkSeen, checkWait } from "../script/anybody.mjs";
import { Observer, random } from "../script/observer.mjs";
import { flows } from "./flows.mjs";

const EVENTS = 100_000;
const walked = flows.filter((flow) => flow.procedures[flow.procedure].requires.length === 0 && flow.procedures[flow.procedure].start !== null);
const EACH = Math.ceil(EVENTS / walked.length);

/** Times to the second travel, and how long a wait took by them. */
const said = (log) => log.map(({ at, seconds, doubt, ...rest }) => rest);

/** The run as the other device opens it: asking first, with every answer, and no more waiting than there was. */
function handedOver(flow, state, clock) {
  const there = unpacked(flow, packed(flow, state));
  assert.ok("run" in there, `the link is refused: ${there.reason}`);
  assert.deepEqual(said(there.run.log), said(state.log), "what was said is not lost");
  const after = advance(flow, there.run, { type: "reopen" }, { wall: clock.wall, running: 0 });
  assert.equal(after.screen.name, "resume");
  assert.deepEqual([after.step, after.frames], [state.step, state.frames]);
  assert.deepEqual([...after.facts.holds].sort(), [...state.facts.holds].sort());
  assert.ok((after.wait?.counted ?? 0) <= (state.wait?.counted ?? 0), "no wait is shorter on the other device");
  return after;
}

const met = { handed: 0, waits: 0, exposing: 0, raised: 0 };

for (const [place, flow] of walked.entries()) {
  test(`${EACH} random events through ${flow.procedure}`, () => {
    const roll = random(20_261_126 + place);
    const observer = new Observer(flow);
    let clock = { wall: Date.UTC(2026, 10, 25), running: 0 };
    let state = begin(flow, clock);
    const begun = { counted: 0 };
    for (let count = 0; count < EACH; count++) {
      const { ms, skew } = anyTime(roll);
      if (roll(60) === 0 && state.frames.length > 0 && !["ending", "refused"].includes(state.screen.name)) {
        state = handedOver(flow, state, clock);
        clock = { wall: clock.wall, running: 0 };
        observer.shown.clear();
        begun.counted = Math.min(begun.counted, state.wait?.counted ?? 0);
        met.handed += 1;
        continue;
      }
      const event = roll(80) === 0 ? { type: "back", times: 1 + roll(4) } : roll(80) === 0 ? { type: "reopen", samePage: true } : anyEvent(roll, flow, state);
      const closed = event.type === "reopen" && !event.samePage;
      clock = closed ? { wall: clock.wall + ms + skew, running: roll(1000) } : { wall: clock.wall + ms + skew, running: clock.running + ms };
      const after = advance(flow, state, event, clock);
      checkWait(state, after, event.samePage ? { type: "tick" } : event, clock, begun);
      observer.saw(state, after, clock);
      checkAnswers(state, after, event);
      checkSeen(flow, state, after);
      const arrivedNow = after.screen.name !== state.screen.name || after.step !== state.step || after.log.length !== state.log.length;
      if (["step", "wait", "ending"].includes(after.screen.name)) {
        const step = flow.procedures[after.frames.at(-1).procedure].steps[after.step];
        observer.inSight(step, after, clock, arrivedNow && after.screen.name === "step" && event.type !== "reading");
        if (step.exposes.length > 0 && arrivedNow) met.exposing += 1;
      }
      for (const entry of after.log.slice(after.log.length < state.log.length ? 0 : state.log.length)) {
        if (entry.what === "wait-over") met.waits += 1;
        if (entry.raised) met.raised += 1;
      }
      state = after;
    }
  });
}

test("the walks met what they are about", () => {
  for (const [what, times] of Object.entries(met)) assert.ok(times > 50, `${what}: ${times}`);
});
