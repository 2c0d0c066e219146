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
