// The worker that lets the page work without the server: what was loaded once is kept, and given out when the server
// does not answer. A build is kept under its version and never asked for twice.
"use strict";

const shelf = "underload";

self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (e) => e.waitUntil(self.clients.claim()));

// The page tells what it consists of. Builds of other versions are thrown away.
self.addEventListener("message", (e) => e.waitUntil(keep(e.data)));

async function keep(paths) {
  const cache = await caches.open(shelf);
  const wanted = paths.map((path) => new URL(path, self.registration.scope).href);
  for (const kept of await cache.keys()) if (!wanted.includes(kept.url)) await cache.delete(kept);
  for (const url of wanted) if (!(await cache.match(url))) await cache.add(url);
  for (const client of await self.clients.matchAll()) client.postMessage("kept");
}

self.addEventListener("fetch", (e) => {
  const url = new URL(e.request.url);
  if (e.request.method !== "GET" || url.origin !== location.origin || url.pathname.endsWith("/events")) return;
  e.respondWith(url.searchParams.has("v") ? keptFirst(e.request) : serverFirst(e.request));
});

async function keptFirst(request) {
  return (await caches.match(request)) || fetch(request);
}

async function serverFirst(request) {
  try {
    const answer = await fetch(request);
    const cache = await caches.open(shelf);
    if (!answer.ok || !(await cache.match(request))) return answer;
    const whole = new Response(await answer.blob(), answer); // a server that dies meanwhile does not cost what was kept
    await cache.put(request, whole.clone());
    return whole;
  } catch (e) {
    const kept = await caches.match(request);
    if (kept) return kept;
    throw e;
  }
}
