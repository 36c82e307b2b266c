"use strict";
// The page of a station: what is typed goes to the server, what it answers comes into the page. No figure is worked out here.
(() => {
  const by = (id) => document.getElementById(id);
  const station = document.body.dataset.station;
  const tab = Array.from(crypto.getRandomValues(new Uint32Array(2)), (n) => n.toString(36)).join("");
  const touched = {};
  const SECOND_MS = 500, THIRD_MS = 1500;
  let serial = 0, waiting = null, timers = [], held = {};

  const post = (path, body, signal) => fetch(path, {
    method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(body), signal,
  });

  // Words of the server as nodes: parsed as a page of their own, so that no script in them could run.
  const put = (id, html) => {
    if (held[id] === html) return;
    held[id] = html;
    const place = by(id), focus = place.contains(document.activeElement) && document.activeElement.dataset.do;
    const open = place.contains(document.activeElement) && document.activeElement.tagName;
    place.replaceChildren(...new DOMParser().parseFromString(html, "text/html").body.childNodes);
    if (open) (place.querySelector(focus ? `[data-do="${focus}"]` : "a, button") || place).focus?.();
    measure();
  };

  // The dimension of the field that somebody is at, or points to.
  const measure = (over) => {
    const at = over || document.activeElement?.closest?.("[data-name]");
    for (const picture of document.querySelectorAll(".picture")) {
      let any = false;
      for (const span of picture.querySelectorAll(".span")) {
        const on = at && span.dataset.for === at.dataset.name;
        span.classList.toggle("on", !!on);
        any ||= on;
      }
      picture.classList.toggle("measured", !!any);
    }
  };

  const tell = (answer) => {
    for (const place of document.querySelectorAll("[data-name]")) {
      const name = place.dataset.name, said = by(`said-${name}`), was = place.querySelector(".was");
      const fault = answer.faults[name] || "";
      if (said) {
        said.querySelector(".fault").textContent = fault;
        said.querySelector(".caution").textContent = answer.cautions[name] || "";
      }
      for (const field of place.querySelectorAll("input, select")) {
        if (fault) field.setAttribute("aria-invalid", "true"); else field.removeAttribute("aria-invalid");
      }
      if (was) {
        was.hidden = !(name in answer.changed) || !answer.changed[name];
        was.querySelector("b").textContent = answer.changed[name] || "";
      }
    }
    for (const [name, words] of Object.entries(answer.spreads)) {
      const place = document.querySelector(`[data-name="${name}"] .spread`);
      if (place) place.textContent = words;
    }
    for (const [part, html] of Object.entries(answer.parts)) put(part, html);
    const kind = by("shop:machine.kind")?.value;
    for (const [name, wanted] of [["shop:machine.kerf", "laser"], ["shop:machine.cutter", "cnc"]]) {
      const place = by(name)?.closest(".field");
      if (place) place.hidden = (kind || "laser") !== wanted;
    }
    const made = by("shop:housing_work.by")?.value || "router";
    for (const field of document.querySelectorAll('.field[data-name^="shop:hand_"], .field[data-name="shop:chisel.blade"]')) {
      const routed = field.dataset.name.startsWith("shop:hand_router.");
      if (!field.closest("details")) field.hidden = made === (routed ? "saw and chisel" : "router");
    }
    const words = by("rail").querySelector(".says")?.innerText.split("\n")[0] || "";
    if (by("said").textContent !== words) by("said").textContent = words;
  };

  const live = async (settled) => {
    waiting?.abort();
    const mine = (waiting = new AbortController());
    serial += 1;
    try {
      const asked = { station, tab, serial, settled, mark: document.body.dataset.mark, values: touched };
      const answer = await post("live", asked, mine.signal);
      if (answer.status === 204) return;
      const told = await answer.json();
      if (mine === waiting) answer.ok ? tell(told) : refuse(told);
    } catch (error) {
      if (error.name !== "AbortError") gone();
    }
  };

  const refuse = (told) => {
    const box = document.createElement("p");
    box.className = "box fault";
    box.setAttribute("role", "alert");
    box.textContent = (told.refused || ["The server does not take this."]).join(" ");
    by("notice").replaceChildren(box);
    box.scrollIntoView({ block: "nearest" });
    held.notice = "";
  };
  const gone = () => refuse({ refused: ["The bench does not answer any more. Start it again with jigmaker open; what you typed is kept."] });

  const rest = () => {
    timers.forEach(clearTimeout);
    timers = [setTimeout(() => live(1), SECOND_MS)];
    if (by("board").querySelector("[data-later]") || station === "shop") timers.push(setTimeout(() => live(2), THIRD_MS));
  };

  const typed = (event) => {
    const field = event.target;
    if (!field.name) return;
    touched[field.name] = field.value;
    if (field.name === "feet:which") live(0).then(() => location.reload());
    else { live(0); rest(); }
  };

  const ask = async (then) => {
    const answer = await post("ask", { mark: document.body.dataset.mark, then });
    if (!answer.ok) return refuse(await answer.json());
    put("ask", await answer.text());
    by("ask").showModal();
    by("ask").querySelector("button").focus();
  };

  // The page follows a make until it is done; then it is loaded anew, with the pictures of what was made.
  let wasRunning = false;
  const progress = async () => {
    const told = await (await fetch("progress")).json();
    put("kit", told.kit);
    put("rail", told.rail);
    if (by("said").textContent !== told.said) by("said").textContent = told.said;
    if (told.running) setTimeout(() => progress().catch(gone), 400);
    else if (wasRunning) location.reload();
    wasRunning = told.running;
  };

  const make = async () => {
    const answer = await post("make", { mark: document.body.dataset.mark });
    if (!answer.ok) return refuse(await answer.json());
    await progress();
  };

  const does = {
    field: (name) => {
      const field = by(name) || document.querySelector(`[name="${name}"]`);
      if (!field) { location.href = `${name.startsWith("shop:") ? "shop" : "./"}#${encodeURIComponent(name)}`; return; }
      for (let up = field.parentElement; up; up = up.parentElement) if (up.tagName === "DETAILS") up.open = true;
      does.show(field);
      field.focus();
    },
    show: (field) => {
      const place = field.closest(".place");
      if (place) document.querySelectorAll(".place").forEach((each) => each.classList.toggle("now", each === place));
    },
    which: async (number) => { touched["feet:which"] = number; await live(0); location.reload(); },
    take: async () => { await post("take", {}); location.href = "shop"; },
    write: () => ask(""),
    writemake: () => ask("make"),
    yes: async (then) => {
      const answer = await post("write", { mark: document.body.dataset.mark });
      by("ask").close();
      if (!answer.ok) return refuse(await answer.json());
      const told = await answer.json();
      document.body.dataset.mark = told.mark;
      if (then === "make") await make(); else location.reload();
    },
    no: () => by("ask").close(),
    load: () => location.reload(),
    drop: async (which) => { await post("drop", { which }); location.reload(); },
    back: (name) => {
      const field = by(name);
      field.value = field.closest(".field").querySelector(".was b").textContent;
      field.dispatchEvent(new Event("input", { bubbles: true }));
      field.focus();
    },
    make,
    stop: async () => { await post("stop", {}); await progress(); },
    place: (to) => {
      const all = [...document.querySelectorAll(".place")], now = all.findIndex((each) => each.classList.contains("now"));
      const next = to === "next" ? now + 1 : to === "before" ? now - 1 : Number(to);
      if (!all[next]) return;
      all.forEach((each, i) => each.classList.toggle("now", i === next));
      all[next].querySelector("input, select")?.focus();
    },
  };

  document.addEventListener("click", (event) => {
    const button = event.target.closest("[data-do]");
    if (!button) return;
    const [what, ...more] = button.dataset.do.split(":");
    Promise.resolve(does[what](more.join(":"))).catch(gone);
  });
  document.addEventListener("input", typed);
  document.addEventListener("focusin", () => measure());
  document.addEventListener("focusout", () => measure());
  document.addEventListener("mouseover", (event) => {
    const over = event.target.closest?.("[data-name]");
    measure(document.activeElement?.closest?.("[data-name]") ? undefined : over);
  });
  addEventListener("load", () => {
    if (location.hash.length > 1) does.field(decodeURIComponent(location.hash.slice(1)));
    if (station === "kit") progress().catch(gone);
    else { live(1); if (station === "shop") timers.push(setTimeout(() => live(2), THIRD_MS)); }
  });
})();
