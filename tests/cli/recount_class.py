"""The figures of a class once more, by other means: Python's statistics module, out of the entries as pawl export prints them."""
import collections
import datetime
import json
import math
import statistics
import xml.etree.ElementTree as ET


def wilson(right, n):
    """E. B. Wilson, J. Am. Stat. Assoc. 22 (1927) 209, from memory, with the normal quantile of Python's statistics module."""
    z = statistics.NormalDist().inv_cdf(0.975)
    middle, half = (right + z * z / 2) / (n + z * z), z / (n + z * z) * math.sqrt(right * (n - right) / n + z * z / 4)
    return right / n, max(0, middle - half), min(1, middle + half)


class Recount:
    """The figures of a class once more, by nothing but the exported entries and the procedure's XML."""

    def __init__(self, bench, procedure):
        self.step_of, self.longest, self.rates, self.tries, self.last = {}, {}, {}, {}, {}
        for step in ET.parse(procedure).getroot().iter("{urn:pawl:procedure:1}step"):
            self.longest[step.get("id")] = max(30, 2 * int(step.get("attended").split()[0]))
            for element in step.iter():
                if element.get("id"):
                    self.step_of[element.get("id")] = step.get("id")
                if element.tag.endswith("}decide"):
                    self.step_of[element.get("part")] = step.get("id")
        self.jobs = {job["job"]: bench.table("export", job["job"], "--as", "csv", "--table", "entries", "--record", bench.record)
                     for job in json.loads(bench.run("jobs", "--json", "--record", bench.record).out)}
        for entries in self.jobs.values():
            self.count(entries)
        self.minutes, self.step_minutes = self.add_up()

    def rate(self, person, figure, is_right):
        right, n = self.rates.get((person, figure), (0, 0))
        self.rates[person, figure] = (right + is_right, n + 1)

    def count(self, entries):
        for step in set(self.step_of.values()):
            done, again, released = None, False, False
            for entry in entries:
                if entry["subject"] != step:
                    continue
                if entry["kind"] == "step-done":
                    done = done or entry["person"]
                elif entry["kind"] == "reopened":
                    again = again or not released
                elif entry["kind"] == "released":
                    released = True
            if released:
                self.rate(done, "holds", not again)
        depths = [entry for entry in entries if entry["subject"] == "depth"]
        first_right = next(i for i, entry in enumerate(depths) if 3.5 <= float(entry["field:answer"]) <= 4.5)
        if first_right > 0:
            self.tries.setdefault(depths[0]["person"], []).append(first_right + 1)
        for entry in entries:
            if entry["kind"] == "unsealed":
                for figure in ("planted", "planted:" + entry["field:fault-kind"]):
                    self.rate(entry["field:learner"], figure, entry["field:found"] == "yes")
            if entry["subject"] == "lip" and entry["kind"] == "answered":
                self.last[entry["person"]] = max(self.last.get(entry["person"], ""), entry["at"])

    def add_up(self):
        """Minutes by person and job, and lists of minutes by step and person."""
        people, minutes, steps = {}, collections.Counter(), collections.Counter()
        for job, entries in self.jobs.items():
            for entry in entries:
                people.setdefault(entry["person"], []).append((datetime.datetime.fromisoformat(entry["at"].replace("Z", "+00:00")), int(entry["number"]), job, entry))
        for person, moments in people.items():
            moments.sort(key=lambda moment: moment[:2])
            for (before, *_), (at, _, job, entry) in zip(moments, moments[1:]):
                gap, step = (at - before).total_seconds() / 60, self.step_of.get(entry["subject"])
                if entry["kind"] not in ("opened", "wait-ended") and gap <= self.longest.get(step, 30):
                    minutes[person, job] += gap
                    steps[person, job, step] += gap
        by_step = {}
        for (person, _, step), gap in steps.items():
            if step and gap > 0:
                by_step.setdefault(step, {}).setdefault(person, []).append(gap)
        return minutes, by_step
