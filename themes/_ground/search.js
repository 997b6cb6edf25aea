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
    document.querySelector(".found").textContent = words.length ? (found.length === 1 ? "1 found" : `${found.length} found`) : "";
  };
  box.value = new URLSearchParams(location.search).get("q") || "";
  box.addEventListener("input", look);
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    try { history.replaceState(null, "", "?q=" + encodeURIComponent(box.value)); } catch { /* from a folder the address stays */ }
    look();
  });
  look();
})();
