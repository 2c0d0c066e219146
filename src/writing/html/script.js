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
  boxes.forEach((box) => {
    box.checked = state[box.id] === 1;
    box.addEventListener("change", () => {
      if (box.checked) state[box.id] = 1; else delete state[box.id];
      save();
    });
  });

  document.querySelectorAll(".tally").forEach((tally) => {
    const most = Number(tally.dataset.count);
    const marks = tally.querySelectorAll(".boxes i");
    const show = () => {
      const count = Math.min(state[tally.id] || 0, most);
      tally.querySelector("output").textContent = count;
      marks.forEach((mark, at) => mark.classList.toggle("done", at < count));
    };
    const add = (by) => {
      state[tally.id] = Math.max(0, Math.min(most, (state[tally.id] || 0) + by));
      save();
      show();
    };
    tally.querySelector(".less").addEventListener("click", () => add(-1));
    tally.querySelector(".more").addEventListener("click", () => add(1));
    later.push(show);
    show();
  });

  document.getElementById("clear").addEventListener("click", () => {
    state = {};
    save();
    boxes.forEach((box) => { box.checked = false; });
    later.forEach((show) => show());
  });

  const pictures = document.querySelectorAll("svg[data-in]");
  pictures.forEach((picture) => { picture.dataset.mm = picture.getAttribute("aria-label"); });
  const tell = () => pictures.forEach((picture) => {
    picture.setAttribute("aria-label", picture.dataset[root.dataset.units]);
  });
  later.push(tell);
  tell();

