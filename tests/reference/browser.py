"""Opens a set-up sheet in a real browser and uses it as a person would.

    browser.py BROWSER AXE PAGE [FOLDER]

prints one JSON object: what the page asked the network for, what it said on the console, how its
switches, ticks, counts and slider behave, how wide it is on a phone, and what axe-core (file AXE)
finds in light and in dark. With FOLDER, screenshots are left there.

The browser is driven by the DevTools protocol over two pipes (--remote-debugging-pipe): a JSON
object and a zero byte for each message.
"""

import base64
import json
import os
import pathlib
import shutil
import subprocess
import sys
import tempfile

FLAGS = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--disable-dev-shm-usage",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--hide-scrollbars",
    "--remote-debugging-pipe",
]


class Browser:
    """A browser with one page."""

    def __init__(self, program):
        self.profile = tempfile.mkdtemp()
        to_read, self.out = os.pipe()
        self.inp, to_write = os.pipe()

        def places():
            # The browser reads from 3 and writes to 4.
            a, b = os.dup2(to_read, 20), os.dup2(to_write, 21)
            os.dup2(a, 3)
            os.dup2(b, 4)

        self.process = subprocess.Popen(
            [program, *FLAGS, f"--user-data-dir={self.profile}", "about:blank"],
            preexec_fn=places,
            pass_fds=(3, 4),
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
        os.close(to_read)
        os.close(to_write)
        self.rest, self.number, self.session, self.events = b"", 0, None, []
        target = self.call("Target.createTarget", url="about:blank")["targetId"]
        answer = self.call("Target.attachToTarget", targetId=target, flatten=True)
        self.session = answer["sessionId"]
        for domain in ("Page", "Runtime", "Network", "Log"):
            self.call(f"{domain}.enable")

    def message(self):
        while b"\0" not in self.rest:
            more = os.read(self.inp, 1 << 16)
            if not more:
                raise RuntimeError("the browser has gone")
            self.rest += more
        text, self.rest = self.rest.split(b"\0", 1)
        return json.loads(text)

    def call(self, method, **params):
        self.number += 1
        order = {"id": self.number, "method": method, "params": params}
        if self.session:
            order["sessionId"] = self.session
        os.write(self.out, json.dumps(order).encode() + b"\0")
        while True:
            answer = self.message()
            if answer.get("id") == self.number:
                if "error" in answer:
                    raise RuntimeError(f"{method}: {answer['error']}")
                return answer["result"]
            self.events.append(answer)

    def open(self, url):
        # Only a load that comes after this order counts.
        before = len(self.events)
        self.call("Page.navigate", url=url)
        while not any(event["method"] == "Page.loadEventFired" for event in self.events[before:]):
            self.events.append(self.message())

    def run(self, script):
        answer = self.call(
            "Runtime.evaluate", expression=script, returnByValue=True, awaitPromise=True
        )
        if "exceptionDetails" in answer:
            raise RuntimeError(f"{script[:80]}: {answer['exceptionDetails']}")
        return answer["result"].get("value")

    def key(self, name, code, text=None):
        for kind in ("keyDown", "keyUp"):
            pressed = {"type": kind, "key": name, "windowsVirtualKeyCode": code}
            if text and kind == "keyDown":
                pressed["text"] = text
            self.call("Input.dispatchKeyEvent", **pressed)

    def size(self, width, height, phone=False):
        self.call(
            "Emulation.setDeviceMetricsOverride",
            width=width,
            height=height,
            deviceScaleFactor=1,
            mobile=phone,
        )

    def media(self, media="", scheme="light"):
        features = [{"name": "prefers-color-scheme", "value": scheme}]
        self.call("Emulation.setEmulatedMedia", media=media, features=features)

    def shoot(self, path):
        shot = self.call("Page.captureScreenshot", captureBeyondViewport=True)
        path.write_bytes(base64.b64decode(shot["data"]))

    def close(self):
        self.process.kill()
        self.process.wait()
        shutil.rmtree(self.profile, ignore_errors=True)


SHOWN = "e => e !== null && e.getClientRects().length > 0"


def units(browser):
    """What is seen of both units before and after the switch, and after a reload."""

    def seen():
        return browser.run(
            f"""(() => {{ const shown = {SHOWN};
            const count = (what) => [...document.querySelectorAll(what)].filter(shown).length;
            return {{ mm: count(".mm"), inch: count(".in"),
                      first: document.querySelector(".settings .value").innerText,
                      drawn: count("svg text.mm"), drawn_inch: count("svg text.in") }}; }})()"""
        )

    found = {"before": seen()}
    browser.run("document.querySelector('input[name=units][value=in]').click()")
    found["after"] = seen()
    return found


def ticks(browser, url):
    """Ticks by mouse and by keyboard, a count, a reload, then all cleared."""
    box = "document.querySelectorAll('input[type=checkbox]')"
    browser.run(f"{box}[1].click()")
    browser.run(f"{box}[2].focus()")
    browser.key(" ", 32, " ")
    browser.run("document.querySelector('.tally .more').click()")
    state = f"""({{ ticked: [...{box}].map((b, at) => b.checked ? at : -1).filter((at) => at >= 0),
        count: document.querySelector('.tally output').textContent,
        units: document.documentElement.dataset.units,
        boxes: {box}.length }})"""
    found = {"before": browser.run(state)}
    browser.open(url)
    found["reloaded"] = browser.run(state)
    browser.run("document.getElementById('clear').click()")
    found["cleared"] = browser.run(state)
    browser.open(url)
    found["cleared_reloaded"] = browser.run(state)
    browser.run("document.querySelector('input[name=units][value=mm]').click()")
    return found


def slider(browser):
    """Where the tool stands and what is said at the slider's ends; nothing without a program."""
    return browser.run(
        """(() => { const play = document.querySelector(".play");
        if (!play) return null;
        const slider = play.querySelector("input[type=range]");
        const tool = play.querySelector("circle");
        const at = (value) => { slider.value = value;
            slider.dispatchEvent(new Event("input", { bubbles: true }));
            return { says: play.querySelector("output").textContent,
                     x: Number(tool.getAttribute("cx")) + Number(play.dataset.x),
                     y: Number(play.dataset.y) - Number(tool.getAttribute("cy")) }; };
        // The first cut from the middle on: the very middle may lie between two of them.
        let middle = Math.floor(Number(slider.max) / 2);
        while (middle < slider.max && !at(middle).says.includes("cutting")) middle += 1;
        return { max: Number(slider.max), middle, first: at(1), half: at(middle),
                 last: at(slider.max) }; })()"""
    )


def axe(browser, source):
    browser.run(source)
    return browser.run(
        """axe.run(document, { resultTypes: ["violations"] }).then((found) =>
        found.violations.map((fault) => ({ id: fault.id, impact: fault.impact,
            help: fault.help, where: fault.nodes.slice(0, 3).map((node) => node.html) })))"""
    )


def widths(browser):
    """How much wider than its window the page is, and what sticks out."""
    return browser.run(
        """(() => { const room = document.documentElement.clientWidth;
        const out = [...document.querySelectorAll("main *")].filter((e) => !e.closest(".scroll")
            && e.getBoundingClientRect().right > room + 1);
        return { over: document.documentElement.scrollWidth - room,
                 out: out.slice(0, 5).map((e) => e.outerHTML.slice(0, 200)) }; })()"""
    )


def without_script(browser, url):
    """What is left where scripts do not run: settings in one system of units, no dead controls."""
    browser.call("Emulation.setScriptExecutionDisabled", value=True)
    browser.open(url)
    left = browser.run(
        f"""(() => {{ const shown = {SHOWN};
        const count = (what) => [...document.querySelectorAll(what)].filter(shown).length;
        return {{ mm: count(".mm"), inch: count(".in"), controls: count("button, output, input[type=range]"),
                  steps: count("ol.steps li"), pictures: count("svg") }}; }})()"""
    )
    browser.call("Emulation.setScriptExecutionDisabled", value=False)
    browser.open(url)
    return left


def main():
    program, axe_file, page = sys.argv[1:4]
    folder = pathlib.Path(sys.argv[4]) if len(sys.argv) > 4 else None
    url = pathlib.Path(page).resolve().as_uri()
    source = pathlib.Path(axe_file).read_text(encoding="utf-8")
    browser = Browser(program)
    found = {}
    try:
        browser.size(1200, 900)
        browser.media()
        browser.open(url)
        found["title"] = browser.run("document.title")
        found["h1"] = browser.run("document.querySelector('h1').innerText")
        browser.key("Tab", 9)
        found["first_focus"] = browser.run("document.activeElement.textContent")
        found["units"] = units(browser)
        found["ticks"] = ticks(browser, url)
        found["slider"] = slider(browser)
        found["axe"] = {}
        for scheme in ("light", "dark"):
            browser.media(scheme=scheme)
            found["axe"][scheme] = axe(browser, source)
            style = "getComputedStyle(document.body)"
            found[f"ground_{scheme}"] = browser.run(f"{style}.backgroundColor")
            found[f"ink_{scheme}"] = browser.run(f"{style}.color")
            if folder:
                browser.shoot(folder / f"desktop-{scheme}.png")
        browser.media()
        browser.size(390, 844, phone=True)
        found["phone"] = widths(browser)
        if folder:
            browser.shoot(folder / "phone.png")
        browser.size(1200, 900)
        browser.media(media="print", scheme="dark")
        found["print_ink"] = browser.run("getComputedStyle(document.body).color")
        browser.media()
        found["without_script"] = without_script(browser, url)
        if folder:
            pdf = browser.call("Page.printToPDF", preferCSSPageSize=True, printBackground=True)
            (folder / "print.pdf").write_bytes(base64.b64decode(pdf["data"]))
    finally:
        browser.close()
    events = browser.events
    found["requests"] = [
        event["params"]["request"]["url"][:200]
        for event in events
        if event["method"] == "Network.requestWillBeSent"
        and event["params"]["request"]["url"] != url
        and not event["params"]["request"]["url"].startswith("data:")
    ]
    found["console"] = [
        json.dumps(event["params"])[:500]
        for event in events
        if event["method"] in ("Runtime.exceptionThrown", "Runtime.consoleAPICalled", "Log.entryAdded")
    ]
    print(json.dumps(found))


if __name__ == "__main__":
    main()
