"""A shop that cuts panels by the steps of a sled, with errors of its own, and tries to put them together.

    python cut_panels.py < ORDER.json

The order: {"plan": the answer of `lapwright sled JOB --format json`, "thickness_mm", "kerf_mm", "crush_mm",
"rack": [[called, measured], ...], "halves": {"stop", "land", "seat", "kerf", "thickness", "key"} plus or
minus, all of them limits of uniform errors, "panels": integer, "seed": integer, "strips": for each bundle the
numbers of its strips, "laps": for each bundle the indices of the notches that take strips}. Square grids only.

Every strip is a list of grooves, cut pass by pass from where the stop stood or the notch hung; a notch is
what its passes leave open. Places are gone through in the plan's order, and a stop that is set once stands for
all that is cut there. Nothing is shared with the program that made the plan. Writes for each panel
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

    def set_stop(self, place, setting):
        """Where the stop stands, pass by pass: set for the first and moved for each further one. The same number as
        before: it is not touched."""
        number = place["stop_setting"]
        if self.stands is None or self.stands[0] != number:
            passes = setting["passes_per_notch"]
            shift = setting["pass_shift_along_fence_mm"]
            middle = place["stop_to_kerf_mm"]
            places = [middle + (at - (passes - 1) / 2) * shift for at in range(passes)]
            self.stands = number, [at + uniform(self.random, self.halves["stop"]) for at in places]
        return self.stands[1]

    def by_stop(self, stands):
        """One block, pushed against the stop for every pass."""
        near_sides = [at + uniform(self.random, self.halves["seat"]) for at in stands]
        return [self.groove(near_side + self.order["kerf_mm"] / 2) for near_side in near_sides]

    def over_key(self, slot, setting, hangs_on):
        """One block, laid over the key, and where there are more passes pushed to either side."""
        distance = self.measured(slot)
        near, far = hangs_on
        if setting["passes_per_notch"] == 1:
            middle = (near + far) / 2 + distance + uniform(self.random, self.halves["land"])
            return [self.groove(middle)]
        first = near + self.key / 2 + distance + uniform(self.random, self.halves["land"])
        last = far - self.key / 2 + distance + uniform(self.random, self.halves["land"])
        return [self.groove(first), self.groove(last)]

    def cut_all(self):
        """Near and far edge of every notch, bundle by bundle and block by block, cut in the order of the places."""
        bundles = self.plan["bundles"]
        notches = [[{} for _ in range(bundle["loads"]["blocks"])] for bundle in bundles]
        self.stands = None
        for setting in self.plan["settings"]:
            for place in (place for a_round in setting["rounds"] for place in a_round["places"]):
                self.at_place(place, setting, notches)
        return notches

    def at_place(self, place, setting, notches):
        if place["register"] == "stop":
            stands = self.set_stop(place, setting)
        elif place["register"] == "key":
            self.stands = None
        else:
            sys.exit(f"refused: registered by {place['register']}")
        for cut in place["cuts"]:
            for at, bundle in enumerate(self.plan["bundles"], 1):
                if cut["bundle"] not in (at, bundle.get("same_as_bundle")):
                    continue
                for block in notches[at - 1]:
                    if place["register"] == "stop":
                        grooves = self.by_stop(stands)
                    else:
                        grooves = self.over_key(place["slot_mm"], setting, block[cut["on_notch"]])
                    block[cut["notch"]] = min(g[0] for g in grooves), max(g[1] for g in grooves)

    def panel(self):
        """Strips by family, each its notches' edges, as they lie in the panel."""
        cut = self.cut_all()
        families = {}
        for at, (bundle, blocks) in enumerate(zip(self.plan["bundles"], cut)):
            each = bundle["loads"]["strips_per_block"]
            strips = families.setdefault(bundle["family"], {})
            for strip, number in enumerate(self.order["strips"][at]):
                block = blocks[strip // each]
                strips[number] = [block[notch] for notch in self.order["laps"][at]]
        return [[strips[number] for number in sorted(strips)] for strips in families.values()]


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
    for bundle, laps in zip(order["plan"]["bundles"], order["laps"]):
        centres = [notch["centre_mm"] for notch in bundle["notches"] if notch["index"] in laps]
        by_family.setdefault(bundle["family"], centres)
    drawn = list(by_family.values())
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
