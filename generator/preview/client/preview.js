// Keeps the page on screen up to date with the text being written: only what changed is replaced, what was ticked,
// chosen or scrolled stays. Runs before the page's own scripts, while the page is still as it was served.
"use strict";
(() => {
  const root = document.documentElement;
  const shown = new WeakMap(); // a node as served -> the node on screen
  const pair = (served, screen) => {
    shown.set(served, screen);
    for (let i = 0; i < served.childNodes.length; i++) pair(served.childNodes[i], screen.childNodes[i]);
  };
  const served = root.cloneNode(true);
  pair(served, root);

  // ---- putting changes on the screen -------------------------------------------------------------------------
  // `served` and the screen take the same changes, so that nothing large is moved or made anew.
  const name = (node) => node.nodeType === 1 ? node.id || node.getAttribute("data-course") || "" : "";
  const attributes = (old, fresh, screen) => {
    for (const { name } of [...old.attributes]) if (!fresh.hasAttribute(name)) for (const node of [old, screen]) node.removeAttribute(name);
    for (const { name, value } of fresh.attributes) if (old.getAttribute(name) !== value) for (const node of [old, screen]) node.setAttribute(name, value);
  };
  const add = (fresh) => {
    const screen = document.importNode(fresh, true);
    pair(fresh, screen);
    return screen;
  };
  // A drawing that this page has already comes as an empty one that names it.
  const kept = (node) => node.nodeName === "svg" ? node.dataset.kept : null;
  const same = (old, fresh) => kept(fresh) ? old.dataset.drawing === kept(fresh) : old.isEqualNode(fresh);
  const partner = (fresh, free, named) => {
    const key = name(fresh);
    if (key) return named.get(fresh.nodeName + key);
    for (const old of free) if (old.nodeName === fresh.nodeName && same(old, fresh)) return old;
    for (const old of free) if (old.nodeName === fresh.nodeName && !name(old)) return old;
    return undefined;
  };
  const put = (node, last, parent) => { if (last) last.after(node); else parent.prepend(node); };
  const place = (node, last, parent) => { put(node, last, parent); put(shown.get(node), last && shown.get(last), shown.get(parent)); };
  const sync = (old, fresh) => {
    const screen = shown.get(old);
    if (fresh.nodeType !== 1) { if (old.data !== fresh.data) old.data = screen.data = fresh.data; return; }
    attributes(old, fresh, screen);
    // The marks of a course move together: putting them in anew is quicker than comparing each.
    if (fresh.hasAttribute("data-course")) {
      screen.replaceChildren(...[...fresh.childNodes].map(add));
      old.replaceChildren(...fresh.childNodes);
      return;
    }
    const kids = [...old.childNodes], free = new Set(kids), named = new Map();
    for (const kid of kids) if (name(kid)) named.set(kid.nodeName + name(kid), kid);
    let last = null, reached = -1;
    for (const kid of [...fresh.childNodes]) {
      let here = partner(kid, free, named);
      if (here && free.delete(here)) {
        const was = kids.indexOf(here);
        if (!same(here, kid)) sync(here, kid);
        if (was < reached) place(here, last, old);
        reached = Math.max(reached, was);
      } else {
        here = kid;
        add(kid);
        place(here, last, old);
      }
      last = here;
    }
    for (const kid of free) { shown.get(kid).remove(); kid.remove(); }
  };

  // ---- what changed is lit for a moment ----------------------------------------------------------------------
  const lines = (tree) => new Map([...tree.querySelectorAll(".rounds > li")].map((line) => [line.id, line]));
  const changes = (before, after) => {
    const old = lines(before);
    return [...lines(after)].filter(([id, line]) => !old.has(id) || !old.get(id).isEqualNode(line)).map(([id]) => id);
  };
  const courses = (line) => {
    const work = line.closest("[data-part]"), mine = (line.dataset.courses || "").split(" ");
    return work ? [...work.querySelectorAll("svg [data-course]")].filter((group) => group.dataset.course.split(" ").some((one) => one && mine.includes(one))) : [];
  };
  // All is measured before anything is scrolled, so that the page is laid out once.
  const centre = (groups) => {
    const off = groups.map((group) => [group.closest(".pan"), group]).filter(([pan]) => pan).map(([pan, group]) => {
      const frame = pan.getBoundingClientRect(), mark = group.getBoundingClientRect();
      return [pan, mark.left + mark.width / 2 - frame.left - frame.width / 2, mark.top + mark.height / 2 - frame.top - frame.height / 2];
    });
    for (const [pan, x, y] of off) pan.scrollBy(x, y);
  };
  let recent = [], dimming = 0; // the chart follows its words a moment later, and is lit for the same rounds
  const light = (ids) => {
    if (ids.length) {
      recent = ids;
      for (const old of document.querySelectorAll(".preview-lit")) old.classList.remove("preview-lit");
      clearTimeout(dimming);
      dimming = setTimeout(() => { recent = []; for (const lit of document.querySelectorAll(".preview-lit")) lit.classList.remove("preview-lit"); }, 2400);
    }
    const found = recent.map((id) => document.getElementById(id)).filter(Boolean);
    if (!found.length) return;
    const newest = found[found.length - 1], box = newest.getBoundingClientRect(), marks = courses(newest);
    centre(marks);
    if (ids.length && follow() && (box.bottom < 0 || box.top > innerHeight)) newest.scrollIntoView({ block: "center" });
    for (const line of found) for (const lit of [line, ...(line === newest ? marks : courses(line))]) lit.classList.add("preview-lit");
  };
  const steady = (act) => {
    const focus = document.activeElement && document.activeElement.closest(".rounds > li");
    const middle = document.elementFromPoint(innerWidth / 3, innerHeight / 2);
    const anchor = focus || (middle && middle.closest("main [id]"));
    const top = anchor ? anchor.getBoundingClientRect().top : 0;
    act();
    if (anchor && anchor.isConnected) scrollBy({ top: anchor.getBoundingClientRect().top - top, behavior: "instant" });
  };

  // ---- the margin --------------------------------------------------------------------------------------------
  const make = (tag, className, text) => Object.assign(document.createElement(tag), { className, textContent: text || "" });
  const margin = make("aside", "preview-margin");
  margin.setAttribute("aria-label", "Preview");
  const head = make("p", "preview-state"), facts = make("dl", "preview-facts"), wishes = make("div", "preview-wishes"), list = make("ol", "preview-slips");
  head.setAttribute("role", "status");
  const label = make("label", "preview-follow"), box = Object.assign(document.createElement("input"), { type: "checkbox", checked: true });
  label.append(box, " go to the round I change");
  const fold = make("button", "preview-fold", "Hide");
  fold.type = "button";
  fold.addEventListener("click", () => { fold.textContent = root.classList.toggle("preview-folded") ? "Show" : "Hide"; });
  margin.append(fold, head, facts, wishes, list, label);
  const follow = () => box.checked;
  const mark = (slip) => {
    const item = make("li", `preview-slip ${slip.severity}`);
    // Every string of a slip comes escaped from the server; only `code` elements are in it.
    item.innerHTML = `<p class="preview-where"><b>${slip.file ? `${slip.file}, ` : ""}line ${slip.line}</b> ${slip.title}</p><p>${slip.message}</p>` +
      `<pre>${slip.before}<mark>${slip.marked || " "}</mark>${slip.after}</pre>` + (slip.fits ? `<p class="preview-fits">fits: ${slip.fits}</p>` : "");
    return item;
  };
  const drawing = (one) => {
    const figure = make("figure", ""), words = make("figcaption", "", one.caption);
    figure.innerHTML = one.svg; // made by the server; the author's words in it are escaped
    figure.append(words);
    return figure;
  };
  const tell = (state) => {
    root.classList.toggle("preview-stale", Boolean(state.stale));
    head.textContent = state.message;
    facts.replaceChildren(...state.facts.flatMap(([term, value]) => [make("dt", "", term), make("dd", "", value)]));
    wishes.replaceChildren(...(state.drawings || []).map(drawing));
    list.replaceChildren(...state.slips.map(mark));
    margin.dataset.slips = String(state.slips.length);
    root.dataset.previewVersion = String(state.version);
  };

  // ---- listening ---------------------------------------------------------------------------------------------
  const here = location.pathname.replace(/^\//, "");
  const page = decodeURIComponent(here).replace(/(^|\/)$/, "$1index.html");
  let busy = false, again = false, turn = 0;
  const drawings = () => [...served.querySelectorAll("svg[data-drawing]")].slice(0, 90).map((one) => one.dataset.drawing);
  const renew = async () => {
    if (busy) { again = true; return; }
    busy = true;
    try {
      const [answer, state] = await Promise.all([
        fetch(`${location.pathname}?kept=${drawings()}`, { cache: "no-store" }),
        fetch(`/-preview/state?page=${encodeURIComponent(page)}`, { cache: "no-store" }).then((reply) => reply.json()),
      ]);
      if (answer.ok) {
        const fresh = new DOMParser().parseFromString(await answer.text(), "text/html").documentElement;
        const changed = changes(served, fresh);
        steady(() => {
          sync(served.querySelector("body"), fresh.querySelector("body"));
          attributes(served, fresh, root);
          document.title = fresh.querySelector("title").textContent;
        });
        again = again || served.querySelector("svg[data-kept]") !== null; // it stood elsewhere: take it whole
        if (!document.body.contains(margin)) document.body.append(margin);
        document.dispatchEvent(new CustomEvent("preview:renewed", { detail: changed }));
        light(changed);
      }
      tell(answer.ok ? state : { ...state, stale: true, message: "This page is no longer there. What you see is its last version." });
    } catch { head.textContent = "The preview has stopped. Start it again and this page goes on."; } finally {
      busy = false;
      if (again) { again = false; renew(); }
    }
  };
  const fetchAnew = (selector, attribute) => {
    turn += 1;
    for (const element of document.querySelectorAll(selector)) {
      const address = new URL(element.getAttribute(attribute), location.href);
      address.searchParams.set("turn", String(turn));
      if (address.origin === location.origin) element.setAttribute(attribute, address.href);
    }
  };
  const fetchSetsAnew = () => {
    for (const element of document.querySelectorAll("main img[srcset], main source[srcset]")) {
      const one = (part) => part.trim().replace(/^(\S*?)(\?turn=\d+)?(?= |$)/, `$1?turn=${turn}`);
      element.setAttribute("srcset", element.getAttribute("srcset").split(",").map(one).join(", "));
    }
  };
  const listen = () => {
    const events = new EventSource("/-preview/events");
    events.addEventListener("hello", renew);
    events.addEventListener("saved", (event) => {
      const news = JSON.parse(event.data);
      if (news.styles) fetchAnew('link[rel="stylesheet"]', "href");
      if (news.pictures) { fetchAnew("main img", "src"); fetchSetsAnew(); }
      if (news.all || news.pages.includes(page)) renew();
    });
    events.onerror = () => { head.textContent = "The preview has stopped. Start it again and this page goes on."; };
  };
  document.addEventListener("DOMContentLoaded", () => { document.body.append(margin); listen(); });
})();
