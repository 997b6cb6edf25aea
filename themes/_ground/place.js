// Keep my place: ticks, counted repeats, the lit chart and the working view. Everything stays on the reader's device.
"use strict";
(() => {
  const root = document.documentElement;
  const place = "spiralbound:place:" + root.dataset.pattern;
  const load = () => { try { return JSON.parse(localStorage.getItem(place) || "{}") || {}; } catch { return {}; } };
  const state = { ticks: {}, turns: {}, ...load() };
  const save = () => { try { localStorage.setItem(place, JSON.stringify(state)); } catch { /* private window: kept until it closes */ } };
  const part = (element) => element.closest(".work").dataset.part;
  let rounds = [];
  const boxes = (round) => [...round.querySelectorAll(".tick input")];
  const done = (round) => boxes(round).every((box) => box.checked);
  const current = () => rounds.find((round) => !done(round)) || null;

  // The chart's course lights up with its round, and the round with its course.
  const light = (round) => {
    for (const svg of document.querySelectorAll(".work figure.chart svg")) {
      const mine = round && part(round) === part(svg);
      const wanted = mine ? round.dataset.courses.split(" ") : [];
      const lit = (course) => course.dataset.course.split(" ").some((one) => wanted.includes(one));
      const courses = [...svg.querySelectorAll("[data-course]")];
      svg.classList.toggle("lighting", courses.some(lit));
      for (const course of courses) course.classList.toggle("lit", lit(course));
    }
  };
  const working = () => root.classList.contains("working");
  const settle = () => light(working() ? current() : null);

  const show = () => {
    const now = current();
    for (const round of rounds) {
      round.classList.toggle("done", done(round));
      round.classList.toggle("now", round === now && (working() || Object.keys(state.ticks).length > 0));
      if (round === now) round.setAttribute("aria-current", "step"); else round.removeAttribute("aria-current");
    }
    for (const work of document.querySelectorAll(".work")) work.classList.toggle("current", now ? part(work) === part(now) : false);
    if (bar) tell(now);
    invite(now);
    if (working()) settle();
  };

  // What the page offers at its head: to begin, or to go on where the ticks end; to untick only what is ticked.
  const go = document.getElementById("go-on"), untick = document.getElementById("untick");
  const beginning = go && { words: go.textContent, address: go.getAttribute("href") };
  const words = (round) => round.querySelector(".figure").innerText.replace(/\s+/g, " ").trim();
  const invite = (now) => {
    const begun = Object.keys(state.ticks).length > 0;
    if (untick) untick.hidden = !begun && !Object.keys(state.turns).length;
    if (!go) return;
    go.textContent = begun && now ? `Go on at ${words(now)}` : beginning.words;
    go.setAttribute("href", begun && now ? "#" + now.id : beginning.address);
  };

  const follow = (round) => {
    for (const box of boxes(round)) {
      box.checked = Boolean(state.ticks[box.name]);
      box.addEventListener("change", () => {
        if (box.checked) state.ticks[box.name] = 1; else delete state.ticks[box.name];
        delete state.turns[round.id];
        save(); count(round); show();
      });
    }
    round.addEventListener("pointerenter", () => light(round));
    round.addEventListener("pointerleave", settle);
    round.addEventListener("focusin", () => light(round));
    round.addEventListener("focusout", settle);
    if (Number(round.dataset.repeats) > 1) turning(round);
  };

  // Counted repeats: one press for each time round the repeat, on the round in hand.
  const count = (round) => {
    const button = round.querySelector(".turns");
    if (!button) return;
    const turn = state.turns[round.id] || 0;
    button.textContent = `${turn} / ${round.dataset.repeats}`;
    button.setAttribute("aria-label", `${turn} of ${round.dataset.repeats} repeats done. Press after each one`);
  };
  const turn = (round) => {
    const most = Number(round.dataset.repeats);
    const next = (state.turns[round.id] || 0) + 1;
    if (next > most) delete state.turns[round.id]; else state.turns[round.id] = next;
    save(); count(round); invite(current());
  };
  const turning = (round) => {
    round.querySelector(".turns")?.remove();
    const button = document.createElement("button");
    button.type = "button"; button.className = "turns";
    button.addEventListener("click", () => turn(round));
    round.querySelector(".ticks").append(button);
    count(round);
  };

  const find = (course) => {
    const wanted = course.dataset.course.split(" ");
    return rounds.filter((round) => part(round) === part(course)).find((round) => round.dataset.courses.split(" ").some((one) => wanted.includes(one)));
  };
  const answer = (course) => {
    const round = () => find(course);
    course.addEventListener("pointerenter", () => { light(round()); round()?.classList.add("pointed"); });
    course.addEventListener("pointerleave", () => { settle(); round()?.classList.remove("pointed"); });
    course.addEventListener("focus", () => light(round()));
    course.addEventListener("blur", settle);
    course.addEventListener("click", () => round()?.scrollIntoView({ block: "center" }));
  };

  // The page as it stands; a page being written is renewed in parts, and only what is new is followed.
  const followed = new WeakSet();
  const once = (elements, act) => { for (const one of elements) if (!followed.has(one)) { followed.add(one); act(one); } };
  const attend = () => {
    rounds = [...document.querySelectorAll(".round")];
    once(rounds, follow);
    once(document.querySelectorAll(".work figure.chart [data-course]"), answer);
    once(document.querySelectorAll(".larger"), (larger) => {
      larger.addEventListener("click", () => larger.setAttribute("aria-pressed", String(larger.closest("figure").classList.toggle("wide"))));
    });
    show();
  };

  // Wake lock: asked for in the working view, asked again when the reader comes back to the page.
  let lock = null;
  const awake = async () => {
    try { if (working() && "wakeLock" in navigator) lock = await navigator.wakeLock.request("screen"); } catch { lock = null; }
  };
  const asleep = () => { if (lock) { lock.release(); lock = null; } };
  document.addEventListener("visibilitychange", () => { if (document.visibilityState === "visible") awake(); });

  let bar = null;
  const make = (name, words, act) => {
    const button = document.createElement("button");
    button.type = "button"; button.className = name; button.textContent = words;
    button.addEventListener("click", act);
    return button;
  };
  const tell = (now) => {
    const output = bar.querySelector("output");
    if (!now) { output.textContent = "All done"; bar.querySelector(".next").textContent = "Finished"; return; }
    const mine = rounds.filter((round) => part(round) === part(now));
    const open = boxes(now).findIndex((box) => !box.checked);
    const many = boxes(now).length > 1 ? `, ${open + 1} of ${boxes(now).length}` : "";
    output.textContent = `${words(now)}${many} (${mine.indexOf(now) + 1}/${mine.length})`;
    const most = Number(now.dataset.repeats || 0);
    bar.querySelector(".repeat").hidden = most < 2;
    bar.querySelector(".next").textContent = "Done";
  };
  const step = (forward) => {
    if (forward) {
      const now = current();
      const box = now && boxes(now).find((one) => !one.checked);
      if (!box) { leave(); return; }
      box.click();
    } else {
      const ticked = rounds.flatMap(boxes).filter((box) => box.checked);
      if (ticked.length) ticked[ticked.length - 1].click();
    }
    bring();
  };
  const bring = () => {
    const now = current();
    if (now) now.scrollIntoView({ block: "start" });
  };
  const enter = () => {
    root.classList.add("working");
    if (!bar) {
      bar = document.createElement("div");
      bar.className = "bar"; bar.setAttribute("role", "toolbar"); bar.setAttribute("aria-label", "Working view");
      const output = document.createElement("output");
      output.setAttribute("aria-live", "polite");
      bar.append(
        make("leave", "Close", leave), make("back", "Back", () => step(false)), output,
        make("repeat", "+1 repeat", () => { const now = current(); if (now) turn(now); }), make("next", "Done", () => step(true)),
      );
      document.querySelector("main").append(bar);
    }
    show(); bring(); awake();
    bar.querySelector(".next").focus({ preventScroll: true });
  };
  const leave = () => {
    const now = current();
    root.classList.remove("working");
    asleep(); show(); light(null);
    if (now) now.scrollIntoView({ block: "center" });
  };
  document.addEventListener("keydown", (event) => {
    if (!working()) return;
    if (event.key === "Escape") leave();
    if (event.key === "ArrowRight" || event.key === "PageDown") { event.preventDefault(); step(true); }
    if (event.key === "ArrowLeft" || event.key === "PageUp") { event.preventDefault(); step(false); }
  });

  document.getElementById("work-button")?.addEventListener("click", enter);
  untick?.addEventListener("click", () => {
    if (!window.confirm("Untick every round of this pattern?")) return;
    state.ticks = {}; state.turns = {}; save();
    for (const round of rounds) { for (const box of boxes(round)) box.checked = false; count(round); }
    show();
  });
  document.addEventListener("preview:renewed", attend);
  attend();
})();
