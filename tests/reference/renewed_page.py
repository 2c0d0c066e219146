"""Opens a set-up sheet that loads itself again, and writes its file anew under it.

    renewed_page.py BROWSER PAGE ANOTHER

PAGE is opened from its file. It must stay as it is while its file does: looked at for some of its own
rounds. Then ANOTHER's content takes PAGE's place by a rename, and the page must show it. Prints one JSON
object: {"still": whether it stayed loaded until then, "rounds": how often it looked,
"job": its fingerprint before, "renewed": the one after, "asked": what was asked of a network,
"said": what was said on the console}.
"""

import json
import os
import pathlib
import shutil
import sys
import time

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from browser import Browser  # noqa: E402

# A test gives up after this many looks, a tenth of a second apart.
LOOKS = 1200

JOB = "document.documentElement.dataset.page"
ROUNDS = "Number((document.querySelector('iframe') || { src: '?0' }).src.split('?')[1])"


def main():
    program, page, another = sys.argv[1:]
    page = pathlib.Path(page).resolve()
    browser = Browser(program)
    try:
        browser.open(page.as_uri())
        browser.run("window.seen = 'before'")
        before = browser.run(JOB)
        for _ in range(LOOKS):
            rounds = browser.run(ROUNDS)
            if rounds >= 3:
                break
            time.sleep(0.1)
        still = browser.run("window.seen") == "before"
        beside = page.with_suffix(".new")
        shutil.copy(another, beside)
        os.replace(beside, page)
        after = before
        for _ in range(LOOKS):
            try:
                after = browser.run(JOB)
            except RuntimeError:
                pass  # between two pages
            if after and after != before:
                break
            time.sleep(0.1)
        events = browser.events
        asked = [
            event["params"]["request"]["url"]
            for event in events
            if event["method"] == "Network.requestWillBeSent"
            and not event["params"]["request"]["url"].startswith(("file:", "data:"))
        ]
        said = [
            event["params"]["entry"]["text"]
            for event in events
            if event["method"] == "Log.entryAdded"
        ]
        print(json.dumps({"still": still, "rounds": rounds, "job": before, "renewed": after,
                          "asked": asked, "said": said}))
    finally:
        browser.close()


main()
