// On every page of the preview: shows the next one as soon as there is one, at the place where the reader was, and copies where a finding stands.
"use strict";
(() => {
  const { page = "", digest = "", copied = "" } = document.currentScript?.dataset ?? {};
  const key = `stepward:preview:${page}`;

  const head = () => document.querySelector(".preview")?.offsetHeight ?? 0;
  /** Where the reader wanted to be, and how far down this page let him get. */
  let wanted = 0;
  let reached = 0;

  function keepPlace() {
    // On a page that was too short for a moment nobody chose its end.
    const down = Math.abs(scrollY - reached) < 2 ? wanted : scrollY - head();
    sessionStorage.setItem(key, JSON.stringify({ down, focus: document.activeElement?.id ?? "" }));
  }

  function backToPlace() {
    const kept = sessionStorage.getItem(key);
    if (kept === null) return;
    sessionStorage.removeItem(key);
    const { down, focus } = JSON.parse(kept);
    wanted = down;
    // What stands above may be taller or smaller than before.
    if (down > 0) scrollTo(0, down + head());
    if (focus) document.getElementById(focus)?.focus({ preventScroll: true });
    reached = scrollY;
  }

  async function look() {
    const answer = await fetch(`/preview/digest?page=${encodeURIComponent(page)}`, { cache: "no-store" });
    if (!answer.ok) return;
    if ((await answer.text()) === digest) return;
    keepPlace();
    location.reload();
  }

  const changes = new EventSource("/preview/changes");
  // The first word comes at once: the page may have changed while this one was loading.
  changes.addEventListener("message", () => look().catch(() => {}));

  document.addEventListener("click", async (event) => {
    const place = event.target instanceof Element ? event.target.closest("[data-place]") : null;
    if (!place) return;
    await navigator.clipboard.writeText(place.dataset.place);
    const words = place.textContent;
    place.textContent = copied;
    setTimeout(() => (place.textContent = words), 1200);
  });

  backToPlace();
})();
