// What may still be wrong, told from the demo's own weights and answers. Pages are read from `site-demo`, or from the folder that `SITE` names.
import assert from "node:assert/strict";
import { test } from "node:test";
import { summaryText } from "../../themes/bench/parts/follower/summary.js";
import { bag, sharesLeft } from "../../themes/bench/script/shares.js";
import { Run } from "../script/run.mjs";
import { flowNamed, flows, useDemoWords } from "./flows.mjs";

useDemoWords();
const close = (found, expected, within = 1e-12) => assert.ok(Math.abs(found - expected) <= within, `${found} is not ${expected}`);
const shareOf = (left, id) => left.find((one) => one.id === id)?.share ?? 0;

// Weights 38 15 7 15 3 2 7 5 4 2 2 2 4, together 106. Worked by hand: "in equal steps" and "on the printed side" leave 100 of them; a reading that
// fits the fuser sleeve leaves 7 * 1 and 4 * 0.5.
test("the demo's own weights and answers, by hand", () => {
  const flow = flowNamed("repeating-marks");
  const run = new Run(flow, { model: "mono-desk" });
  close(shareOf(sharesLeft(flow, run.state), "drum-mark"), 38 / 106);
  run.answer("The same mark in equal steps").answer("On the printed side");
  close(shareOf(sharesLeft(flow, run.state), "drum-mark"), 0.38);
  run.read({ length: "56.5", gaps: "1" });
  assert.deepEqual(sharesLeft(flow, run.state).map(({ id, share }) => [id, share]), [["sleeve-scar", 7 / 9], ["fuser-lump", 2 / 9]]);
  assert.match(summaryText(flow, run.state), /\nMay still be wrong: Scar on the fuser sleeve 78 %; Toner lump on sleeve or pressure roller 22 %\nTo bring: steel rule; [^]*fuser unit 78 %/);
});

test("every flow with faults: shares are one whole, and what one brings is of the procedure", () => {
  const withFaults = flows.filter((flow) => flow.faults.known.length > 0);
  assert.ok(withFaults.length >= 3);
  for (const flow of withFaults) {
    const { state } = new Run(flow, { model: flow.procedures[flow.procedure].models[0] });
    const left = sharesLeft(flow, state);
    close(left.reduce((sum, one) => sum + one.share, 0), 1);
    assert.equal(left.length, flow.faults.known.length);
    assert.equal(bag(flow, left).length, flow.faults.bring.length);
  }
});
