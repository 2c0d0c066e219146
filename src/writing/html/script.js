"use strict";
(() => {
  const root = document.documentElement;
  const key = "lapwright " + root.dataset.job;
  // Where the browser keeps nothing for pages from files, the sheet works all the same.
  const read = (name) => { try { return localStorage.getItem(name); } catch { return null; } };
  const keep = (name, text) => { try { localStorage.setItem(name, text); } catch { /* not kept */ } };
  let state = {};
  try { state = JSON.parse(read(key)) || {}; } catch { state = {}; }
  const save = () => keep(key, JSON.stringify(state));
  const later = [];
  // A tick is kept for the words of its step, so that it stays where a sheet that was made anew says the same.
  const seen = new Map();
  const stepOf = (part) => {
    const step = part.dataset.step;
    const count = (seen.get(step) || 0) + 1;
    seen.set(step, count);
    return count === 1 ? step : `${step}-${count}`;
  };

  document.querySelectorAll(".needs-script").forEach((part) => { part.removeAttribute("hidden"); });

  const units = document.querySelectorAll("input[name=units]");
  const kept = read("lapwright units");
  if (kept === "mm" || kept === "in") root.dataset.units = kept;
  units.forEach((choice) => {
    choice.checked = choice.value === root.dataset.units;
    choice.addEventListener("change", () => {
      root.dataset.units = choice.value;
      keep("lapwright units", choice.value);
      later.forEach((show) => show());
    });
  });

  const boxes = document.querySelectorAll("input[type=checkbox]");
  const known = new Set();
  boxes.forEach((box) => {
    const step = stepOf(box);
    known.add(step);
    box.checked = state[step] === 1;
    box.addEventListener("change", () => {
      if (box.checked) state[step] = 1; else delete state[step];
      save();
    });
  });

  document.querySelectorAll(".tally").forEach((tally) => {
    const step = stepOf(tally);
    known.add(step);
    const most = Number(tally.dataset.count);
    const marks = tally.querySelectorAll(".boxes i");
    const show = () => {
      const count = Math.min(state[step] || 0, most);
      tally.querySelector("output").textContent = count;
      marks.forEach((mark, at) => mark.classList.toggle("done", at < count));
    };
    const add = (by) => {
      state[step] = Math.max(0, Math.min(most, (state[step] || 0) + by));
      save();
      show();
    };
    tally.querySelector(".less").addEventListener("click", () => add(-1));
    tally.querySelector(".more").addEventListener("click", () => add(1));
    later.push(show);
    show();
  });

  const gone = document.getElementById("gone");
  const lost = Object.keys(state).filter((step) => state[step] && !known.has(step)).length;
  gone.querySelector("output").textContent = lost;
  gone.hidden = lost === 0;

  document.getElementById("clear").addEventListener("click", () => {
    state = {};
    save();
    boxes.forEach((box) => { box.checked = false; });
    gone.hidden = true;
    later.forEach((show) => show());
  });

  const pictures = document.querySelectorAll("svg[data-in]");
  pictures.forEach((picture) => { picture.dataset.mm = picture.getAttribute("aria-label"); });
  const tell = () => pictures.forEach((picture) => {
    picture.setAttribute("aria-label", picture.dataset[root.dataset.units]);
  });
  later.push(tell);
  tell();

