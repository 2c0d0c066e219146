"""A page that asks nothing of a browser, seen on a desk and on a phone, on light and on dark ground, and
under axe-core.

    still_page.py BROWSER AXE PAGE [FOLDER]

The answer is JSON: "axe" holds what axe-core finds, by scheme; "wide" and "phone" what sticks out of the
window; "pictures" the names that pictures have for those who cannot see them; "columns" how many of
them stand beside each other on the phone; "requests" what was asked of a network or a disk. A FOLDER gets
screenshots.
"""

import json
import pathlib
import sys

from browser import Browser, axe, widths

NAMES = """[...document.querySelectorAll("svg[role=img]")].map((e) => e.getAttribute("aria-label"))"""
COLUMNS = """(() => { const tops = [...document.querySelectorAll("svg[role=img]")]
    .map((e) => e.getBoundingClientRect().top);
    return tops.filter((top) => top === tops[0]).length; })()"""


def main():
    program, axe_file, page = sys.argv[1:4]
    folder = pathlib.Path(sys.argv[4]) if len(sys.argv) > 4 else None
    url = pathlib.Path(page).resolve().as_uri()
    source = pathlib.Path(axe_file).read_text(encoding="utf-8")
    browser = Browser(program)
    found = {"axe": {}}
    try:
        for scheme in ("light", "dark"):
            browser.size(1280, 900)
            browser.media(scheme=scheme)
            browser.open(url)
            found["axe"][scheme] = axe(browser, source)
            found["wide"] = widths(browser)
            if folder:
                browser.shoot(folder / f"wide-{scheme}.png")
            browser.size(390, 844, phone=True)
            found["phone"] = widths(browser)
            found["columns"] = browser.run(COLUMNS)
            if folder:
                browser.shoot(folder / f"phone-{scheme}.png")
        found["pictures"] = browser.run(NAMES)
    finally:
        browser.close()
    found["requests"] = [
        event["params"]["request"]["url"][:200]
        for event in browser.events
        if event["method"] == "Network.requestWillBeSent"
        and event["params"]["request"]["url"] != url
        and not event["params"]["request"]["url"].startswith("data:")
    ]
    print(json.dumps(found))


if __name__ == "__main__":
    main()
