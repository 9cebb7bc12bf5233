// Handing a run over in a real browser: the link and the code hold the same run, the other device asks about the machine and nothing twice; refused links are explained.
import assert from "node:assert/strict";
import { createRequire } from "node:module";
import { after, before, test } from "node:test";
import { brokenAt } from "../../themes/bench/script/service-record.js";
import { act, ask, answer, CATALOGUE, end, exposed, flow, measure, band, procedure, unsure } from "../script/flows.mjs";
import { bench } from "./bench.mjs";

const zxing = createRequire(new URL("../outside/", import.meta.url))("@zxing/library");
let follower;
before(async () => { follower = await bench(); });
after(() => follower.close());

const job = (more = {}) => flow([procedure("job", [
  ask("tried", [answer("Dead", "gap", { sets: ["isolated"] }), unsure("stop")]),
  measure("gap", "mm", "5", "90", [band({ inside: false, value: "65", figure: null }, "lift"), band(null, "stop"), unsure("stop")]),
  act("lift", "stop", { exposes: exposed("high-voltage", "toner"), cautions: ["high-voltage", "toner"] }),
  end("stop", "handed-over"),
])], { ...CATALOGUE, ...more });

/** A run that stands before a step with two cautions, one of them read. */
async function underWay(page, more) {
  await follower.start(page, { ticket: "T-7", counter: "12345", ...more });
  await follower.press(page, "Dead");
  await page.locator("input[name=value]").fill("37.7");
  await page.locator("button[type=submit]").click();
  await follower.settle(page);
  await follower.press(page, /I have read this|repeated it/);
}

async function handOver(page) {
  await follower.press(page, "Hand over");
  await page.locator("#follower-link").waitFor();
  return page.locator("#follower-link").inputValue();
}

test("a link opens at the resume screen on another device, with the same answers, and shows cautions again before the step", async () => {
  const page = await follower.open(job());
  await underWay(page, { serial: "AB-1" });
  const link = await handOver(page);
  assert.ok(link.startsWith(`${follower.address}#run=`), link);
  const other = await follower.open(job());
  await other.goto("about:blank");
  await other.goto(link);
  await other.waitForFunction(() => document.querySelector(".follower__card")?.dataset.screen === "resume");
  assert.equal(new URL(other.url()).hash, "", "the run would be opened again by a reload");
  await other.locator("input[name=person][value=skilled]").check();
  await other.locator("input[name=alone][value=yes]").check();
  await other.locator("input[name=caller][value=no]").check();
  await other.locator("input[name=still-isolated][value=yes]").check();
  await other.locator("button[type=submit]").click();
  await follower.settle(other);
  assert.equal(await follower.screen(other), "caution");
  assert.equal(await follower.title(other), "Hazard high-voltage", "a caution read on the other device does not count");
  assert.equal((await other.locator("body").innerText()).includes("[words of lift]"), false);
  await other.locator(".follower__sheet--path summary").click();
  assert.match(await other.locator(".follower__path").innerText(), /Text of tried Dead[^]*Text of gap 37.7 mm/);
  await follower.done(other);
  await follower.done(page);
});

/** A picture as shades of grey, at a scale. */
function greyOf(page, png, scale) {
  return page.evaluate(async ({ png, scale }) => {
    const image = new Image();
    image.src = `data:image/png;base64,${png}`;
    await image.decode();
    const canvas = Object.assign(document.createElement("canvas"), { width: Math.round(image.width * scale), height: Math.round(image.height * scale) });
    const context = canvas.getContext("2d");
    context.drawImage(image, 0, 0, canvas.width, canvas.height);
    const { data } = context.getImageData(0, 0, canvas.width, canvas.height);
    return { width: canvas.width, height: canvas.height, grey: Array.from({ length: data.length / 4 }, (_, at) => data[4 * at]) };
  }, { png, scale });
}

/** A picture without its edge, which half belongs to the page behind it. */
function inside({ width, height, grey }, edge) {
  const rows = Array.from({ length: height - 2 * edge }, (_, row) => grey.slice((row + edge) * width + edge, (row + edge + 1) * width - edge));
  return { width: width - 2 * edge, height: height - 2 * edge, grey: rows.flat() };
}

/** What somebody else's reader reads, or `null`: with `PURE_BARCODE` module by module, with `TRY_HARDER` as a camera would, looking for the code's corners. */
function decoded({ width, height, grey }, hint) {
  const source = new zxing.RGBLuminanceSource(Uint8ClampedArray.from(grey), width, height);
  for (const Binarizer of [zxing.HybridBinarizer, zxing.GlobalHistogramBinarizer]) {
    try {
      return new zxing.QRCodeReader().decode(new zxing.BinaryBitmap(new Binarizer(source)), new Map([[hint, true]])).getText();
    } catch {
      // The next may.
    }
  }
  return null;
}

test("the code holds the very link, dark on white in the dark scheme too", async () => {
  for (const colorScheme of ["light", "dark"]) {
    // As dense as the screen of a telephone.
    const page = await follower.open(job(), { context: { colorScheme, deviceScaleFactor: 2 } });
    await underWay(page, { serial: "AB-1" });
    const link = await handOver(page);
    const svg = page.locator("svg.follower__code");
    assert.match(await svg.getAttribute("aria-label"), /same link/);
    // Read back from what the browser paints, by somebody else's reader.
    const png = (await svg.screenshot({ scale: "device" })).toString("base64");
    const plain = await greyOf(page, png, 1);
    assert.equal(plain.grey[3 * plain.width + 3], 255, "no quiet zone");
    assert.equal(decoded(inside(plain, 3), zxing.DecodeHintType.PURE_BARCODE), link);
    // This reader finds the corners of small pictures more surely than of large ones: some pixels a module.
    const modules = await svg.evaluate((element) => element.viewBox.baseVal.width);
    let read = null;
    for (const pixels of [3, 2.5, 3.5, 4, 6]) {
      const scale = (pixels * modules) / plain.width;
      read ??= decoded(inside(await greyOf(page, png, scale), Math.ceil(3 * scale)), zxing.DecodeHintType.TRY_HARDER);
    }
    assert.equal(read, link, "read by a camera at some size");
    await follower.done(page);
  }
});

test("a machine without a number is asked for once; not known is an answer", async () => {
  const page = await follower.open(job());
  await underWay(page, {});
  await handOver(page);
  assert.equal(await page.locator("#follower-serial").count(), 1);
  await page.getByRole("button", { name: "It is not known" }).click();
  await page.locator("#follower-link").waitFor();
  assert.equal(await page.locator("#follower-serial").count(), 0);
  await follower.press(page, "Back to the run");
  await handOver(page);
  assert.equal(await page.locator("#follower-serial").count(), 0, "asked twice");
  assert.match(await page.locator("#follower-ticket").inputValue(), /serial unknown/);
  await follower.done(page);
});

test("the text for the ticket has 20 lines at most, none over 100 letters, and no markup", async () => {
  const steps = Array.from({ length: 30 }, (_, n) => ask(`ask-${n}`, [answer("A rather long answer with <b>markup</b> and many words, so that its line is too long", n === 29 ? "stop" : `ask-${n + 1}`), unsure("stop")]));
  const page = await follower.open(flow([procedure("long", [...steps, end("stop", "no-fault")])], CATALOGUE));
  await follower.start(page, { ticket: "T-7", caller: "yes", serial: "AB-1" });
  for (let n = 0; n < 29; n++) await follower.press(page, "A rather long answer");
  await handOver(page);
  const lines = (await page.locator("#follower-ticket").inputValue()).trimEnd().split("\n");
  assert.equal(lines.length, 20);
  for (const line of lines) assert.ok([...line].length <= 100 && !/[<>]/.test(line), line);
  assert.match(lines.join("\n"), /^Title of long, revision 1 \(long\)\nTicket: T-7\nMachine: .*serial AB-1.*\n[^]*earlier answers[^]*told: Text of ask-28[^]*Asked last: Text of ask-29$/);
  await follower.done(page);
});

test("the ticket names machine, conditions, readings and cautions given, and no step whose caution is not read", async () => {
  const page = await follower.open(job());
  await underWay(page, { serial: "AB-1" });
  await handOver(page);
  const text = await page.locator("#follower-ticket").inputValue();
  assert.match(text, /serial AB-1, counter 12345[^]*seen: Text of tried Dead\nseen: Text of gap 37.7 mm\nHolds: Condition isolated[^]*Cautions given: Hazard high-voltage\n/);
  assert.equal(text.includes("Text of lift"), false);
  await follower.done(page);
});

test("the record downloads as JSON with a whole chain", async () => {
  const page = await follower.open(job());
  await underWay(page, { serial: "AB-1" });
  await handOver(page);
  const [file] = await Promise.all([page.waitForEvent("download"), page.getByRole("link", { name: "Download the record" }).click()]);
  assert.match(file.suggestedFilename(), /^job-\d{4}-\d\d-\d\d-\d\d-\d\d\.json$/);
  const { readFileSync } = await import("node:fs");
  const record = JSON.parse(readFileSync(await file.path(), "utf8"));
  assert.equal(brokenAt(record), null);
  assert.equal(record.entries.find((one) => one.value === "37.7").unit, "mm");
  record.entries[1].step = "other";
  assert.equal(brokenAt(record), 2);
  assert.equal(await page.locator("[data-chain=whole]").count(), 1);
  assert.deepEqual(JSON.parse(await page.locator("#follower-json").inputValue()).seal, record.seal);
  await follower.done(page);
});

test("where a browser gives no file the record can be copied", async () => {
  const page = await follower.open(job(), { init: () => { URL.createObjectURL = () => { throw new Error("no"); }; } });
  await underWay(page, { serial: "AB-1" });
  await handOver(page);
  assert.equal(await page.getByRole("link", { name: "Download" }).count(), 0);
  assert.match(await page.locator("#follower-json").inputValue(), /"schema": "stepward\/record\/1"/);
  await follower.done(page);
});

test("links that cannot be opened are explained, and nothing is opened", async () => {
  const page = await follower.open(job());
  await underWay(page, { serial: "AB-1" });
  const text = (await handOver(page)).split("#run=")[1];
  const letter = text[20] === "A" ? "B" : "A";
  const other = { ...job(), procedure: "other", procedures: { other: { ...job().procedures.job, id: "other" } } };
  const cases = [
    [text.slice(0, -3), job(), /not whole/], [text.slice(0, 20) + letter + text.slice(21), job(), /not whole/], ["AA", job(), /not whole/],
    [text, { ...job(), edition: "e2" }, /another edition of this procedure, revision 1/], [text, other, /another procedure/],
  ];
  for (const [packet, here, words] of cases) {
    const there = await follower.open(here, { hash: `#run=${packet}` });
    await there.waitForFunction(() => document.querySelector(".follower__card")?.dataset.screen === "refusedLink");
    assert.match(await there.locator(".follower__card").innerText(), words);
    if (here === other) assert.equal(await there.getByRole("link", { name: "Open it in job" }).getAttribute("href"), `job.html#run=${packet}`);
    assert.deepEqual(await there.evaluate(() => Object.keys(localStorage).filter((key) => key.startsWith("stepward:run"))), []);
    await follower.press(there, "Begin a new run");
    assert.equal(await follower.screen(there), "start");
    await follower.done(there);
  }
  await follower.done(page);
});

test("a link to a run for a machine that has one under way here is refused with a way to that one", async () => {
  const page = await follower.open(job());
  await underWay(page, { serial: "AB-1" });
  const link = await handOver(page);
  await page.goto("about:blank");
  await page.goto(link);
  await page.waitForFunction(() => document.querySelector(".follower__card")?.dataset.screen === "refusedLink");
  await follower.press(page, "Open that run");
  assert.equal(await follower.screen(page), "resume");
  await follower.done(page);
});

test("without the script that makes links the record can still be copied", async () => {
  const page = await follower.open(job());
  await underWay(page, { serial: "AB-1" });
  await page.route("**/hand-over.js", (route) => route.abort());
  await follower.press(page, "Hand over");
  await page.locator("#follower-record").waitFor();
  assert.match(await page.locator("#follower-record").inputValue(), /Text of gap: 37.7 mm/);
  page.problems = [];
  await follower.done(page);
});

test("Escape leads back to the run", async () => {
  const page = await follower.open(job());
  await underWay(page, { serial: "AB-1" });
  await handOver(page);
  await page.keyboard.press("Escape");
  assert.equal(await follower.screen(page), "caution");
  await follower.done(page);
});
