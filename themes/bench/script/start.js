// Starts each part of the page in its own try: a part that fails leaves its readable form.
import { startFollower } from "../parts/follower/follower.js";

/** By the name in `data-part`. @type {Record<string, (element: HTMLElement) => void>} */
const PARTS = { follower: startFollower };

/** @param {ParentNode} root */
export function startParts(root) {
  for (const element of root.querySelectorAll("[data-part]")) {
    const start = PARTS[element.getAttribute("data-part") ?? ""];
    try {
      if (start && element instanceof HTMLElement) start(element);
    } catch (problem) {
      if (element instanceof HTMLElement) element.hidden = true;
      root.querySelectorAll(".is-put-away").forEach((text) => text.classList.remove("is-put-away"));
      console.error(problem);
    }
  }
}

if (typeof document !== "undefined") startParts(document);
