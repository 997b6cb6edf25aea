// What can I make with forty metres? Filters over the list that is in the page anyway.
"use strict";
(() => {
  const form = document.querySelector(".filters");
  if (!form) return;
  const entries = [...document.querySelectorAll(".entry")];
  const found = form.querySelector(".found");
  const fits = (entry, wanted) => {
    const data = entry.dataset;
    if (wanted.metres && !(Number(data.metres) > 0 && Number(data.metres) <= Number(wanted.metres))) return false;
    if (wanted.weight && !data.weights.split(" ").includes(wanted.weight)) return false;
    if (wanted.hours && !(Number(data.minutes) > 0 && Number(data.minutes) <= Number(wanted.hours) * 60)) return false;
    if (wanted.level && data.level !== wanted.level) return false;
    return !wanted.tag || data.tags.split("|").includes(wanted.tag);
  };
  const sift = () => {
    const wanted = Object.fromEntries(new FormData(form));
    let n = 0;
    for (const entry of entries) { const yes = fits(entry, wanted); entry.hidden = !yes; n += yes; }
    const asked = Object.values(wanted).some(Boolean);
    found.textContent = !asked ? "" : n === 0 ? "Nothing fits; loosen one of these." : n === 1 ? "One pattern fits." : `${n} patterns fit.`;
  };
  form.addEventListener("input", sift);
  form.addEventListener("submit", (event) => event.preventDefault());
  sift();
})();
