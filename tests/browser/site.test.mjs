// Every page of the published demo in a real browser: from the folder and from a server, at four widths, with wide letters, in forced colours, on paper.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { cutWords, lengthenWords, SPACING, widerThanAllowed } from "./layout.mjs";
import { close, FEW, flowOf, hazardsOf, launch, openPage, PAGES, serveSite, SITE } from "./site.mjs";

const WIDTHS = [320, 360, 768, 1440];

let browser, served;
before(async () => {
  browser = await launch();
  served = await serveSite();
});
after(async () => {
  await browser?.close();
  served?.server.close();
});

test("every page opened from a server has no error, and nothing leaves the site", async () => {
  for (const path of PAGES) {
    const page = await openPage(browser, served.address, path);
    assert.ok(await page.locator("h1").isVisible(), path);
    if (flowOf(path)?.procedures && (await page.locator("#follower").count())) assert.ok(await page.locator("#follower").isVisible(), `${path}: no follower`);
    await close(page);
  }
});

/** What is wrong with a page at every width, as it is written and with words that are 60 % longer. */
async function atEveryWidth(page, path) {
  const found = [];
  for (const words of ["words as written", "words 60 % longer"]) {
    if (words !== "words as written") await page.evaluate(lengthenWords);
    for (const width of WIDTHS) {
      await page.setViewportSize({ width, height: 800 });
      for (const look of [widerThanAllowed, cutWords]) found.push(...(await page.evaluate(look)).map((one) => `${path} at ${width} px, ${words}, ${look.name}: ${one}`));
    }
  }
  await page.setViewportSize({ width: 360, height: 740 });
  return found;
}

/** Cautions and reminders that somebody cannot see; on paper a ground is there only where the sheet insists on it. */
function unseenCautions() {
  const all = [...document.querySelectorAll(".caution, .reminder")].filter((one) => one.closest(".is-put-away, .follower") === null);
  const unseen = all.filter((one) => {
    const word = one.querySelector(".caution__word, .signal");
    const [style, inner] = [getComputedStyle(one), getComputedStyle(word)];
    const ground = getComputedStyle(word.closest(".caution__panel, .signal"));
    const printed = !matchMedia("print").matches || ground.printColorAdjust === "exact";
    return !one.checkVisibility({ visibilityProperty: true, opacityProperty: true }) || !word.checkVisibility() || one.getBoundingClientRect().height < 40 || style.borderTopStyle === "none" || inner.color === ground.backgroundColor || !printed;
  });
  return { all: all.length, unseen: unseen.map((one) => one.textContent.slice(0, 60)) };
}

async function hidesNoCaution(page, path, media) {
  const flow = flowOf(path);
  if (flow === null) return 0;
  await page.emulateMedia(media);
  const { all, unseen } = await page.evaluate(unseenCautions);
  await page.emulateMedia({ media: null, forcedColors: null });
  assert.ok(all > 0 || Object.values(flow.procedures[flow.procedure].steps).every((step) => hazardsOf(step).length === 0), path);
  assert.deepEqual(unseen, [], `${path} ${JSON.stringify(media)}`);
  return all;
}

test("a page of each kind opened from a folder has no error; at no width does anything scroll sideways or is cut; forced colours hide no caution", async () => {
  const found = [];
  let cautions = 0;
  for (const path of FEW) {
    const page = await openPage(browser, SITE.href, path);
    assert.ok(await page.locator("h1").isVisible(), path);
    cautions += await hidesNoCaution(page, path, { forcedColors: "active" });
    found.push(...await atEveryWidth(page, path));
    await close(page);
  }
  assert.deepEqual(found, []);
  assert.ok(cautions > 40, `${cautions} cautions`);
});

test("without script the same holds, paper hides no caution, and the stop card is one tap away", async () => {
  const found = [];
  let cautions = 0;
  for (const path of FEW) {
    const page = await openPage(browser, SITE.href, path, { javaScriptEnabled: false, hasTouch: true });
    for (const media of [{ forcedColors: "active" }, { media: "print" }]) cautions += await hidesNoCaution(page, path, media);
    found.push(...await atEveryWidth(page, path));
    const link = page.locator("header a[href$='stop.html']");
    assert.ok((await link.boundingBox()).height >= 44, path);
    await link.tap();
    await page.waitForURL(`${SITE.href}stop.html`, { timeout: 5000 });
    await page.locator(".stop").waitFor({ timeout: 5000 });
    await close(page);
  }
  assert.deepEqual(found, []);
  assert.ok(cautions > 200, `${cautions} cautions`);
});

test("with the text spacing of WCAG 1.4.12 no word is lost in a step", async () => {
  const page = await openPage(browser, SITE.href, "procedures/repeating-marks.html", { javaScriptEnabled: false, bypassCSP: true });
  for (const width of [320, 1440]) {
    await page.setViewportSize({ width, height: 800 });
    // A sheet by hand: with script off nothing would tell that an added one is there.
    await page.evaluate((sheet) => document.head.appendChild(document.createElement("style")).append(sheet), SPACING);
    assert.deepEqual(await page.evaluate(cutWords), [], `${width} px`);
  }
  await close(page);
});

/** Puts `@step@` behind each exposing sentence and `@step.hazard@` into each of its cautions, so that they are found in the printed text. */
function markPrinted(wanted) {
  const marks = [];
  for (const [place, { id, hazards }] of wanted.entries()) {
    const section = document.getElementById(`step-${id}`);
    section.querySelector(".step__sentence").append(` @${place}@`);
    for (const [count, { hazard, name }] of hazards.entries()) {
      const line = [...section.querySelectorAll(".step__lead .reminder li")].find((one) => one.querySelector("strong").textContent === name);
      const found = section.querySelector(`.caution[data-hazard="${hazard}"] .caution__name`) ?? line;
      if (found) found.append(` @${place}.${count}@`);
      marks.push([`@${place}@`, `@${place}.${count}@`, `${id}: ${name}`]);
    }
  }
  return marks;
}

/** Marks where each caution of the summary begins and ends. */
function markSummary() {
  const cautions = [...document.querySelectorAll(".cautions > .caution")];
  for (const [place, caution] of cautions.entries()) {
    caution.querySelector(".caution__word").append(` @begin${place}@`);
    const texts = document.createTreeWalker(caution, NodeFilter.SHOW_TEXT);
    let last = null;
    while (texts.nextNode()) if (texts.currentNode.data.trim() !== "") last = texts.currentNode;
    last.data += ` @end${place}@`;
  }
  return cautions.length;
}

/** Marks each symbol of the flowchart, and says how many there are. */
function markChart() {
  const symbols = [...document.querySelectorAll("#flowchart .chart__node .chart__text")];
  for (const [place, symbol] of symbols.entries()) (symbol.querySelector("tspan") ?? symbol).append(`@symbol${place}@`);
  return symbols.length;
}

const PROCEDURES = PAGES.filter((path) => flowOf(path) !== null);

/** The text of a printed page, sheet by sheet, without spaces. */
async function printed(page, file, format) {
  await page.pdf({ path: file, format, preferCSSPageSize: false });
  return execFileSync("pdftotext", ["-raw", file, "-"], { encoding: "utf8", maxBuffer: 1 << 26 }).split("\f").slice(0, -1).map((sheet) => sheet.replace(/\s/g, ""));
}

test("printed on A4 and on Letter no exposing step of any procedure stands without its cautions above it on the same sheet, each sheet says what it is, and the flowchart lies on one", async (context) => {
  const folder = mkdtempSync(join(tmpdir(), "stepward-print-"));
  let exposing = 0;
  try {
    assert.ok(PROCEDURES.length > 5);
    for (const path of PROCEDURES) {
      const flow = flowOf(path);
      const { id, revision, steps: all } = flow.procedures[flow.procedure];
      const nameOf = (hazard) => flow.hazards.find((one) => one.id === hazard).name;
      const steps = Object.values(all).filter((step) => hazardsOf(step).length > 0);
      const page = await openPage(browser, SITE.href, path);
      const marks = await page.evaluate(markPrinted, steps.map((step) => ({ id: step.id, hazards: hazardsOf(step).map((hazard) => ({ hazard, name: nameOf(hazard) })) })));
      const [cautions, symbols] = [await page.evaluate(markSummary), await page.evaluate(markChart)];
      assert.ok(symbols >= Object.keys(all).length, `${path}: ${symbols} symbols`);
      for (const format of ["A4", "Letter"]) {
        const sheets = await printed(page, join(folder, "sheet.pdf"), format);
        const what = `${path} on ${format}`;
        for (const [sentence, caution, name] of marks) {
          const sheet = sheets.find((one) => one.includes(sentence));
          assert.ok(sheet, `${what}: ${name}: the sentence is not printed`);
          const above = sheet.indexOf(caution);
          assert.ok(above >= 0 && above < sheet.indexOf(sentence), `${what}: ${name} is not above its step on the same sheet`);
        }
        for (let n = 0; n < cautions; n++) assert.ok(sheets.some((sheet) => sheet.includes(`@begin${n}@`) && sheet.includes(`@end${n}@`)), `${what}: caution ${n} of the summary is torn`);
        const drawn = sheets.filter((sheet) => sheet.includes("@symbol"));
        assert.ok(drawn.length === 1 && drawn[0].split("@symbol").length === symbols + 1, `${what}: the flowchart runs over ${drawn.length} sheets`);
        for (const [place, sheet] of sheets.entries()) {
          const foot = `${id},revision${revision}.Published2026-11-24.Checkforanewerrevision`;
          assert.ok(sheet.includes(foot) && sheet.includes(`${place + 1}/${sheets.length}`), `${what}: sheet ${place + 1} does not say what it is`);
        }
        context.diagnostic(`${what}: ${sheets.length} sheets, ${steps.length} exposing steps`);
      }
      exposing += steps.length;
      await close(page);
    }
    assert.ok(exposing > 30, `${exposing} exposing steps`);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
});

test("on paper each way on has a box to tick and a step to go to, and each reading a blank with its unit", async () => {
  for (const javaScriptEnabled of [true, false]) {
    const page = await openPage(browser, SITE.href, "procedures/repeating-marks.html", { javaScriptEnabled });
    await page.emulateMedia({ media: "print" });
    const found = await page.evaluate(() => {
      const drawn = (element, pseudo) => {
        const style = getComputedStyle(element, pseudo);
        return style.content !== "none" && parseFloat(style.width) >= 8 && parseFloat(style.borderTopWidth) >= 1;
      };
      const ways = [...document.querySelectorAll(".step .way")].filter((one) => one.checkVisibility());
      const blanks = [...document.querySelectorAll(".reading__blank")].filter((one) => one.checkVisibility());
      return {
        ways: ways.length, untold: ways.filter((one) => !/step \d+/.test(one.textContent)).length,
        bare: ways.filter((one) => ![one, ...one.querySelectorAll("*")].some((part) => drawn(part, "::before"))).map((one) => one.textContent.trim().slice(0, 40)).slice(0, 3),
        blanks: blanks.length, small: blanks.filter((one) => one.getBoundingClientRect().width < 60).length,
      };
    });
    assert.ok(found.ways > 50 && found.blanks > 3, JSON.stringify(found));
    assert.deepEqual({ untold: found.untold, bare: found.bare, small: found.small }, { untold: 0, bare: [], small: 0 });
    await close(page);
  }
});
