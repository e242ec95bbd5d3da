// Opens the bench again while the server is away: the page as it was loaded last, and what it is drawn with. The server
// is always asked first; nothing else is kept, and no other page is answered from here.
const KEPT = "storyrod-bench";

self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));

self.addEventListener("message", (event) => {
  const addresses = event.data && Array.isArray(event.data.keep) ? event.data.keep : [];
  event.waitUntil(keep(addresses.filter((a) => typeof a === "string" && a.startsWith(`${self.location.origin}/`))));
});

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

self.addEventListener("fetch", (event) => {
  const address = new URL(event.request.url);
  if (event.request.method !== "GET" || address.origin !== self.location.origin) return;
  const bench = event.request.mode === "navigate" && /^\/job\/[^/]+\/bench$/.test(address.pathname);
  if (bench || address.pathname.startsWith("/static/")) event.respondWith(first(event.request));
});

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
