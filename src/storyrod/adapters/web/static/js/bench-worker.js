// Opens the bench again while the server is away: the page as it was loaded last, and what it is drawn with. The server
// is always asked first; nothing else is kept, and no other page is answered from here.
const KEPT = "storyrod-bench";
const here = /** @type {ServiceWorkerGlobalScope} */ (/** @type {unknown} */ (self));

here.addEventListener("install", () => here.skipWaiting());
here.addEventListener("activate", (event) => event.waitUntil(here.clients.claim()));

here.addEventListener("message", (event) => {
  /** @type {string[]} */
  const addresses = event.data && Array.isArray(event.data.keep) ? event.data.keep : [];
  event.waitUntil(keep(addresses.filter((a) => typeof a === "string" && a.startsWith(`${here.location.origin}/`))));
});

/** @param {string[]} addresses */
async function keep(addresses) {
  const cache = await caches.open(KEPT);
  await Promise.all(addresses.map(async (address) => {
    try {
      const answer = await fetch(address, { credentials: "same-origin" });
      if (answer.ok && !answer.redirected) await cache.put(address, answer);
    } catch {
      // Away just now; what was kept before stays.
    }
  }));
}

here.addEventListener("fetch", (event) => {
  const address = new URL(event.request.url);
  if (event.request.method !== "GET" || address.origin !== here.location.origin) return;
  const bench = event.request.mode === "navigate" && /^\/job\/[^/]+\/bench$/.test(address.pathname);
  if (bench || address.pathname.startsWith("/static/")) event.respondWith(first(event.request));
});

/** @param {Request} request */
async function first(request) {
  try {
    return await fetch(request);
  } catch (error) {
    const cache = await caches.open(KEPT);
    const kept = await cache.match(request.url, { ignoreSearch: true });
    if (kept) return kept;
    throw error;
  }
}
