"use strict";
// A page from a file may not read files, but it may hold itself in a frame, and that may speak: the
// copy in the frame tells the fingerprint that the file has now.
(() => {
  const own = document.documentElement.dataset.page;
  if (window !== window.top) {
    window.parent.postMessage({ lapwright: own }, "*");
    window.stop();
    return;
  }
  let frame = null;
  let looks = 0;
  window.addEventListener("message", (event) => {
    if (!frame || event.source !== frame.contentWindow || !event.data) return;
    const told = event.data.lapwright;
    if (typeof told === "string" && told !== own) window.location.reload();
  });
  const look = () => {
    if (frame) frame.remove();
    frame = document.createElement("iframe");
    frame.hidden = true;
    looks += 1;
    frame.src = window.location.href.split(/[?#]/)[0] + "?" + looks;
    document.body.append(frame);
  };
  window.setInterval(look, 1000);
})();
