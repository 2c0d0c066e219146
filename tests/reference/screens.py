"""Looks at a page on screens of several widths, as a person would: nothing that is written lies outside the
screen or is cut off, no writing in pictures is too small or over other writing, and all of it stands out.

    screens.py BROWSER PAGE [FOLDER]

prints one JSON object: for each width and each system of units what is wrong ("cut", "small", "over"), how
much was looked at ("texts", "drawn"), and for light and dark what stands out too little ("pale"). With
FOLDER, screenshots are left there, in pieces of 1,800 pixels.
"""

import base64
import json
import pathlib
import sys

from browser import Browser

WIDTHS = (360, 390, 768, 1280)

# 7 points, 96 pixels to the inch.
LEAST_PIXELS = 7 * 96 / 72

FIND = """(() => {
const shown = (e) => e.getClientRects().length > 0 && getComputedStyle(e).visibility !== "hidden";
const found = { cut: [], small: [], over: [], texts: 0, drawn: 0 };
const room = document.documentElement.clientWidth;
const say = (text, box) => text.trim().slice(0, 60) + " " + [box.left, box.right].map(Math.round);
// Writing outside pictures: every line of every text, against the screen and whatever cuts it off.
const walk = document.createTreeWalker(document.querySelector("main"), NodeFilter.SHOW_TEXT);
while (walk.nextNode()) {
    const node = walk.currentNode, holder = node.parentElement;
    if (!node.data.trim() || !shown(holder) || holder.closest("svg, thead")) continue;
    const range = document.createRange();
    range.selectNodeContents(node);
    let [low, high] = [0, room];
    for (let e = holder; e; e = e.parentElement) {
        if (getComputedStyle(e).overflowX !== "visible" && e !== document.documentElement) {
            const box = e.getBoundingClientRect();
            [low, high] = [Math.max(low, box.left), Math.min(high, box.right)];
        }
    }
    for (const box of range.getClientRects()) {
        found.texts += 1;
        if (box.left < low - 0.5 || box.right > high + 0.5) { found.cut.push(say(node.data, box)); break; }
    }
}
for (const picture of document.querySelectorAll("main svg")) {
    if (!shown(picture)) continue;
    const frame = picture.getBoundingClientRect(), boxes = [];
    for (const text of picture.querySelectorAll("text")) {
        if (!shown(text)) continue;
        found.drawn += 1;
        const box = text.getBoundingClientRect();
        const size = Number(text.getAttribute("font-size")) * text.getScreenCTM().a;
        if (size < LEAST) found.small.push(say(text.textContent, box) + " " + size.toFixed(1));
        if (box.left < Math.max(frame.left, 0) - 1 || box.right > Math.min(frame.right, room) + 1)
            found.cut.push(say(text.textContent, box));
        // Of the box, letters take from the capitals' height to the line.
        const [x, y] = [box.left, box.bottom - 0.24 * size];
        boxes.push([text.textContent, x, y - 0.72 * size, box.right, y]);
    }
    for (let i = 0; i < boxes.length; i++) for (let j = i + 1; j < boxes.length; j++) {
        const [a, b] = [boxes[i], boxes[j]];
        if (a[1] < b[3] - 0.5 && b[1] < a[3] - 0.5 && a[2] < b[4] - 0.5 && b[2] < a[4] - 0.5)
            found.over.push(picture.getAttribute("aria-label") + ": " + a[0] + " / " + b[0]);
    }
}
return found; })()"""

# Contrast after WCAG 2.1 (relative luminance; success criterion 1.4.3) of drawn writing against what is
# painted under its middle and its ends.
PALE = """(() => {
const shown = (e) => e.getClientRects().length > 0;
const parse = (text) => (text.match(/[0-9.]+/g) || []).map(Number);
const light = (rgb) => { const [r, g, b] = rgb.map((c) => { c /= 255;
    return c <= 0.03928 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4; });
    return 0.2126 * r + 0.7152 * g + 0.0722 * b; };
const ratio = (a, b) => { const [x, y] = [light(a), light(b)];
    return (Math.max(x, y) + 0.05) / (Math.min(x, y) + 0.05); };
const ground = (svg, text, x, y) => {
    for (const e of document.elementsFromPoint(x, y)) {
        if (e === text || e.tagName === "text") continue;
        const style = getComputedStyle(e);
        if (svg.contains(e) && e !== svg) {
            // A line over the letters is none under them.
            if (e.classList.contains("line")) continue;
            if (style.fill !== "none") return parse(style.fill).slice(0, 3);
        } else {
            const colour = parse(style.backgroundColor);
            if (colour.length === 3 || colour[3] > 0) return colour.slice(0, 3);
        }
    }
    return parse(getComputedStyle(document.body).backgroundColor).slice(0, 3);
};
const pale = [];
let looked = 0;
for (const svg of document.querySelectorAll("main svg")) {
    if (!shown(svg)) continue;
    svg.scrollIntoView({ block: "center" });
    svg.style.pointerEvents = "auto";
    for (const text of svg.querySelectorAll("text")) {
        if (!shown(text)) continue;
        const box = text.getBoundingClientRect(), ink = parse(getComputedStyle(text).fill).slice(0, 3);
        const y = (box.top + box.bottom) / 2;
        for (const share of [0.1, 0.5, 0.9]) {
            const x = box.left + share * (box.right - box.left);
            if (y < 0 || y > innerHeight || x < 0 || x > innerWidth) continue;
            looked += 1;
            const found = ratio(ink, ground(svg, text, x, y));
            if (found < 4.5) { pale.push(svg.getAttribute("aria-label") + ": " + text.textContent + " "
                + text.getAttribute("class") + " " + found.toFixed(2)); break; }
        }
    }
}
return { pale, looked }; })()"""


def shoot(browser, folder, name, width):
    tall = browser.run("document.documentElement.scrollHeight")
    for at, top in enumerate(range(0, tall, 1800)):
        clip = {"x": 0, "y": top, "width": width, "height": min(1800, tall - top), "scale": 1}
        shot = browser.call("Page.captureScreenshot", captureBeyondViewport=True, clip=clip)
        (folder / f"{name}-{at:02}.png").write_bytes(base64.b64decode(shot["data"]))


def main():
    program, page = sys.argv[1:3]
    folder = pathlib.Path(sys.argv[3]) if len(sys.argv) > 3 else None
    browser = Browser(program)
    found = {"screens": {}, "contrast": {}}
    try:
        browser.media()
        browser.size(1280, 900)
        browser.open(pathlib.Path(page).resolve().as_uri())
        for width in WIDTHS:
            browser.size(width, 844, phone=width < 500)
            for units in ("mm", "in"):
                browser.run(f"document.querySelector('input[name=units][value={units}]').click()")
                seen = browser.run(FIND.replace("LEAST", str(LEAST_PIXELS)))
                found["screens"][f"{width} {units}"] = seen
                if folder and units == "mm":
                    shoot(browser, folder, f"{width}", width)
        browser.run("document.querySelector('input[name=units][value=mm]').click()")
        for width in (390, 1280):
            browser.size(width, 900, phone=width < 500)
            for scheme in ("light", "dark"):
                browser.media(scheme=scheme)
                found["contrast"][f"{width} {scheme}"] = browser.run(PALE)
                if folder and width == 390 and scheme == "dark":
                    shoot(browser, folder, "dark", width)
    finally:
        browser.close()
    print(json.dumps(found))


if __name__ == "__main__":
    main()
