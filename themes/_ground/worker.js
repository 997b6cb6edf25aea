// Keeps every page that was opened, so that it can be worked from without a network. VERSION is filled in by publish.
"use strict";
const shelf = "spiralbound-VERSION";
const core = CORE;
const here = (address) => new URL(address, self.registration.scope).href;
const mine = (address) => address.startsWith(self.registration.scope);
const tidy = (address) => address.split("#")[0];

self.addEventListener("install", (event) => {
  event.waitUntil(caches.open(shelf).then((cache) => cache.addAll(core.map(here))).then(() => self.skipWaiting()));
});
self.addEventListener("activate", (event) => {
  // Pages opened under an older version stay readable until their newer selves are fetched.
  event.waitUntil(caches.keys().then((names) => Promise.all(names.filter((name) => name.startsWith("spiralbound-") && name !== shelf).map(async (name) => {
    const old = await caches.open(name), cache = await caches.open(shelf);
    for (const request of await old.keys()) if (!(await cache.match(request))) { const answer = await old.match(request); if (answer) await cache.put(request, answer); }
    return caches.delete(name);
  }))).then(() => self.clients.claim()));
});
self.addEventListener("message", (event) => {
  const wanted = (event.data && event.data.keep) || [];
  event.waitUntil(caches.open(shelf).then((cache) => Promise.all(wanted.filter(mine).map(async (address) => {
    if (!(await cache.match(address))) await cache.add(address).catch(() => null);
  }))));
});
self.addEventListener("fetch", (event) => {
  const request = event.request;
  if (request.method !== "GET" || !mine(request.url) || (request.headers.get("accept") || "").includes("text/event-stream")) return;
  event.respondWith((async () => {
    const cache = await caches.open(shelf);
    try {
      const answer = await fetch(request);
      // A full device keeps nothing, but the page is shown all the same.
      if (answer.status === 200) event.waitUntil(cache.put(tidy(request.url), answer.clone()).catch(() => null));
      return answer;
    } catch (error) {
      const kept = await cache.match(tidy(request.url), { ignoreSearch: true }) || await cache.match(tidy(request.url).replace(/\/$/, "/index.html"));
      if (kept) return kept;
      if (request.mode === "navigate") { const missing = await cache.match(here("404.html")); if (missing) return missing; }
      throw error;
    }
  })());
});
