// The flowchart's own script, fetched when the flowchart comes near; where it fails, the plain drawing with its links stays.
import { startChart } from "../parts/chart/chart.js";

for (const section of typeof document === "undefined" ? [] : document.querySelectorAll("[data-part=chart]")) {
  try {
    startChart(/** @type {HTMLElement} */ (section));
  } catch (problem) {
    console.error(problem);
  }
}
