// Starts each part of the page in its own try: a part that fails leaves its readable form.
import { startFollower } from "../parts/follower/follower.js";
import { make } from "../parts/follower/make.js";

/** By the name in `data-part`. @type {Record<string, (element: HTMLElement) => void>} */
const PARTS = { follower: startFollower };

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

/** The flowchart's script is fetched when the flowchart comes near. @param {Document} page */
function awaitChart(page) {
  const section = page.querySelector("[data-part=chart]");
  const { chart } = page.body.dataset;
  if (!section || !chart) return;
  const watcher = new IntersectionObserver((entries) => {
    if (!entries.some((entry) => entry.isIntersecting)) return;
    watcher.disconnect();
    page.head.append(make("script", { src: chart }));
  }, { rootMargin: "100%" });
  watcher.observe(section);
}

if (typeof document !== "undefined") {
  startParts(document);
  awaitChart(document);
}
