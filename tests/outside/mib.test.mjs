// Codes of the printer MIB in the library against the MIB's own table: PrtAlertCodeTC as IANA keeps it, compiled in the Python package pysnmp-mibs (RFC 3805 names the first of them).
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { readdirSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { test } from "node:test";
import { folder, root } from "./support/library.mjs";

const { parse } = createRequire(import.meta.url)("yaml");

/** What our codes are taken for: the names that the MIB gives them, and the procedure that a search for the code must find. */
const OURS = {
  "cover-open": { 3: "coverOpen", 5: "interlockOpen", 501: "doorOpen" },
  "jam-before-drum": { 8: "jam" },
  "maintenance-kit": { 10: "subunitLifeAlmostOver", 11: "subunitLifeOver" },
  "size-mismatch": { 802: "inputMediaSizeChange", 813: "inputCannotFeedSizeSelected" },
  "tray-does-not-feed": { 808: "inputMediaSupplyEmpty", 812: "inputTrayElevationFailure" },
  "fuser-temperature": { 1001: "markerFuserUnderTemperature", 1002: "markerFuserOverTemperature", 1003: "markerFuserTimingFailure", 1004: "markerFuserThermistorFailure" },
  "colours-off": { 1005: "markerAdjustingPrintQuality" },
  "faint-print": { 1101: "markerTonerEmpty", 1104: "markerTonerAlmostEmpty" },
  "toner-spill": { 1107: "markerWasteTonerReceptacleAlmostFull", 1109: "markerWasteTonerReceptacleFull" },
  "grey-background": { 1111: "markerOpcLifeAlmostOver", 1112: "markerOpcLifeOver" },
  "cartridge-not-accepted": { 1115: "markerTonerCartridgeMissing" },
  "jam-two-sides": { 1304: "mediaPathCannotDuplexMediaSelected" },
  "page-cut-off": { 1502: "interpreterMemoryDecrease", 1509: "interpreterComplexPageEncountered" },
};

/** Names of alert codes by number. */
function published(place) {
  execFileSync("python3", ["-m", "pip", "download", "--quiet", "--disable-pip-version-check", "--no-deps", "--no-binary", ":all:", "--dest", place, "pysnmp-mibs==0.1.6"], { stdio: ["ignore", "ignore", "inherit"] });
  const archive = readdirSync(place).find((name) => name.endsWith(".tar.gz"));
  execFileSync("tar", ["xzf", archive], { cwd: place });
  const text = readFileSync(join(place, "pysnmp-mibs-0.1.6/pysnmp_mibs/IANA-PRINTER-MIB.py"), "utf8");
  const table = /class PrtAlertCodeTC\(.*?namedValues = NamedValues\((.*?)\n/s.exec(text)[1];
  return new Map([...table.matchAll(/\("(\w+)", (\d+)\)/g)].map(([, name, code]) => [code, name]));
}

test("each code of the printer MIB in the library means what its table says, and the table's faults of a printer lead somewhere", { timeout: 300_000 }, (context) => {
  const names = published(folder(context));
  assert.ok(names.size > 100, `${names.size} codes are published`);
  const found = {};
  for (const file of readdirSync(join(root, "content/procedures")).filter((name) => name.endsWith(".md"))) {
    const { codes = [], status } = parse(readFileSync(join(root, "content/procedures", file), "utf8").split("\n---\n")[0].replace(/^---\n/, ""));
    const numbers = codes.filter((code) => /^\d+$/.test(code));
    if (numbers.length > 0 && status === "released") found[file.replace(/\.md$/, "")] = Object.fromEntries(numbers.map((code) => [code, names.get(code)]));
  }
  assert.deepEqual(found, OURS);
  // Those that the job names (AU-13), each by one procedure.
  const all = Object.values(found).flatMap(Object.keys);
  assert.equal(new Set(all).size, all.length, "no code leads to two procedures");
  for (const code of ["8", "1001", "1002", "1003", "1004", "1101", "1109"]) assert.ok(all.includes(code), code);
  context.diagnostic(`${all.length} codes of ${names.size} published`);
});
