// Keeps the whole site on the device. One edition at a time: all its files are fetched and their digests compared before any of them is shown, so that
// pages of two editions never stand side by side; and nothing is shown from the network that is not of this edition.
const EDITION = "{edition}";
const PREFIX = `stepward ${new URL("./", self.location.href).pathname} `;
/** SHA-256 digest of each file by its path. @type {Record<string, string>} */
const FILES = {files};

/** @param {string} path */
async function fetched(path) {
  const response = await fetch(path, { cache: "no-store" });
  if (!response.ok) throw new Error(`${path}: ${response.status}`);
  const bytes = await response.arrayBuffer();
  const digest = [...new Uint8Array(await crypto.subtle.digest("SHA-256", bytes))].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  if (digest !== FILES[path]) throw new Error(`${path} is of another edition`);
  return new Response(bytes, { headers: { "content-type": response.headers.get("content-type") ?? "application/octet-stream" } });
}

/** All or nothing: an edition that cannot be fetched whole takes no room either. */
async function keepAll() {
  const known = await caches.has(PREFIX + EDITION);
  const cache = await caches.open(PREFIX + EDITION);
  try {
    for (const path of Object.keys(FILES)) await cache.put(path, await fetched(path));
  } catch (problem) {
    if (!known) await caches.delete(PREFIX + EDITION);
    throw problem;
  }
}

async function dropOthers() {
  const names = await caches.keys();
  await Promise.all(names.filter((name) => name.startsWith(PREFIX) && name !== PREFIX + EDITION).map((name) => caches.delete(name)));
}

/** @param {Request} request */
async function answer(request) {
  const address = new URL(request.url);
  address.search = "";
  address.hash = "";
  if (address.pathname.endsWith("/")) address.pathname += "index.html";
  const cache = await caches.open(PREFIX + EDITION);
  return (await cache.match(address.href)) ?? fetch(request);
}

self.addEventListener("install", (event) => event.waitUntil(keepAll()));
self.addEventListener("activate", (event) => event.waitUntil(dropOthers().then(() => self.clients.claim())));
self.addEventListener("fetch", (event) => {
  const within = event.request.method === "GET" && event.request.url.startsWith(new URL("./", self.location.href).href);
  if (within) event.respondWith(answer(event.request));
});
self.addEventListener("message", (event) => {
  if (event.data === "show") self.skipWaiting();
});
