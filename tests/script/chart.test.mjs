// The flowchart's pure parts: room for a drawing inside another, what may still come in a run, how steps are found.
import assert from "node:assert/strict";
import { test } from "node:test";
import { matches } from "../../themes/bench/parts/chart/find.js";
import { hereOf, possible, takenWays } from "../../themes/bench/parts/chart/run.js";
import { cornersOf, cutFor, pathOf, pulled } from "../../themes/bench/parts/chart/stretch.js";
import { act, answer, ask, end, flow, procedure, unsure } from "./flows.mjs";
import { random } from "./observer.mjs";

const meet = (a, b) => a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;

/** Rows of boxes that stand apart, as a chart has them. */
function rows(dice) {
  const boxes = [];
  let top = 0;
  for (let row = 0; row < 8; row++) {
    let left = dice(80);
    const height = 30 + dice(90);
    for (let box = 0; box < 1 + dice(5); box++) {
      const width = 40 + dice(200);
      const own = 20 + dice(height - 20);
      boxes.push({ left, right: left + width, top, bottom: top + own, axis: left + 10 + dice(width - 20) });
      left += width + 10 + dice(60);
    }
    top += height + 20 + dice(60);
  }
  return boxes;
}

test("pulled apart, boxes stay apart and the room for what is opened is empty", () => {
  let opened = 0;
  for (let seed = 1; seed <= 200; seed++) {
    const dice = random(seed);
    const boxes = rows(dice);
    const cuts = boxes.filter(() => dice(6) === 0).map((box) => ({ ...cutFor(box, boxes), width: 100 + dice(900), height: 100 + dice(900) }));
    for (const cut of cuts) assert.ok(!boxes.some((box) => box.top < cut.y && box.bottom > cut.y), "no box is cut");
    const move = pulled(cuts);
    const moved = boxes.map((box) => {
      const to = move({ x: box.axis, y: box.top });
      const [right, down] = [to.x - box.axis, to.y - box.top];
      return { left: box.left + right, right: box.right + right, top: box.top + down, bottom: box.bottom + down };
    });
    const rooms = cuts.map((cut) => { const { x, y } = move(cut); return { left: x, right: x + cut.width, top: y, bottom: y + cut.height }; });
    const all = [...moved, ...rooms];
    // Cuts at one place share their room; what is opened there would have to stand in turn.
    const same = (a, b) => rooms.includes(a) && rooms.includes(b) && a.left === b.left && a.top === b.top;
    all.forEach((a, place) => all.slice(place + 1).forEach((b) => assert.ok(!meet(a, b) || same(a, b), `seed ${seed}`)));
    opened += rooms.length;
  }
  assert.ok(opened > 400, String(opened));
});

test("a line is the same after it was taken apart and drawn again", () => {
  for (const path of ["M134 52L134 78", "M134 749L134 757Q134 763 140 763L392 763Q398 763 398 769L398 828", "M1163 816L1163 852Q1163 855 1160 855L1159 855Q1156 855 1156 858L1156 934"]) assert.equal(pathOf(cornersOf(path)), path);
  assert.deepEqual(cornersOf("M0 0L0 4Q0 10 6 10L20 10"), [{ x: 0, y: 0 }, { x: 0, y: 10 }, { x: 20, y: 10 }]);
});

test("two openings in one place are two places", () => {
  const boxes = [{ left: 0, right: 100, top: 0, bottom: 50 }, { left: 200, right: 300, top: 0, bottom: 80 }];
  assert.deepEqual(boxes.map((box) => cutFor(box, boxes)), [{ x: 100, y: 80 }, { x: 300, y: 80 }]);
});

test("what may still come follows the answers, the model and what was done often enough", () => {
  const steps = [
    ask("look", [answer("Yes", "again"), answer("No", "stop"), unsure("stop")]),
    ask("again", [answer("Once more", "look"), answer("Enough", "last"), unsure("last")]),
    act("last", "stop"), end("stop", "fixed"),
  ];
  const own = flow([procedure("own", steps)], {});
  const at = (step, counts = {}) => ({ frames: [{ id: 0, procedure: "own", caller: null }], step, counts, model: null, path: [{ what: "way", procedure: "own", step: "look", way: 0, depth: 0 }] });
  assert.deepEqual([...possible(own, at("again")).steps].sort(), ["again", "last", "look", "stop"]);
  assert.deepEqual([...possible(own, at("last")).steps], ["last", "stop"]);
  assert.deepEqual([...takenWays(own, at("again"))], ["look.0"]);
  assert.equal(hereOf(own, { frames: [] }), null);
  assert.equal(possible(own, { frames: [], path: [] }).steps.size, 0);
  own.procedures.own.steps.look.atMost = 1;
  own.procedures.own.steps.look.ways.push({ kind: "otherwise", text: null, then: "stop" });
  assert.deepEqual([...possible(own, at("again", { "0/look": 1 })).ways].filter((way) => way.startsWith("look.")), [`look.${own.procedures.own.steps.look.ways.length - 1}`]);
  own.procedures.own.steps.again.ways = [{ kind: "model", text: "big", then: "last" }, { kind: "model", text: "others", then: "stop" }];
  assert.deepEqual([...possible(own, { ...at("again"), model: "big" }).steps].sort(), ["again", "last", "stop"]);
  assert.deepEqual([...possible(own, { ...at("again"), model: "small" }).steps].sort(), ["again", "stop"]);
});

test("steps are found by the beginnings of words, whatever their case and accents", () => {
  assert.ok(matches("12. Action: Öffne the Cover", "off cov"));
  assert.ok(matches("12. Action: Open the cover", "12"));
  assert.ok(!matches("12. Action: Open the cover", "over"));
  assert.ok(!matches("12. Action: Open the cover", "  "));
});
