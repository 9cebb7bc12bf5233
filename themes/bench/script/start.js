// Starts each part of the page in its own try: a part that fails leaves its readable form.
import { startChart } from "../parts/chart/chart.js";
import { startFollower } from "../parts/follower/follower.js";

/** By the name in `data-part`. @type {Record<string, (element: HTMLElement) => void>} */
const PARTS = { chart: startChart, follower: startFollower };

/** @param {ParentNode} root */
export function startParts(root) {
  for (const element of root.querySelectorAll("[data-part]")) {
    const start = PARTS[element.getAttribute("data-part") ?? ""];
    try {
      if (start && element instanceof HTMLElement) start(element);
    } catch (problem) {
      // Without its script the follower is an empty frame; everything else is readable as it stands.
      if (element instanceof HTMLElement && element.dataset.part === "follower") element.hidden = true;
      root.querySelectorAll(".is-put-away").forEach((text) => text.classList.remove("is-put-away"));
      console.error(problem);
    }
  }
}

if (typeof document !== "undefined") startParts(document);
