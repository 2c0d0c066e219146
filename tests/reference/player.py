"""Plays the first program of a page in a real browser, by mouse, by keyboard and by the clock.

    player.py BROWSER PAGE

prints one JSON object: what is said at every move and how deep the wood is then in the section where the tool
stands (mm below its top) and how many ways of the tool are seen from above, where keys lead, and where the
slider stands after so many seconds of playing.
"""

import json
import pathlib
import sys

from browser import Browser

MOVES = """(() => {
const play = document.querySelector(".play"), slider = play.querySelector("input");
const found = [];
for (let at = 1; at <= Number(slider.max); at += 1) {
    slider.value = at;
    slider.dispatchEvent(new Event("input", { bubbles: true }));
    const left = play.querySelector("svg.end .left").getAttribute("d");
    const tops = [...left.matchAll(/V([-0-9.e]+)h/g)].map((match) => Number(match[1]));
    const gone = [...play.querySelectorAll("path.gone")].map((path) => (path.getAttribute("d").match(/M/g) || []).length);
    const shown = play.querySelector("svg.end").getClientRects().length > 0;
    found.push({ says: play.querySelector("output").textContent, deepest: Math.max(...tops),
        gone: gone.reduce((a, b) => a + b, 0), shown });
}
return found; })()"""

# The clock is the test's: frames are drawn when it says so.
CLOCK = """(() => { window.requestAnimationFrame = (next) => { window.drawNext = next; return 1; };
window.cancelAnimationFrame = () => { window.drawNext = null; };
const slider = document.querySelector(".play input");
slider.value = 1; slider.dispatchEvent(new Event("input", { bubbles: true })); slider.focus(); })()"""
STATE = """(() => { const play = document.querySelector(".play");
return { at: Number(play.querySelector("input").value), says: play.querySelector("output").textContent,
    button: play.querySelector(".run").textContent }; })()"""


def main():
    program, page = sys.argv[1:3]
    browser = Browser(program)
    try:
        browser.size(1200, 900)
        browser.open(pathlib.Path(page).resolve().as_uri())
        found = {"moves": browser.run(MOVES)}
        browser.run(CLOCK)
        seconds = {}
        browser.key(" ", 32)
        for second in (0, 15, 30, 45, 59, 60.1):
            browser.run(f"window.drawNext && window.drawNext({1000 * second})")
            seconds[str(second)] = browser.run(STATE)
        found["seconds"] = seconds
        browser.run(CLOCK)
        keys = {}
        for name, code in (("ArrowRight", 39), ("PageUp", 33), ("PageUp", 33), ("PageDown", 34), ("End", 35)):
            browser.key(name, code)
            keys[f"{len(keys)} {name}"] = browser.run(STATE)
        found["keys"] = keys
        found["faults"] = [e["params"] for e in browser.events if e["method"] == "Runtime.exceptionThrown"]
    finally:
        browser.close()
    print(json.dumps(found))


if __name__ == "__main__":
    main()
