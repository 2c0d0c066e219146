"""A shop that cuts panels by the steps of a sled, with errors of its own, and tries to put them together.

    python cut_panels.py < ORDER.json

The order: {"plan": the answer of `lapwright sled JOB --format json`, "thickness_mm", "kerf_mm", "crush_mm",
"rack": [[called, measured], ...], "halves": {"stop", "land", "seat", "kerf", "thickness", "key"} plus or
minus, all of them limits of uniform errors, "panels": integer, "seed": integer}. Square grids only.

Every strip is a list of grooves, cut pass by pass from where the stop stood or the notch hung; a notch is
what its passes leave open. Nothing is shared with the program that made the plan. Writes for each panel
the places of every bundle's notches and their widths as cut, block by block, and whether the panel goes
together: by scipy's linear program on the true widths, thicknesses and places.
"""

import json
import sys

import numpy

from assemble_panels import margin


def uniform(random, half):
    return random.uniform(-half, half)


class Shop:
    def __init__(self, order, random):
        self.order, self.random = order, random
        self.halves = order["halves"]
        self.plan = order["plan"]
        self.key = order["kerf_mm"] + uniform(random, self.halves["key"])

    def kerf(self):
        return self.order["kerf_mm"] + uniform(self.random, self.halves["kerf"])

    def groove(self, centre):
        width = self.kerf()
        return [centre - width / 2, centre + width / 2]

    def measured(self, called):
        for name, measured in self.order["rack"]:
            if abs(name - called) < 1e-6:
                return measured
        sys.exit(f"refused: no slot is called {called}")

    def by_stop(self, step, setting, blocks):
        """Pass by pass: the stop is set once, then every block is pushed against it and cut."""
        passes = setting["passes_per_notch"]
        shift = setting["pass_shift_along_fence_mm"]
        cuts = [[] for _ in range(blocks)]
        for number in range(passes):
            from_middle = (number - (passes - 1) / 2) * shift
            stands = step["stop_to_kerf_mm"] + from_middle + uniform(self.random, self.halves["stop"])
            for block in range(blocks):
                near_side = stands + uniform(self.random, self.halves["seat"])
                cuts[block].append(self.groove(near_side + self.order["kerf_mm"] / 2))
        return cuts

    def over_key(self, step, setting, notches):
        """Each block is laid over the key, and where there are more passes pushed to either side."""
        distance = self.measured(step["slot_mm"])
        cuts = []
        for block in notches:
            near, far = block[step["on_notch"]]
            if setting["passes_per_notch"] == 1:
                middle = (near + far) / 2 + distance + uniform(self.random, self.halves["land"])
                cuts.append([self.groove(middle)])
                continue
            first = near + self.key / 2 + distance + uniform(self.random, self.halves["land"])
            last = far - self.key / 2 + distance + uniform(self.random, self.halves["land"])
            cuts.append([self.groove(first), self.groove(last)])
        return cuts

    def bundle(self, bundle, blocks):
        """Near and far edge of every notch, block by block."""
        notches = [{} for _ in range(blocks)]
        settings = {setting["number"]: setting for setting in self.plan["settings"]}
        for step in bundle["steps"]:
            setting = settings[step["setting"]]
            if step["register"] == "stop":
                cuts = self.by_stop(step, setting, blocks)
            elif step["register"] == "key":
                cuts = self.over_key(step, setting, notches)
            else:
                sys.exit(f"refused: registered by {step['register']}")
            for block, grooves in zip(notches, cuts):
                block[step["notch"]] = (min(g[0] for g in grooves), max(g[1] for g in grooves))
        return notches

    def panel(self):
        """Strips by family, each its notches' edges, as they lie in the panel."""
        bundles = self.plan["bundles"]
        cut = {}
        for at, bundle in enumerate(bundles, 1):
            if "same_as_bundle" in bundle:
                continue
            together = [(at, bundle)] + [
                (number, twin) for number, twin in enumerate(bundles, 1) if twin.get("same_as_bundle") == at
            ]
            blocks = [twin["loads"]["blocks"] for _, twin in together]
            found = self.bundle(bundle, sum(blocks))
            for (number, _), count in zip(together, blocks):
                cut[number], found = found[:count], found[count:]
        families = {}
        for number, bundle in enumerate(bundles, 1):
            each = bundle["loads"]["strips_per_block"]
            strips = families.setdefault(bundle["family"], [])
            for strip in range(bundle["count"]):
                block = cut[number][strip // each]
                strips.append([block[notch] for notch in sorted(block)])
        return list(families.values())


def closes(shop, families, drawn):
    """The smaller of both directions' margins."""
    thickness, crush = shop.order["thickness_mm"], shop.order["crush_mm"]
    thick = [
        [thickness + uniform(shop.random, shop.halves["thickness"]) for _ in family] for family in families
    ]
    spare = []
    for holders, mates in ((0, 1), (1, 0)):
        off, half = [], []
        for strip in families[holders]:
            for mate, (near, far) in enumerate(strip):
                off.append((near + far) / 2 - drawn[holders][mate])
                half.append((far - near - thick[mates][mate] + crush) / 2)
        spare.append(margin({"along": drawn[mates], "mates": len(drawn[holders]), "off": off, "half_room": half}))
    return min(spare)


def main():
    order = json.load(sys.stdin)
    random = numpy.random.default_rng(order["seed"])
    by_family = {}
    for bundle in order["plan"]["bundles"]:
        by_family.setdefault(bundle["family"], bundle)
    drawn = [[notch["centre_mm"] for notch in bundle["notches"]] for bundle in by_family.values()]
    out = {"closes": 0, "panels": order["panels"], "off": [], "width": []}
    for _ in range(order["panels"]):
        shop = Shop(order, random)
        families = shop.panel()
        out["closes"] += int(closes(shop, families, drawn) >= 0)
        out["off"].append([
            [[(near + far) / 2 - at for (near, far), at in zip(strip, centres)] for strip in family]
            for family, centres in zip(families, drawn)
        ])
        out["width"].append([[[far - near for near, far in strip] for strip in family] for family in families])
    print(json.dumps(out))


if __name__ == "__main__":
    main()
