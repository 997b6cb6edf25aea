// Remembers how a reader likes to read (terms, words, units, hand) on the reader's own device, for every page.
"use strict";
(() => {
  const place = "spiralbound:choices";
  const read = () => { try { return JSON.parse(localStorage.getItem(place) || "{}") || {}; } catch { return {}; } };
  const write = (choices) => { try { localStorage.setItem(place, JSON.stringify(choices)); } catch { /* not kept, still shown */ } };
  const choices = read();
  for (const group of document.querySelectorAll("[data-choice]")) {
    const name = group.dataset.choice;
    for (const input of group.querySelectorAll("input")) {
      if (choices[name] === input.value) input.checked = true;
      input.addEventListener("change", () => { const now = read(); now[name] = input.value; write(now); });
    }
  }
  const worker = document.currentScript ? new URL("../worker.js", document.currentScript.src) : null;
  if (worker && "serviceWorker" in navigator && location.protocol.startsWith("http")) {
    navigator.serviceWorker.register(worker).then(() => navigator.serviceWorker.ready).then((registration) => {
      const used = performance.getEntriesByType("resource").map((entry) => entry.name);
      const beside = [...document.querySelectorAll(".opened a")].map((link) => link.href);
      registration.active.postMessage({ keep: [location.href.split("#")[0], ...used, ...beside] });
    }).catch(() => { /* no offline copy: the page works all the same */ });
  }
})();
