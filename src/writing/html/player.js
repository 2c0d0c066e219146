
  // Figures are shown as they were written into the page; nothing is rounded here.
  document.querySelectorAll(".play").forEach((play) => {
    const NS = "http://www.w3.org/2000/svg";
    const MINUTE = 60000;
    const split = (text) => text.split(";").map((move) => move.split(","));
    const way = split(play.dataset.way);
    const inches = split(play.dataset.wayIn);
    const feeds = { mm: play.dataset.feeds.split(";"), in: play.dataset.feedsIn.split(";") };
    const [left, top, wide, deep] = ["x", "y", "wide", "deep"].map((key) => Number(play.dataset[key]));
    const ends = way.map((move) => move.slice(0, 3).map(Number));
    const isCut = way.map((move) => move[4] === "c");
    const tool = play.querySelector("circle");
    const above = tool.ownerSVGElement;
    const end = play.querySelector("svg.end");
    const slider = play.querySelector("input");
    const button = play.querySelector(".run");
    const made = (parent, name, attributes) => {
      const node = document.createElementNS(NS, name);
      Object.entries(attributes).forEach(([key, value]) => node.setAttribute(key, value));
      parent.append(node);
      return node;
    };
    const tone = (z) => {
      const share = Math.round(100 * Math.min(1, Math.max(0, -z / deep)));
      return `color-mix(in srgb, var(--cut) ${share}%, var(--behind))`;
    };

    // The wood, and what is cut away from above: a broad line for every depth, the deeper the later.
    const strips = [...above.querySelectorAll("polygon.wood")];
    const rings = strips.map((strip) => strip.getAttribute("points").split(" ").map((pair) => pair.split(",").map(Number)));
    const across = rings.flat().map((point) => point[0]);
    const down = rings.flat().map((point) => point[1]);
    const [x0, y0] = [Math.min(...across), Math.min(...down)];
    const room = [x0, y0, Math.max(...across) - x0, Math.max(...down) - y0];
    // Nothing is seen of it beside the wood.
    const window = made(above, "svg", { x: room[0], y: room[1], width: room[2], height: room[3], viewBox: room.join(" ") });
    const depths = [...new Set(ends.filter((_, at) => isCut[at]).map((move) => move[2]))].sort((a, b) => b - a);
    const gone = new Map(depths.map((z) => [z, made(window, "path", { class: "gone", "stroke-width": wide, style: `stroke:${tone(z)}` })]));
    const before = strips.length ? strips[strips.length - 1].nextSibling : null;
    above.insertBefore(window, before);

    // The section where the tool stands. Millimetres, Y to the right, Z up.
    const ys = rings.flat().map((point) => top - point[1]);
    const [front, back] = [Math.min(...ys), Math.max(...ys)];
    const highest = Math.max(...ends.map((move) => move[2]));
    const margin = Math.max(wide, 2);
    end.setAttribute("viewBox", [front - margin, -highest - margin, back - front + 2 * margin, highest + deep + 2 * margin].join(" "));
    made(end, "rect", { class: "ground", x: front - margin, y: deep, width: back - front + 2 * margin, height: margin });
    const wood = made(end, "path", { class: "wood left" });
    const cutter = made(end, "rect", { class: "tool", width: wide, height: highest + deep });
    const within = (ring, x, y) => {
      let inside = false;
      ring.forEach(([ax, ay], at) => {
        const [bx, by] = ring[(at + 1) % ring.length];
        if ((ay > y) !== (by > y) && x < ax + (y - ay) / (by - ay) * (bx - ax)) inside = !inside;
      });
      return inside;
    };
    // How deep the tool has been at a place, after so many moves.
    const floor = (x, y, upTo) => {
      let low = 0;
      for (let at = 1; at <= upTo; at += 1) {
        if (!isCut[at]) continue;
        const [[ax, ay, az], [bx, by, bz]] = [ends[at - 1], ends[at]];
        if (Math.max(ax, bx) + wide < x || Math.min(ax, bx) - wide > x) continue;
        const [dx, dy] = [bx - ax, by - ay];
        const length = dx * dx + dy * dy;
        const share = length > 0 ? Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / length)) : 0;
        if (Math.hypot(x - ax - share * dx, y - ay - share * dy) <= wide / 2) low = Math.min(low, az + share * (bz - az));
      }
      return Math.max(low, -deep);
    };
    // Long strips are shown as far as they are seen well, round the tool.
    const tall = Number(above.getAttribute("viewBox").split(" ")[3]);
    const full = Number(above.getAttribute("viewBox").split(" ")[2]);
    const seen = Math.min(full, 7 * tall);
    const follow = (x) => {
      const from = Math.min(Math.max(0, x - left - seen / 2), full - seen);
      above.setAttribute("viewBox", `${from} 0 ${seen} ${tall}`);
    };
    const section = (at) => {
      const x = ends[at][0];
      const steps = 120;
      const step = (back - front) / steps;
      let way = "";
      for (let i = 0; i < steps; i += 1) {
        const y = front + (i + 0.5) * step;
        if (!rings.some((ring) => within(ring, x - left, top - y))) continue;
        way += `M${front + i * step} ${deep}V${-floor(x, y, at)}h${step * 1.02}V${deep}Z`;
      }
      wood.setAttribute("d", way);
      cutter.setAttribute("x", ends[at][1] - wide / 2);
      cutter.setAttribute("y", -ends[at][2] - highest - deep);
    };
    const removed = (upTo) => {
      const ways = new Map(depths.map((z) => [z, ""]));
      for (let at = 1; at <= upTo; at += 1) {
        if (!isCut[at]) continue;
        const [a, b] = [ends[at - 1], ends[at]];
        ways.set(b[2], `${ways.get(b[2])}M${a[0] - left} ${top - a[1]}L${b[0] - left} ${top - b[1]}`);
      }
      ways.forEach((way, z) => gone.get(z).setAttribute("d", way));
    };
    const show = () => {
      const at = Number(slider.value) - 1;
      const [x, y, , notch, cuts, line] = way[at];
      const unit = root.dataset.units;
      const [tx, ty, tz] = unit === "in" ? inches[at] : way[at];
      tool.setAttribute("cx", Number(x) - left);
      tool.setAttribute("cy", top - Number(y));
      follow(Number(x));
      removed(at);
      section(at);
      const feed = feeds[unit][at];
      const says = [line ? `line ${line}, ` : "", `move ${at + 1} of ${way.length}: notch ${notch}, `, cuts === "c" ? "cutting" : "in air", feed === "rapid" ? ", rapid" : ` at ${feed}`, `, X ${tx} Y ${ty} Z ${tz} ${unit}`].join("");
      play.querySelector("output").textContent = says;
      slider.setAttribute("aria-valuetext", says);
    };

    // Moves last as long as they do at their feeds, rapid ones a quarter of that, and all of them a minute.
    const quickest = Math.max(1, ...feeds.mm.map((feed) => parseFloat(feed) || 0));
    const times = [0];
    ends.forEach((to, at) => {
      if (at === 0) return;
      const far = Math.hypot(...to.map((part, axis) => part - ends[at - 1][axis]));
      times.push(times[at - 1] + far / (parseFloat(feeds.mm[at]) || 4 * quickest));
    });
    const whole = times[times.length - 1] || 1;
    let frame = 0;
    const stop = () => { cancelAnimationFrame(frame); frame = 0; button.textContent = "Play"; };
    const start = () => {
      if (slider.value === slider.max) slider.value = slider.min;
      button.textContent = "Stop";
      const from = times[Number(slider.value) - 1] / whole * MINUTE;
      let begun = null;
      const next = (now) => {
        if (begun === null) begun = now;
        const gone = (from + now - begun) / MINUTE * whole;
        let at = Number(slider.value) - 1;
        while (at + 1 < times.length && times[at + 1] <= gone + 1e-9 * whole) at += 1;
        if (at + 1 !== Number(slider.value)) { slider.value = at + 1; show(); }
        if (slider.value === slider.max) stop(); else frame = requestAnimationFrame(next);
      };
      frame = requestAnimationFrame(next);
    };
    const toggle = () => { if (frame) stop(); else start(); };
    const leap = (by) => {
      let at = Number(slider.value) - 1;
      const notch = way[at][3];
      while (way[at + by] && way[at][3] === notch) at += by;
      while (by < 0 && way[at - 1] && way[at - 1][3] === way[at][3]) at -= 1;
      slider.value = at + 1;
      show();
    };
    slider.addEventListener("input", show);
    slider.addEventListener("keydown", (event) => {
      if (event.key === " ") toggle();
      else if (event.key === "PageUp") leap(1);
      else if (event.key === "PageDown") leap(-1);
      else return;
      event.preventDefault();
    });
    button.addEventListener("click", toggle);
    later.push(show);
    show();
  });
})();
