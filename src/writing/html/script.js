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

  document.querySelectorAll(".needs-script").forEach((part) => { part.hidden = false; });

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

  // Figures are shown as they were written into the page; nothing is rounded here.
  document.querySelectorAll(".play").forEach((play) => {
    const split = (text) => text.split(";").map((move) => move.split(","));
    const way = split(play.dataset.way);
    const inches = split(play.dataset.wayIn);
    const [left, top] = [Number(play.dataset.x), Number(play.dataset.y)];
    const tool = play.querySelector("circle");
    const slider = play.querySelector("input");
    const button = play.querySelector(".run");
    const show = () => {
      const at = Number(slider.value) - 1;
      const [x, y, , notch, cuts] = way[at];
      const unit = root.dataset.units;
      const [tx, ty, tz] = unit === "in" ? inches[at] : way[at];
      tool.setAttribute("cx", Number(x) - left);
      tool.setAttribute("cy", top - Number(y));
      const text = `${at + 1} of ${way.length}: notch ${notch}, ${cuts === "c" ? "cutting" : "in air"}, X ${tx} Y ${ty} Z ${tz} ${unit}`;
      play.querySelector("output").textContent = text;
      slider.setAttribute("aria-valuetext", text);
    };
    let timer = 0;
    const stop = () => { clearInterval(timer); timer = 0; button.textContent = "Play"; };
    slider.addEventListener("input", show);
    button.addEventListener("click", () => {
      if (timer) { stop(); return; }
      if (slider.value === slider.max) slider.value = slider.min;
      button.textContent = "Stop";
      timer = setInterval(() => {
        slider.value = Number(slider.value) + 1;
        show();
        if (slider.value === slider.max) stop();
      }, 250);
    });
    later.push(show);
    show();
  });
})();
