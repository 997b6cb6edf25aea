// Search in the browser, from a small index that is a plain script, so that it works from a folder on disk too.
"use strict";
(() => {
  const index = window.spiralboundIndex || [];
  const form = document.querySelector(".search");
  const box = form && form.querySelector("input");
  const list = document.querySelector(".results");
  if (!box || !list) return;
  const fold = (words) => words.toLowerCase().normalize("NFKD").replace(/\p{M}/gu, "");
  const top = document.querySelector("link[rel=icon]").getAttribute("href").replace(/assets\/mark\.svg$/, "");
  const score = (entry, words) => {
    let sum = 0;
    for (const word of words) {
      let best = 0;
      for (const [field, weight] of [[entry.t, 8], [entry.g, 5], [entry.s, 4], [entry.d, 2]]) {
        const at = fold(field || "").search(new RegExp("(^|[^\\p{L}\\p{N}])" + word.replace(/[.*+?^${}()|[\]\\]/g, "\\$&"), "u"));
        if (at >= 0) best = Math.max(best, weight + (at === 0 ? 1 : 0));
      }
      if (!best) return 0;
      sum += best;
    }
    return sum;
  };
  const look = () => {
    const words = fold(box.value).split(/\s+/).filter(Boolean);
    const found = words.length ? index.map((entry) => [score(entry, words), entry]).filter(([n]) => n > 0).sort((a, b) => b[0] - a[0] || a[1].t.localeCompare(b[1].t)) : [];
    list.replaceChildren(...found.slice(0, 60).map(([, entry]) => {
      const item = document.createElement("li"), link = document.createElement("a"), text = document.createElement("p");
      link.href = top + entry.u; link.textContent = entry.t; text.textContent = entry.d || "";
      item.append(link, text);
      return item;
    }));
    document.querySelector(".everything").hidden = words.length > 0;
    document.querySelector(".found").textContent = words.length ? (found.length === 0 ? "None by title, tag or stitch" : found.length === 1 ? "1 found" : `${found.length} found`) : "";
  };
  // Words inside pages, where the site is served and was published with the larger index.
  const texts = document.querySelector(".texts");
  const site = new URL(top || "./", location.href);
  let engine = null, turn = 0;
  const library = async () => {
    if (engine === null && location.protocol.startsWith("http")) {
      engine = import(new URL("pagefind/pagefind.js", site)).then(async (loaded) => { await loaded.options({ baseUrl: site.pathname }); return loaded; }).catch(() => false);
    }
    return engine;
  };
  const within = async () => {
    const mine = ++turn;
    const words = box.value.trim();
    const found = words.length > 1 && await library();
    const hits = found ? (await found.search(words)).results.slice(0, 8) : [];
    const pages = await Promise.all(hits.map((hit) => hit.data()));
    if (mine !== turn) return;
    const shown = new Set([...list.querySelectorAll("a")].map((link) => link.pathname));
    const others = pages.filter((page) => !shown.has(new URL(page.url, location.href).pathname));
    texts.replaceChildren(...others.map((page) => {
      const item = document.createElement("li"), link = document.createElement("a"), text = document.createElement("p");
      link.href = page.url; link.textContent = page.meta.title; text.textContent = page.plain_excerpt;
      item.append(link, text);
      return item;
    }));
    document.querySelector(".within").hidden = others.length === 0;
  };
  let wait = 0;
  box.addEventListener("input", () => { clearTimeout(wait); wait = setTimeout(within, 200); });

  box.value = new URLSearchParams(location.search).get("q") || "";
  box.addEventListener("input", look);
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    try { history.replaceState(null, "", "?q=" + encodeURIComponent(box.value)); } catch { /* from a folder the address stays */ }
    look();
  });
  look();
  within();
})();
