// What a screen reader finds on every kind of screen of three demo flows, compared with a recording (`tree.txt`; `UPDATE=1` writes it anew: read the difference).
import assert from "node:assert/strict";
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { after, before, test } from "node:test";
import { follow } from "./follow.mjs";
import { launch, openPage, SITE } from "./site.mjs";
import { treeOf } from "./tree.mjs";

const RECORDING = new URL("tree.txt", import.meta.url);
/** Procedure, ending, and whether somebody is on the telephone. */
const FLOWS = [["repeating-marks", "close-tech", "no"], ["toner-rubs-off", "out-of-use", "yes"], ["grey-background", "close-user", "no"]];
const KINDS = ["caution", "ask", "do", "measure", "wait", "ending", "resume"];

let browser;
before(async () => { browser = await launch(); });
after(async () => browser?.close());

/** A caution comes first and alone; a screen has one heading that has the focus, and what leads on is a group with that heading's name. */
function readsWell(kind, text, where) {
  const lines = text.split("\n").map((one) => one.trim());
  const heading = lines.find((one) => one.startsWith("heading") && one.includes("level 2"));
  // A page that is opened anew begins at its top, as every page does.
  if (kind !== "resume") assert.match(heading ?? "", /focused/, `${where}: the heading has not the focus`);
  const name = /^heading ("(?:[^"\\]|\\.)*")/.exec(heading)[1];
  if (lines.some((one) => one.startsWith("button"))) assert.ok(lines.includes(`group ${name}`), `${where}: the ways on are no group named ${name}`);
  if (kind === "caution") assert.ok(lines.findIndex((one) => /^StaticText "(DANGER|WARNING|CAUTION|NOTICE)"/.test(one)) < lines.indexOf(`group ${name}`), `${where}: no signal word before the answer`);
}

test("caution, question, reading, wait, ending and resume of three flows read as recorded", async () => {
  const told = ["What a screen reader finds on the first screen of each kind. Written by UPDATE=1 node --test tests/browser/tree.test.mjs", ""];
  const kinds = new Set();
  for (const [procedure, ending, caller] of FLOWS) {
    const page = await openPage(browser, SITE.href, `procedures/${procedure}.html`, { viewport: { width: 360, height: 740 }, clock: true });
    const seen = new Set();
    await follow(page, { procedure, ending, caller }, async (kind, step) => {
      if (kind !== "start" && !seen.has(kind)) {
        const text = await treeOf(page, ".follower__card");
        readsWell(kind, text, `${procedure}, ${kind}`);
        told.push(`# ${procedure}: ${kind}${step === null ? "" : ` (${step})`}`, text, "");
      }
      seen.add(kind);
      kinds.add(kind);
    });
    await page.context().close();
  }
  assert.deepEqual(KINDS.filter((kind) => !kinds.has(kind)), [], "a kind of screen is not met");
  const text = `${told.join("\n")}`;
  if (process.env.UPDATE === "1") writeFileSync(RECORDING, text);
  assert.ok(existsSync(RECORDING), "no recording");
  assert.deepEqual(text.split("\n"), readFileSync(RECORDING, "utf8").split("\n"));
});
